"""Rust in the tool's record: of bare metal by itself, of a finished surface beside its finish."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from planebench.window.screens.tool.tool_screen import ToolScreen

ENTER = Qt.Key.Key_Return


@pytest.fixture
def sole(given, tool_id):
    """Add a sole of bare metal to the tool."""
    return given.catalog.surfaces.add(
        tool_id, name="Sole", finish="bare_metal", position=40, parts=[]
    ).id


@pytest.fixture
def screen(given, tool_id, sole, show):
    return show(ToolScreen(given, tool_id))


def say_by_eye(qtbot, screen, surface, text):
    screen.record.finish.open(surface)
    line = screen.record.finish.form.controls["share"].line
    line.setFocus()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, ENTER)


def test_a_share_of_bare_metal_is_of_rust_without_being_told_so(
    qtbot, screen, sole, given, tool_id
):
    unread = screen.record.finish.rows.rows[sole].cell.spoken
    with qtbot.waitSignal(given.edits.happened):
        say_by_eye(qtbot, screen, sole, "5 to 10")
    (reading,) = given.catalog.tools.one(tool_id).readings

    assert unread == "Sole, rust, rusted, not measured"
    assert (reading.surface, reading.finish) == (sole, "rust")
    assert "rust" not in screen.record.finish.form.controls


def test_its_line_shows_the_rusted_share_and_who_read_it(qtbot, screen, sole, given, settled):
    with qtbot.waitSignal(given.edits.happened):
        say_by_eye(qtbot, screen, sole, "5 to 10")
    settled()
    record = screen.record.finish
    (told,) = [cell.spoken for cell in record._reading_cells(sole)]

    assert "about 8% (5 to 10), by eye" in record.rows.rows[sole].cell.spoken
    assert "R. Fenn" in told


def test_bare_metal_changes_nothing_of_what_is_still_to_be_done(given, tool_id, sole):
    with_sole = given.catalog.tools.one(tool_id).line
    given.catalog.surfaces.bin(sole)

    assert given.catalog.tools.one(tool_id).line == with_sole


def test_a_measured_reading_says_when_by_whom_on_which_view_and_how(given_sample, sample, show):
    tool = sample.tools.by_stock_number("LOT7-008")
    record = show(ToolScreen(given_sample, tool)).record.finish
    bed = sample.tools.one(tool).surfaces[0]
    first = record._reading_cells(bed.id)[0]

    assert first.beneath.startswith("finished, ")
    assert first.beneath.endswith(
        ", R. Fenn, top view, outlined on one photograph, judged with no stroke"
    )
    assert first.at_length
