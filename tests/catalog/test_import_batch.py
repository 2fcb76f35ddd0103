"""Tools with unknown numbers go into the batch that their numbers speak of."""

from __future__ import annotations

from planebench.catalog.catalog import Catalog
from planebench.catalog.import_followup import batch_for
from planebench.catalog.tools import NewTool


def test_they_join_tools_whose_numbers_begin_alike(empty_catalog: Catalog) -> None:
    named_otherwise = empty_catalog.batches.add(code="Orrin Vale").id
    empty_catalog.tools.add(named_otherwise, NewTool(kind="block", stock_number="LOT7-001"))
    empty_catalog.batches.add(code="LOT7")

    assert batch_for(empty_catalog, ["lot7-002", "lot7-003"], run="r") == named_otherwise


def test_they_join_the_batch_of_that_code_though_it_is_not_the_newest(
    empty_catalog: Catalog,
) -> None:
    lot7 = empty_catalog.batches.add(code="LOT7").id
    empty_catalog.batches.add(code="LOT8")

    assert batch_for(empty_catalog, ["LOT7-002"], run="r") == lot7


def test_numbers_that_begin_differently_join_the_newest_batch(empty_catalog: Catalog) -> None:
    empty_catalog.batches.add(code="LOT7")
    newest = empty_catalog.batches.lines()[0].batch.id

    assert batch_for(empty_catalog, ["LOT7-002", "LOT8-001"], run="r") == newest


def test_where_there_is_no_batch_one_is_made(empty_catalog: Catalog) -> None:
    made = batch_for(empty_catalog, ["LOT7-002", "LOT7-005"], run="r")

    assert empty_catalog.batches.one(made).code == "LOT7"


def test_numbers_without_a_start_in_common_still_find_a_batch(empty_catalog: Catalog) -> None:
    made = batch_for(empty_catalog, ["17", "LOT8-001"], run="r")

    assert empty_catalog.batches.one(made).code == "LOT1"
