"""What a buyer reads first: in good words, with no contradiction and nothing left out."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.sheet.compose import compose
from planebench.trade.terms import PartStatus


def _date(catalog: Catalog, tool: ToolId, *years: tuple[int, int]) -> None:
    body = next(part.id for part in catalog.tools.one(tool).parts if part.code == "body")
    for number, (not_before, not_after) in enumerate(years):
        catalog.evidence.add(
            tool,
            part_id=body,
            seen=f"mark {number}",
            not_before=not_before,
            not_after=not_after,
            sure=Decimal("0.9"),
        )


@pytest.mark.parametrize(
    ("code", "told"),
    [
        ("frog_screws", "The frog screws and washers are replaced."),
        ("lever_cap", "The lever cap is replaced."),
    ],
)
def test_several_things_under_one_name_are_told_as_several(
    empty_shop: Catalog, told_tool: ToolId, code: str, told: str
) -> None:
    part = next(p for p in empty_shop.tools.one(told_tool).parts if p.code == code)
    empty_shop.parts.change(part.id, status=PartStatus.REPLACED)

    assert told in compose(empty_shop, told_tool).know_first


def test_a_date_that_its_evidence_does_not_bear_out_is_not_told_as_if_they_did(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    agreed, at_odds = new_tool(), new_tool()
    _date(empty_shop, agreed, (1913, 1918))
    _date(empty_shop, at_odds, (1913, 1918), (1940, 1945))

    assert "do not agree" not in compose(empty_shop, agreed).summary
    assert "; the evidence does not agree." in compose(empty_shop, at_odds).summary


def test_much_evidence_at_odds_are_told_in_one_sentence(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool()
    _date(empty_shop, tool, (1900, 1902), (1920, 1922), (1940, 1942))

    told = compose(empty_shop, tool).dating.disagreements

    assert told == ("Evidence 1, 2 and 3 cannot all be right.",)


def test_work_that_a_buyer_must_know_is_named_whatever_was_written_of_it(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool()
    empty_shop.bench_log.add(tool, kind="wire_wheel", what="rust off the sole", disclosed=True)
    empty_shop.bench_log.add(tool, kind="wire_wheel", what="Wire wheel on the frog", disclosed=True)
    empty_shop.bench_log.add(tool, kind="wax", what="two thin coats")

    told = {work.what for work in compose(empty_shop, tool).work}

    assert told == {
        "Wire wheel. Rust off the sole.",
        "Wire wheel on the frog.",
        "Two thin coats.",
    }


def test_a_search_for_defects_that_is_not_finished_is_said_to_be_so(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    finished = compose(empty_shop, told_tool).unknown
    empty_shop.tools.change(told_tool, defects_inspected=False)
    open_still = compose(empty_shop, told_tool).unknown

    told = "Inspection not complete; expect further defects."
    assert told not in finished
    assert told in open_still
