"""Controls: what they say, do and show."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QColor, QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from planebench.window.pieces.buttons import ActionButton, ButtonWeight, SegmentedSwitch
from planebench.window.pieces.choice_controls import CheckBox, CountSwitch, DropDown
from planebench.window.pieces.text import LinkButton
from planebench.window.pieces.tool_box import ToolBox
from planebench.window.theme import Theme
from planebench.window.tokens import LIGHT


def color_inside(widget: ActionButton | CheckBox | CountSwitch) -> str:
    return widget.grab().toImage().pixelColor(4, 6).name().upper()


def test_an_act_is_done_by_space_and_shows_what_weight_it_has(qtbot: QtBot, theme: Theme) -> None:
    act = ActionButton("Issue and print", weight=ButtonWeight.MAIN)
    qtbot.addWidget(act)

    with qtbot.waitSignal(act.clicked):
        qtbot.keyClick(act, Qt.Key.Key_Space)

    assert theme.tokens == LIGHT
    assert color_inside(act) == LIGHT.brass
    act.set_weight(ButtonWeight.NORMAL)
    assert color_inside(act) == LIGHT.field
    act.setDown(True)
    assert color_inside(act) == LIGHT.ink


def test_an_act_that_cannot_be_done_now_says_why(qtbot: QtBot) -> None:
    act = ActionButton("Its sheet")
    qtbot.addWidget(act)

    act.set_disabled_reason("Take a photograph in first.")

    assert not act.isEnabled()
    assert act.toolTip() == act.accessibleDescription() == "Take a photograph in first."
    act.set_disabled_reason("")
    assert act.isEnabled()


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_an_act_that_has_the_keyboard_is_done_by_enter_and_by_space(
    qtbot: QtBot, key: Qt.Key
) -> None:
    act = ActionButton("Leave it")
    qtbot.addWidget(act)

    with qtbot.waitSignal(act.clicked):
        qtbot.keyClick(act, key)


def test_a_busy_act_says_what_is_being_done_until_it_is_over(qtbot: QtBot) -> None:
    act = ActionButton("Judge")
    qtbot.addWidget(act)
    wide = act.sizeHint().width()

    act.set_busy("Judging the outline")

    assert not act.isEnabled()
    assert act.sizeHint().width() > wide
    act.set_busy("")
    assert act.isEnabled()
    assert act.sizeHint().width() == wide


def test_of_a_switch_one_choice_holds_and_only_a_person_is_told_of(qtbot: QtBot) -> None:
    switch = SegmentedSwitch("size", {"letter": "Letter", "a4": "A4"}, holds="a4")
    qtbot.addWidget(switch)
    letter, a4 = switch.findChildren(ActionButton)
    with qtbot.assertNotEmitted(switch.chosen):
        switch.hold("a4")

    with qtbot.waitSignal(switch.chosen) as told:
        qtbot.mouseClick(letter, Qt.MouseButton.LeftButton)

    assert told.args == ["letter"]
    assert switch.held == "letter"
    assert not a4.isChecked()
    assert letter.accessibleName() == "size: Letter"


def test_a_drop_down_tells_the_key_of_what_a_person_chose(qtbot: QtBot) -> None:
    choice = DropDown("Now", [("found", "as found"), ("done", "finished")], holds="found")
    qtbot.addWidget(choice)

    with qtbot.waitSignal(choice.chosen) as told:
        qtbot.keyClick(choice, Qt.Key.Key_Down)

    assert told.args == ["done"]
    assert choice.held == "done"
    choice.hold("unheard of")
    assert not choice.held


def test_a_box_that_is_always_on_cannot_be_switched_off(qtbot: QtBot) -> None:
    box = CheckBox("What a buyer must know first", remark="always on")
    qtbot.addWidget(box)

    box.set_fixed_on("A buyer is told this on every sheet.")
    qtbot.mouseClick(box, Qt.MouseButton.LeftButton)

    assert box.isChecked()
    assert box.toolTip() == "A buyer is told this on every sheet."


def test_a_count_is_a_switch_and_reads_its_number(qtbot: QtBot, theme: Theme) -> None:
    count = CountSwitch(4, "no finished photograph")
    qtbot.addWidget(count)

    with qtbot.waitSignal(count.toggled):
        qtbot.keyClick(count, Qt.Key.Key_Space)

    assert theme.tokens == LIGHT
    assert color_inside(count) == LIGHT.ink
    count.set_count(3)
    assert count.accessibleName() == "3 no finished photograph"


def test_a_digit_in_a_drop_down_opens_its_list_at_the_match_and_changes_nothing(
    qtbot: QtBot,
) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    jumped: list[str] = []
    QShortcut(QKeySequence("3"), page).activated.connect(lambda: jumped.append("section 3"))
    choice = DropDown("width", (("2", "2 in"), ("3", "3 in")), page, holds="2")
    page.show()
    page.activateWindow()
    choice.setFocus()

    qtbot.keyClick(choice, Qt.Key.Key_3)

    assert jumped == []
    assert choice.held == "2"
    assert choice.view().currentIndex().row() == 1
    choice.hidePopup()


def test_a_drop_down_tells_its_label_and_its_value_apart(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    choice = DropDown("Status", (("sold", "sold"),), page, holds="sold")

    spoken = QAccessible.queryAccessibleInterface(choice)

    labels = [
        label.text(QAccessible.Text.Name)
        for label, relation in spoken.relations()
        if relation & QAccessible.RelationFlag.Label
    ]
    assert labels == ["Status"]
    assert spoken.text(QAccessible.Text.Value) == "sold"


def test_a_link_is_a_button_by_enter_and_by_pointer(qtbot: QtBot) -> None:
    link = LinkButton("Undo")
    assert QAccessible.queryAccessibleInterface(link).role() == QAccessible.Role.Button
    assert min(link.sizeHint().height(), link.sizeHint().width()) >= 24
    qtbot.addWidget(link)

    with qtbot.waitSignal(link.clicked):
        qtbot.keyClick(link, Qt.Key.Key_Return)
    with qtbot.waitSignal(link.clicked):
        qtbot.mouseClick(link, Qt.MouseButton.LeftButton)


def test_the_ring_goes_with_the_keyboard(qtbot: QtBot, theme: Theme) -> None:
    switch = SegmentedSwitch("size", {"letter": "Letter", "a4": "A4"})
    qtbot.addWidget(switch)
    switch.resize(300, 80)
    switch.show()
    switch.activateWindow()
    letter, a4 = switch.findChildren(ActionButton)
    brass = QColor(theme.tokens.brass)

    a4.setFocus()

    qtbot.waitUntil(a4.hasFocus)
    at = a4.geometry()
    picture = switch.grab().toImage()
    assert picture.pixelColor(at.center().x(), at.bottom() + 4) == brass
    assert picture.pixelColor(letter.geometry().center().x(), at.bottom() + 4) != brass


def test_of_the_means_in_a_tray_one_is_in_hand_and_acts_are_done_at_once(qtbot: QtBot) -> None:
    box = ToolBox("means")
    qtbot.addWidget(box)
    outline = box.add_tool("outline", "outline", "outline", "O")
    kept = box.add_tool("kept", "kept", "kept", "K")
    whole = box.add_command("whole", "whole", "", "0")
    box.select("outline")

    with qtbot.waitSignal(box.tool_chosen) as taken:
        qtbot.mouseClick(kept, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(box.command_chosen) as done:
        qtbot.mouseClick(whole, Qt.MouseButton.LeftButton)

    assert (taken.args, done.args) == (["kept"], ["whole"])
    assert box.active == "kept"
    assert not outline.isChecked()


def test_words_leave_a_narrow_tray_the_last_first_and_icons_with_letters_stay(
    qtbot: QtBot,
) -> None:
    box = ToolBox("means")
    qtbot.addWidget(box)
    length = box.add_tool("length", "length of a line", "length", "M")
    angle = box.add_tool("angle", "angle of two lines", "angle", "A")
    box.show()
    box.resize(600, 56)
    wide = (length.sizeHint().width(), angle.sizeHint().width())
    box.resize(300, 56)
    qtbot.waitUntil(lambda: angle.sizeHint().width() < wide[1])

    assert length.sizeHint().width() == wide[0]
    assert angle.accessibleName() == "angle of two lines"
