"""Nothing typed into a record is lost, and nothing in it changes unasked."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from planebench.catalog.ids import ToolId
from planebench.catalog.values import Tool
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screens.tool.tool_screen import ToolScreen

LEFT, ESC, ENTER = Qt.MouseButton.LeftButton, Qt.Key.Key_Escape, Qt.Key.Key_Return


@pytest.fixture
def screen(given: ScreenContext, tool_id: ToolId, show: Callable[[Screen], Screen]) -> ToolScreen:
    made = show(ToolScreen(given, tool_id))
    assert isinstance(made, ToolScreen)
    return made


def note_of(screen: ToolScreen):
    screen.record.what.open("note")
    QTest.qWait(20)  # until the form is laid out and shown
    return screen.record.what.form.controls["note"]


def test_a_note_left_by_esc_is_saved(qtbot: QtBot, screen: ToolScreen, look) -> None:
    note = note_of(screen)
    qtbot.keyClicks(note.box, "Came in a box.")

    qtbot.keyClick(note.box, ESC)

    assert look().note == "Came in a box."


def test_a_note_is_saved_after_a_second_of_rest(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, screen: ToolScreen
) -> None:
    note = note_of(screen)
    qtbot.keyClicks(note.box, "Came in a box.")

    qtbot.waitUntil(lambda: given.catalog.tools.one(tool_id).note == "Came in a box.", timeout=5000)

    assert note.box.isVisible()


def test_a_note_is_saved_when_the_screen_is_left(
    qtbot: QtBot, screen: ToolScreen, look: Callable[[], Tool]
) -> None:
    note = note_of(screen)
    qtbot.keyClicks(note.box, "Came in a box.")

    screen.hide()

    assert look().note == "Came in a box."


def test_an_entry_that_was_begun_is_offered_again_after_a_restart(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, show, settled
) -> None:
    first = show(ToolScreen(given, tool_id))
    first.record.defects.open("new")
    qtbot.waitUntil(first.record.defects.form.isVisible)
    qtbot.keyClicks(first.record.defects.form.controls["place"].line, "left cheek")
    first.hide()
    settled()

    again = show(ToolScreen(given, tool_id)).record.defects
    offered = again._add.text()
    again.open("new")

    assert offered == "add a defect (draft)"
    assert again.form.controls["place"].text == "left cheek"


def test_an_added_entry_is_not_offered_again_though_the_screen_was_left_at_once(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, show, settled
) -> None:
    first = show(ToolScreen(given, tool_id))
    first.record.defects.open("new")
    qtbot.waitUntil(first.record.defects.form.isVisible)
    place = first.record.defects.form.controls["place"].line
    qtbot.keyClicks(place, "left cheek")
    qtbot.keyClick(place, ENTER)
    first.hide()
    settled()

    again = show(ToolScreen(given, tool_id)).record.defects

    assert again._add.text() == "add a defect"
    assert given.catalog.drafts.of(tool_id) == {}


def test_what_cannot_be_read_is_kept_and_shown_again_with_what_is_wrong(
    qtbot: QtBot, screen: ToolScreen, given: ScreenContext, tool_id: ToolId, look
) -> None:
    dimension = given.catalog.dimensions.add(
        tool_id, what="sole_length", value="237", as_typed="237 mm", basis="measured"
    )
    given.edits.happened.emit(dimension.changes)
    look()
    what = screen.record.what
    what.open(dimension.id)
    value = what.form.controls["value"].line
    value.selectAll()
    qtbot.keyClicks(value, "nine inches")
    what.form.closed.emit()

    what.open(dimension.id)

    assert what.form.controls["value"].text == "nine inches"
    assert what.form.controls["value"].trouble


def test_inspection_complete_stays_in_sight_and_can_be_taken_back(
    qtbot: QtBot, screen: ToolScreen, look
) -> None:
    box = screen.record.defects.inspected

    qtbot.mouseClick(box, LEFT)
    ticked = look().defects_inspected
    visible = box.isVisibleTo(screen)
    qtbot.mouseClick(box, LEFT)

    assert (ticked, visible, look().defects_inspected) == (True, True, False)


def test_work_finished_stays_in_sight_and_can_be_taken_back(
    qtbot: QtBot, screen: ToolScreen, look
) -> None:
    box = screen.record.work.finished

    qtbot.mouseClick(box, LEFT)
    ticked = look().work_finished
    visible = box.isVisibleTo(screen)
    qtbot.mouseClick(box, LEFT)

    assert (ticked, visible, look().work_finished) == (True, True, False)


def add_work(given: ScreenContext, tool: ToolId, kind: str):
    added = given.catalog.bench_log.add(tool, kind=kind, what="new screw", disclosed=True)
    given.edits.happened.emit(added.changes)
    return added.id


def test_changing_the_kind_of_work_never_takes_a_disclosure_away(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, screen: ToolScreen, look
) -> None:
    work = add_work(given, tool_id, "replace_part")
    look()
    screen.record.work.open(work)
    kind = screen.record.work.form.controls["kind"]
    kind.line.selectAll()
    qtbot.keyClicks(kind.line, "honed")
    qtbot.keyClick(kind.line, ENTER)

    (after,) = look().work

    assert (after.kind, after.disclosed) == ("hone", True)
    assert screen.record.work.form.controls["disclosed"].isChecked()


def test_letters_typed_in_the_kind_change_nothing_until_it_is_chosen(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, screen: ToolScreen, look
) -> None:
    work = add_work(given, tool_id, "replace_part")
    look()
    screen.record.work.open(work)
    qtbot.keyClicks(screen.record.work.form.controls["kind"].line, "c")

    (after,) = look().work

    assert (after.kind, after.disclosed) == ("replace_part", True)


def test_new_work_begins_with_its_description_and_without_a_kind(
    qtbot: QtBot, screen: ToolScreen, look
) -> None:
    screen.record.work.open("new")
    form = screen.record.work.form
    begun = (form.controls["what"].line.hasFocus(), form.controls["kind"].text)
    qtbot.keyClicks(form.controls["what"].line, "put the handle together")
    qtbot.keyClick(form.controls["what"].line, ENTER)

    assert begun == (True, "")
    assert "nothing is chosen yet" in form.controls["kind"].trouble
    assert look().work == ()


@pytest.mark.parametrize(
    ("typed", "found"),
    [("glue", "wood_repair"), ("sharpen", "hone"), ("part repl", "replace_part")],
)
def test_a_kind_of_work_is_found_by_any_word(
    qtbot: QtBot, screen: ToolScreen, look, typed: str, found: str
) -> None:
    screen.record.work.open("new")
    controls = screen.record.work.form.controls
    qtbot.keyClicks(controls["kind"].line, typed)
    qtbot.keyClick(controls["kind"].line, ENTER)

    assert [work.kind for work in look().work] == [found]


def test_smoother_finds_the_smoothing_plane(qtbot: QtBot, screen: ToolScreen, look) -> None:
    given_kind = look().kind
    screen.record.what.open("kind")
    kind = screen.record.what.form.controls["kind"].line
    kind.selectAll()
    qtbot.keyClicks(kind, "jack")
    qtbot.keyClick(kind, ENTER)
    look()
    kind.setFocus()
    kind.selectAll()
    qtbot.keyClicks(kind, "smoother")
    qtbot.keyClick(kind, ENTER)

    assert given_kind
    assert look().kind == "smoothing"


def test_deleting_the_last_row_goes_to_the_one_above(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, screen: ToolScreen, look
) -> None:
    works = [add_work(given, tool_id, kind) for kind in ("clean", "hone")]
    look()
    rows = screen.record.work.rows.rows
    screen.activateWindow()
    rows[works[1]].setFocus()

    qtbot.keyClick(rows[works[1]], Qt.Key.Key_Delete)
    look()

    assert screen.focusWidget() is rows[works[0]]
