"""The frame around the screens."""

from __future__ import annotations

import datetime as dt
import threading

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from planebench.window.jobs import Job, JobDesk
from planebench.window.key_list import KeyList
from planebench.window.menus import MenuActions, fill_menus
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.progress_bar import RunningWork
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import LinkButton
from planebench.window.theme import Theme
from planebench.window.window_frame import WindowFrame


@pytest.fixture
def frame(qtbot: QtBot, theme: Theme) -> WindowFrame:
    assert theme is not None
    made = WindowFrame()
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    return made


def a_place(title: str) -> Screen:
    place = Screen()
    place.set_title(title, up="All batches", remark="tool 3 of 10")
    place.set_title_buttons(ActionButton(f"act of {title}"))
    inner = QPushButton("inner", place)
    place.set_regions(inner)
    place.set_keys(("N", "add evidence"))
    return place


def texts(frame: WindowFrame) -> set[str]:
    labels = [*frame.findChildren(QLabel), *frame.findChildren(LinkButton)]
    return {label.text() for label in labels if label.isVisible()}


def test_going_to_a_place_shows_its_title_and_its_acts_alone(frame: WindowFrame) -> None:
    first, second = a_place("first"), a_place("second")
    frame.go_to(first)

    frame.go_to(second)

    assert {"second", "All batches", "tool 3 of 10"} <= texts(frame)
    shown = {act.text() for act in frame.findChildren(ActionButton) if act.isVisible()}
    assert shown == {"act of second"}
    frame.leave(second)


def test_a_place_left_for_another_in_its_stead_says_nothing_more(
    frame: WindowFrame, recwarn: pytest.WarningsRecorder
) -> None:
    below, left, instead = a_place("below"), a_place("left"), a_place("instead")
    frame.go_to(below)
    frame.go_to(left)

    frame.leave(left)
    frame.go_to(instead)

    assert [str(one.message) for one in recwarn] == []
    assert "instead" in texts(frame)


def test_a_title_that_changes_later_is_shown_only_for_the_place_one_is_at(
    frame: WindowFrame,
) -> None:
    first, second = a_place("first"), a_place("second")
    frame.go_to(first)
    frame.go_to(second)

    first.set_title("not here any more")
    second.set_title("renamed")

    assert "renamed" in texts(frame)
    assert "not here any more" not in texts(frame)


def test_escape_and_the_brass_words_go_one_level_up(qtbot: QtBot, frame: WindowFrame) -> None:
    place = a_place("tool")
    frame.go_to(place)
    up = next(link for link in frame.findChildren(LinkButton) if link.text() == "All batches")

    with qtbot.waitSignal(place.up_wanted):
        qtbot.keyClick(frame, Qt.Key.Key_Escape)
    with qtbot.waitSignal(place.up_wanted):
        qtbot.mouseClick(up, Qt.MouseButton.LeftButton)


def test_f6_goes_through_title_work_and_status_bar(qtbot: QtBot, frame: WindowFrame) -> None:
    place = a_place("tool")
    frame.go_to(place)
    frame.status_bar.show_last_edit("sole 237.3 mm", dt.datetime(2026, 5, 2, 14, 32, tzinfo=dt.UTC))
    qtbot.waitUntil(lambda: frame.focusWidget() is place.regions[0])

    met = []
    for _ in range(3):
        qtbot.keyClick(frame, Qt.Key.Key_F6)
        met.append(frame.focusWidget())

    assert isinstance(met[0], LinkButton)
    assert isinstance(met[1], ActionButton)
    assert met[2] is place.regions[0]


