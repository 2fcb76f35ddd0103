"""The frame around the places."""

from __future__ import annotations

import datetime as dt
import threading

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from planebench.window.jobs import Job, JobDesk
from planebench.window.key_list import KeyList
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
    place.set_keys(("N", "enter a sign"))
    return place


def texts(frame: WindowFrame) -> set[str]:
    return {label.text() for label in frame.findChildren(QLabel) if label.isVisible()}


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


def test_f6_goes_through_title_place_and_bench_line(qtbot: QtBot, frame: WindowFrame) -> None:
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
    frame.go_to(a_place("tool"))

    qtbot.keyClick(frame, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    with qtbot.waitSignal(frame.find_wanted) as told:
        qtbot.keyClicks(frame.find_field, "H")

    assert frame.focusWidget() is frame.find_field
    assert told.args == ["H"]


def test_take_it_back_by_key_and_by_the_bench_line(qtbot: QtBot, frame: WindowFrame) -> None:
    frame.go_to(a_place("tool"))
    frame.status_bar.show_last_edit("sole 237.3 mm", dt.datetime(2026, 5, 2, 14, 32, tzinfo=dt.UTC))
    take_back = next(
        link for link in frame.findChildren(LinkButton) if link.text() == "Take it back"
    )

    with qtbot.waitSignal(frame.undo_requested):
        qtbot.keyClick(frame, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    with qtbot.waitSignal(frame.undo_requested):
        qtbot.mouseClick(take_back, Qt.MouseButton.LeftButton)

    assert "14:32  sole 237.3 mm" in texts(frame)


def test_running_work_is_shown_with_its_count_and_can_be_stopped(
    qtbot: QtBot, frame: WindowFrame, desk: JobDesk
) -> None:
    desk.begun.connect(frame.status_bar.watch)
    gate = threading.Event()

    def take_in(job: Job) -> None:
        while True:
            job.step(212, 500)
            gate.wait(0.01)

    job = desk.edit(take_in, done=lambda _: None, text="Taking in")
    running = frame.findChild(RunningWork)
    assert running is not None
    qtbot.waitUntil(lambda: running.isVisible() and "Taking in 212 of 500" in texts(frame))

    with qtbot.waitSignal(job.stopped):
        stop = next(link for link in running.findChildren(LinkButton) if link.text() == "Stop")
        qtbot.mouseClick(stop, Qt.MouseButton.LeftButton)

    qtbot.waitUntil(lambda: not running.isVisible())


def test_short_work_does_not_flicker_in_the_bench_line(
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
    assert any("N: enter a sign" in widget.accessibleName() for widget in listed)
    with qtbot.assertNotEmitted(place.up_wanted):
        qtbot.keyClick(frame, Qt.Key.Key_Escape)


def test_menus_that_make_no_sense_yet_cannot_be_opened(frame: WindowFrame) -> None:
    frame.allow_menus("Catalog", "Help")

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
    keys.show_keys((("N", "enter a sign"),))
    usual = keys.width()
    keys.hide()

    keys.show_keys(place.keys)

    assert keys.width() > usual
    assert keys.width() > keys.fontMetrics().horizontalAdvance(long)
    assert frame.rect().contains(keys.geometry())
