from decimal import Decimal

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.readings import NewReading
from planebench.catalog.tables import ToolRow
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.errors import InputError
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, PartStatus, Stage


def about_70_percent() -> Share:
    return Share(value=Decimal("0.7"), low=Decimal("0.6"), high=Decimal("0.8"), basis=Basis.BY_EYE)


def test_each_edit_is_one_line_of_the_history_with_who_and_what(empty_catalog, tool):
    empty_catalog.tools.change(tool.id, note="mark under the japanning")

    newest = empty_catalog.history.lines()[0]
    assert newest.words == "LOT7-001 changed: note"
    assert newest.who == "R. Fenn"


def test_writing_what_is_there_already_is_no_edit(empty_catalog, tool):
    before = len(empty_catalog.history.lines())

    changes = empty_catalog.tools.change(tool.id, maker="Halbeck & Son")

    assert len(empty_catalog.history.lines()) == before
    assert changes.words == ""
    assert changes.tools == frozenset()


def test_everything_can_be_taken_back_to_an_empty_catalog_and_brought_again(empty_catalog, tool):
    surface = tool.surfaces[0].id
    reading = NewReading(
        tool=tool.id, surface=surface, stage=Stage.AS_FOUND, share=about_70_percent()
    )
    empty_catalog.readings.add(reading)
    empty_catalog.defects.add(tool.id, kind="chip", place="rear edge of the mouth")
    empty_catalog.evidence.add(tool.id, seen="PAT. JAN. 28. 13", not_before=1913)
    empty_catalog.parts.change(tool.parts[2].id, status=PartStatus.NOT_ORIGINAL)
    empty_catalog.comparables.add(
        tool.id, what="a like one", price=Decimal("140.00"), currency="USD"
    )
    full = empty_catalog.tools.one(tool.id)

    while empty_catalog.history.next_undo() is not None:
        empty_catalog.history.undo()
    assert empty_catalog.tools.find(ToolFilter()) == ()
    assert empty_catalog.batches.lines() == ()

    while empty_catalog.history.next_redo() is not None:
        empty_catalog.history.redo()
    again = empty_catalog.tools.one(tool.id)
    assert again.readings[0].share == full.readings[0].share
    assert [d.place for d in again.defects] == [d.place for d in full.defects]
    assert [p.status for p in again.parts] == [p.status for p in full.parts]
    assert again.comparables[0].price == Decimal("140.00")
    assert again.line.made == full.line.made


def test_taking_back_works_after_a_restart(empty_catalog, tool, clock):
    empty_catalog.tools.change(tool.id, maker="Tarrow")
    empty_catalog.close()

    reopened = Catalog.open(empty_catalog.folder, who="R. Fenn", clock=clock)
    reopened.history.undo()
    maker = reopened.tools.one(tool.id).maker
    reopened.close()

    assert maker == "Halbeck & Son"


def test_after_something_new_nothing_taken_back_can_be_brought_again(empty_catalog, tool):
    empty_catalog.tools.change(tool.id, maker="Tarrow")
    empty_catalog.history.undo()

    empty_catalog.tools.change(tool.id, note="heavy")

    assert empty_catalog.history.next_redo() is None


def test_edits_of_one_run_are_taken_back_and_brought_again_together(empty_catalog, tool):
    for note in ("first", "second", "third"):
        with empty_catalog.store.edit("a step", run="the same run") as edit:
            edit.session.get_one(ToolRow, tool.id).note = note

    empty_catalog.history.undo()
    assert empty_catalog.tools.one(tool.id).note == ""

    empty_catalog.history.redo()
    assert empty_catalog.tools.one(tool.id).note == "third"


def test_a_failed_edit_leaves_no_trace(empty_catalog, batch):
    before = len(empty_catalog.history.lines())

    with pytest.raises(InputError):
        empty_catalog.tools.add_lines(
            batch, [NewTool(kind="block"), NewTool(kind="a kind that nobody knows")]
        )

    assert empty_catalog.tools.find(ToolFilter()) == ()
    assert len(empty_catalog.history.lines()) == before


def test_changes_name_what_an_edit_touched(empty_catalog, tool):
    changes = empty_catalog.defects.add(tool.id, kind="crack").changes

    assert changes.tools == frozenset({tool.id})
    assert changes.words == "LOT7-001 defect 1 added"


def test_deletion_is_to_the_bin_and_back(empty_catalog, tool):
    defect = empty_catalog.defects.add(tool.id, kind="crack").id
    empty_catalog.defects.bin(defect)
    assert empty_catalog.tools.one(tool.id).defects == ()

    (thing,) = empty_catalog.bin.entries()
    empty_catalog.bin.restore(thing)

    assert [d.id for d in empty_catalog.tools.one(tool.id).defects] == [defect]
    assert thing.words == "LOT7-001: defect crack"


def test_a_batch_in_the_bin_takes_its_tools_along_and_brings_them_back(empty_catalog, tool):
    empty_catalog.batches.bin(tool.batch)
    assert empty_catalog.tools.find(ToolFilter()) == ()

    batch = next(t for t in empty_catalog.bin.entries() if t.table == "batch")
    empty_catalog.bin.restore(batch)

    assert empty_catalog.tools.find(ToolFilter()) == (tool.id,)