def test_ctrl_f_takes_the_keyboard_to_the_find_field(qtbot: QtBot, frame: WindowFrame) -> None:
    fill_menus(frame, quiet_actions())
    frame.go_to(a_place("tool"))

    qtbot.keyClick(frame, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    with qtbot.waitSignal(frame.find_wanted) as told:
        qtbot.keyClicks(frame.find_field, "H")

    assert frame.focusWidget() is frame.find_field
    assert told.args == ["H"]


def link(frame: WindowFrame, words: str) -> LinkButton:
    return next(link for link in frame.findChildren(LinkButton) if link.text() == words)


def test_undo_stands_beside_the_last_edit_and_redo_beside_what_was_undone(
    qtbot: QtBot, frame: WindowFrame
) -> None:
    bar = frame.status_bar
    bar.show_last_edit("sole 237.3 mm", dt.datetime(2026, 5, 2, 14, 32, tzinfo=dt.UTC))
    with qtbot.waitSignal(frame.undo_requested):
        qtbot.mouseClick(link(frame, "Undo"), Qt.MouseButton.LeftButton)

    bar.show_undone("sole 237.3 mm")
    with qtbot.waitSignal(frame.redo_requested):
        qtbot.mouseClick(link(frame, "Redo"), Qt.MouseButton.LeftButton)

    assert {"Undone: sole 237.3 mm.", "Ctrl+Shift+Z"} <= texts(frame)
    assert not link(frame, "Undo").isVisible()


def test_the_edit_menu_names_the_steps_and_turns_off_what_is_not_there(frame: WindowFrame) -> None:
    fill_menus(frame, quiet_actions())

    frame.show_undo_steps("sole 237.3 mm", "")

    undo, redo = frame.menu("Edit").actions()[:2]
    assert (undo.text(), undo.isEnabled()) == ("&Undo sole 237.3 mm", True)
    assert (redo.text(), redo.isEnabled()) == ("&Redo", False)


def test_a_key_of_the_screen_wins_over_the_same_key_of_a_menu_while_it_is_shown(
    qtbot: QtBot, frame: WindowFrame
) -> None:
    fill_menus(frame, quiet_actions())
    printing, other = a_place("sheet"), a_place("tool")
    printed: list[str] = []
    QShortcut(QKeySequence("Ctrl+P"), printing).activated.connect(lambda: printed.append("here"))
    item = next(act for act in frame.menu("Sheet").actions() if "ondition" in act.text())
    item.triggered.connect(lambda: printed.append("menu"))

    for place in (printing, other):
        frame.go_to(place)
        qtbot.keyClick(frame, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)

    assert printed == ["here", "menu"]


def test_f6_goes_past_what_is_hidden(qtbot: QtBot, frame: WindowFrame) -> None:
    place = a_place("tool")
    hidden, shown = QPushButton("hidden", place), QPushButton("shown", place)
    place.set_regions(place.regions[0], hidden, shown)
    frame.go_to(place)
    hidden.hide()
    shown.show()
    qtbot.waitUntil(lambda: frame.focusWidget() is place.regions[0])

    qtbot.keyClick(frame, Qt.Key.Key_F6)

    assert frame.focusWidget() is shown


def quiet_actions() -> MenuActions:
    def nothing(*_given: object) -> None:
        return None

    return MenuActions(
        go=nothing,
        new=nothing,
        open=nothing,
        sample=nothing,
        close=nothing,
        theme=nothing,
        text_size=nothing,
        paste=nothing,
        export_photographs=nothing,
        undo=nothing,
        redo=nothing,
        screen=lambda: None,
    )


def test_running_work_is_shown_with_its_count_and_can_be_stopped(
    qtbot: QtBot, frame: WindowFrame, desk: JobDesk
) -> None:
    desk.begun.connect(frame.status_bar.watch)
    gate = threading.Event()

    def endless(job: Job) -> None:
        while True:
            job.step(212, 500)
            gate.wait(0.01)

    job = desk.edit(endless, done=lambda _: None, text="Importing")
    running = frame.findChild(RunningWork)
    assert running is not None
    qtbot.waitUntil(lambda: running.isVisible() and "Importing 212 of 500" in texts(frame))

    with qtbot.waitSignal(job.stopped):
        stop = next(link for link in running.findChildren(LinkButton) if link.text() == "Stop")
        qtbot.mouseClick(stop, Qt.MouseButton.LeftButton)

    qtbot.waitUntil(lambda: not running.isVisible())


def test_short_work_does_not_flicker_in_the_status_bar(
    qtbot: QtBot, frame: WindowFrame, desk: JobDesk
) -> None:
    desk.begun.connect(frame.status_bar.watch)
    running = frame.findChild(RunningWork)
    assert running is not None

    with qtbot.waitSignal(desk.edit(lambda _job: 1, done=lambda _: None, text="Quick").ended):
        shown = running.isVisible()

    assert not shown
    assert not running.isVisible()


def test_f1_lists_the_keys_of_the_place_and_escape_puts_the_list_away(
    qtbot: QtBot, frame: WindowFrame
) -> None:
    place = a_place("dating")
    frame.go_to(place)

    frame.list_keys()

    listed = [w for w in frame.findChildren(object) if getattr(w, "accessibleName", str)()]  # type: ignore[call-overload]  # any child
    assert any("N: add evidence" in widget.accessibleName() for widget in listed)
    with qtbot.assertNotEmitted(place.up_wanted):
        qtbot.keyClick(frame, Qt.Key.Key_Escape)


def test_menus_that_make_no_sense_yet_cannot_be_opened(frame: WindowFrame) -> None:
    frame.allow_menus(catalog_open=False)

    assert frame.menu("Catalog").menuAction().isEnabled()
    assert not frame.menu("Tool").menuAction().isEnabled()


def test_many_keys_are_listed_in_columns_that_the_window_holds(frame: WindowFrame) -> None:
    place = a_place("many")
    place.set_keys(*((chr(ord("A") + number), "does something") for number in range(22)))
    frame.go_to(place)
    frame.resize(1280, 800)
    keys = KeyList(frame)

    keys.show_keys(place.keys)

    assert frame.rect().contains(keys.geometry())


def test_the_longest_line_of_the_keys_is_read_whole(frame: WindowFrame) -> None:
    place = a_place("tool")
    long = "on a photograph: lay it beside the same view before or after the work on the bench"
    place.set_keys(("B", long))
    frame.resize(1280, 800)
    keys = KeyList(frame)
    keys.show_keys((("N", "add evidence"),))
    usual = keys.width()
    keys.hide()

    keys.show_keys(place.keys)

    assert keys.width() > usual
    assert keys.width() > keys.fontMetrics().horizontalAdvance(long)
    assert frame.rect().contains(keys.geometry())


def test_the_window_is_named_after_the_screen_and_the_catalog(frame: WindowFrame) -> None:
    frame.set_catalog_name("Wendholm")
    frame.go_to(a_place("LOT7-001"))

    assert frame.windowTitle() == "LOT7-001 – Wendholm – Planebench"


def test_in_find_down_goes_to_the_list_and_enter_asks_for_what_is_selected(
    qtbot: QtBot, frame: WindowFrame
) -> None:
    place = a_place("tools")
    frame.go_to(place)
    frame.find_field.take_keyboard()

    with qtbot.waitSignal(frame.find_accepted):
        qtbot.keyClick(frame.find_field, Qt.Key.Key_Return)
    qtbot.keyClick(frame.find_field, Qt.Key.Key_Down)

    assert frame.focusWidget() is place.regions[0]


def test_the_keyboard_does_not_land_in_find_by_itself(qtbot: QtBot, frame: WindowFrame) -> None:
    place = a_place("tool")
    frame.go_to(place)
    qtbot.waitUntil(lambda: frame.focusWidget() is place.regions[0])

    place.regions[0].setEnabled(False)
    for _ in range(6):
        qtbot.keyClick(frame.focusWidget() or frame, Qt.Key.Key_Tab)
        assert frame.focusWidget() is not frame.find_field


def test_the_help_menu_shows_the_first_steps_and_what_the_program_is(frame: WindowFrame) -> None:
    fill_menus(frame, quiet_actions())
    frame.go_to(a_place("tools"))

    for action in frame.menu("Help").actions():
        if "steps" in action.text() or "About" in action.text():
            action.trigger()

    shown = " ".join(frame.notices.texts)
    assert "scale cards" in shown
    assert "Planebench" in shown
    assert "MIT" in shown
