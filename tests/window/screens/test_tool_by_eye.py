"""What of a plane is entered by eye or by hearsay: shares, and sales of like ones."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from planebench.window.pieces.buttons import ActionButton
from planebench.window.screens.tool.tool_screen import ToolScreen


@pytest.fixture
def screen(given, tool_id, show):
    return show(ToolScreen(given, tool_id))


def act(form, words):
    return next(one for one in form.findChildren(ActionButton) if one.text() == words)


def test_a_press_writes_the_share_down_once(qtbot, screen, look):
    screen.record.finish.open(look().surfaces[0].id)
    form = screen.record.finish.form
    line = form.controls["share"].line
    line.setFocus()
    qtbot.keyClicks(line, "60 to 80")

    qtbot.mouseClick(act(form, "Record estimate"), Qt.MouseButton.LeftButton)

    (reading,) = look().readings
    assert (float(reading.share.low), float(reading.share.high)) == (0.6, 0.8)
    assert line.text() == ""


def test_a_press_with_no_share_written_leads_to_its_field(qtbot, screen, look):
    screen.record.finish.open(look().surfaces[0].id)
    form = screen.record.finish.form

    qtbot.mouseClick(act(form, "Record estimate"), Qt.MouseButton.LeftButton)

    assert look().readings == ()
    assert form.controls["share"].line.hasFocus()


def test_a_form_at_the_end_stays_there_while_the_record_is_looked_at_again(
    qtbot, screen, given, look
):
    finish = screen.record.finish
    finish.open("new")
    column = finish.rows._column

    given.edits.happened.emit(given.catalog.parts.set_status((look().parts[0].id,), "present"))
    look()

    assert column.itemAt(column.count() - 1).widget() is finish.form


@pytest.mark.parametrize("typed", ["May 2026", "2025", "2026-05", "5/2026"])
def test_a_sale_of_which_only_the_month_is_known_is_told_where_to_write_it(screen, look, typed):
    screen.record.price.open("new")
    form = screen.record.price.form
    form.controls["what"].line.setText("smoothing plane")
    form.controls["price"].line.setText("150")
    form.controls["sold_on"].line.setText(typed)

    form.submit()

    assert look().comparables == ()
    assert "Leave this empty and put it in the note" in form.controls["sold_on"].trouble


def test_the_line_of_a_price_not_set_says_what_enter_does(qtbot, screen, look):
    price = screen.record.price
    row = price.rows.rows["asking"]
    assert row.cell.text == "Set an asking price"

    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)

    assert price.open_key == "asking"
