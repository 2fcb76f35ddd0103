"""Two programs on one catalog: nothing is overwritten unseen, and each hears of the other."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from collections.abc import Callable, Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.tables import RunUnderWayRow
from planebench.errors import CatalogError, EditClashError
from planebench.trade.terms import ToolStatus
from tests.catalog.shots import shot


@pytest.fixture
def here(empty_catalog: Catalog) -> Catalog:
    return empty_catalog


@pytest.fixture
def there(here: Catalog, tool_id: ToolId, clock: Callable) -> Iterator[Catalog]:
    catalog = Catalog.open(here.folder, who="A. Lund", clock=clock)
    yield catalog
    catalog.close()


def test_a_field_that_someone_else_changed_unseen_is_not_overwritten(
    here: Catalog, there: Catalog, tool_id: ToolId
) -> None:
    there.tools.change(tool_id, maker="Tarrow")

    with pytest.raises(EditClashError, match=r"A\. Lund changed the maker.*“Tarrow”") as clash:
        here.tools.change(tool_id, maker="Halbeck")

    values = clash.value.values
    assert (values.field, values.theirs, values.yours) == ("maker", "Tarrow", "Halbeck")
    assert here.tools.one(tool_id).maker == "Tarrow"
    assert next(line.who for line in here.history.lines()) == "A. Lund"


def test_saving_the_same_again_is_the_choice_for_one_s_own(
    here: Catalog, there: Catalog, tool_id: ToolId
) -> None:
    there.tools.change(tool_id, maker="Tarrow")
    with pytest.raises(EditClashError):
        here.tools.change(tool_id, maker="Halbeck")

    here.tools.change(tool_id, maker="Halbeck")

    assert here.tools.one(tool_id).maker == "Halbeck"


def test_different_fields_of_one_tool_do_not_clash(
    here: Catalog, there: Catalog, tool_id: ToolId
) -> None:
    there.tools.change(tool_id, maker="Tarrow")
    there.defects.add(tool_id, kind="chip")
    here.tools.change(tool_id, asking=Decimal(90))

    tool = there.tools.one(tool_id)
    assert (tool.maker, tool.asking) == ("Tarrow", Decimal(90))


def test_what_was_seen_may_be_changed(here: Catalog, there: Catalog, tool_id: ToolId) -> None:
    there.tools.change(tool_id, maker="Tarrow")

    changes = here.changes_from_outside()
    here.tools.change(tool_id, maker="Halbeck")

    assert changes is not None
    assert changes.tools == {tool_id}
    assert changes.words == "A. Lund: LOT7-001 changed: maker"
    assert here.tools.one(tool_id).maker == "Halbeck"


def test_one_s_own_edits_are_not_from_outside(here: Catalog, tool_id: ToolId) -> None:
    here.changes_from_outside()
    here.tools.change(tool_id, maker="Halbeck")
    here.tools.change(tool_id, maker="Halbeck & Son")

    assert here.changes_from_outside() is None


def test_edits_of_both_in_turn_are_told_apart(
    here: Catalog, there: Catalog, tool_id: ToolId, batch: BatchId
) -> None:
    here.tools.change(tool_id, model="K")
    there.batches.change(batch, title="Orrin Vale")
    here.tools.change(tool_id, size="9 in")

    changes = here.changes_from_outside()
    seen_there = there.changes_from_outside()

    assert changes is not None
    assert seen_there is not None
    assert (changes.tools, changes.batches) == (set(), {batch})
    assert seen_there.tools == {tool_id}
    assert here.changes_from_outside() is None


def test_undo_does_not_take_away_what_someone_else_did_unseen(
    here: Catalog, there: Catalog, tool_id: ToolId
) -> None:
    here.tools.change(tool_id, note="mine")
    there.tools.change(tool_id, maker="Tarrow")

    with pytest.raises(EditClashError):
        here.history.undo()

    assert there.tools.one(tool_id).maker == "Tarrow"


def test_an_import_under_way_in_one_program_is_not_undone_in_the_other(
    here: Catalog, there: Catalog, tmp_path: Path
) -> None:
    for number in range(12):
        shot(tmp_path / "many" / f"{number}.jpg", seed=number)
    refusals: list[str] = []

    def undo_there(_progress: object) -> None:
        there.changes_from_outside()
        try:
            there.history.undo()
        except CatalogError as error:
            refusals.append(error.happened)

    import_photographs(here, [tmp_path / "many"], report=undo_there)

    assert any("while its photographs are still being added" in words for words in refusals)
    assert len(here.photographs.unfiled()) == 12
    there.changes_from_outside()
    assert there.history.undo().words.startswith("Undone: 12 photographs added")


def test_a_run_of_a_program_that_died_can_be_undone(here: Catalog, tool_id: ToolId) -> None:
    with subprocess.Popen([sys.executable, "-c", ""]) as process:
        process.wait()
    machine = os.uname().nodename
    with here.store.edit("batch", run="r") as edit:
        edit.words = "Batch"
        edit.session.add(
            RunUnderWayRow(run="r", machine=machine, process=process.pid, since=edit.at)
        )

    assert not here.store.runs.includes("r")


def test_two_hundred_random_edits_of_two_programs_lose_none(
    here: Catalog, there: Catalog, tool_id: ToolId
) -> None:
    """Each edit is written, or refused with both values; the last written one is what stands."""
    chance = random.Random(7)  # noqa: S311 -- an order of edits, not a secret
    stands: dict[str, object] = {}
    told: list[tuple[object, object]] = []
    expected: list[tuple[object, object]] = []
    for number in range(200):
        catalog = chance.choice([here, there])
        name = chance.choice(["maker", "model", "size", "note"])
        value = f"{name} {number}"
        if chance.random() < 0.2:
            catalog.changes_from_outside()
        try:
            catalog.tools.change(tool_id, **{name: value})
        except EditClashError as clash:
            told.append((clash.values.theirs, clash.values.yours))
            expected.append((stands[name], value))
        else:
            stands[name] = value

    tool = here.tools.one(tool_id)
    assert {name: getattr(tool, name) for name in stands} == stands
    assert told == expected
    assert len(told) > 10
    assert len(here.history.lines()) == 200 - len(told) + 2


def test_a_status_set_for_many_tools_stops_at_the_one_someone_else_changed(
    here: Catalog, there: Catalog, tool_id: ToolId
) -> None:
    there.tools.set_status([tool_id], ToolStatus.SOLD)

    with pytest.raises(EditClashError, match="status"):
        here.tools.set_status([tool_id], ToolStatus.OFFERED)

    assert here.tools.one(tool_id).status == ToolStatus.SOLD
