"""Pages side by side where there is room, one at a time else; leafed and brought closer."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSizeF, Qt
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from planebench.window.pieces.pages_bar import PagesBar, format_page_range
from planebench.window.pieces.pages_view import PagesView
from planebench.window.theme import Theme

LETTER = QSizeF(612, 792)


@pytest.fixture
def view(qtbot: QtBot, theme: Theme) -> PagesView:
    made = PagesView("Pages")
    qtbot.addWidget(made)
    made.resize(700, 600)
    made.show()
    pages = [QImage(85, 110, QImage.Format.Format_RGB32) for _ in range(5)]
    made.show_pages(pages, LETTER)
    return made


def test_one_page_at_a_time_where_it_is_narrow(qtbot: QtBot, view: PagesView) -> None:
    assert list(view.shown) == [0]
    qtbot.keyClick(view, Qt.Key.Key_PageDown)
    assert list(view.shown) == [1]
    qtbot.keyClick(view, Qt.Key.Key_End)
    assert list(view.shown) == [4]


def test_two_pages_side_by_side_where_there_is_room(qtbot: QtBot, view: PagesView) -> None:
    view.resize(1200, 600)

    qtbot.keyClick(view, Qt.Key.Key_PageDown)

    assert list(view.shown) == [2, 3]


@pytest.mark.parametrize(("key", "step"), [(Qt.Key.Key_PageUp, -1), (Qt.Key.Key_PageDown, 1)])
def test_leafing_past_an_end_is_told(qtbot: QtBot, view: PagesView, key: Qt.Key, step: int) -> None:
    view.turn_to(0 if step < 0 else -1)

    with qtbot.waitSignal(view.beyond) as told:
        qtbot.keyClick(view, key)

    assert told.args == [step]


def test_whole_pages_fit_and_closer_ones_scroll(qtbot: QtBot, view: PagesView) -> None:
    whole = view.scale
    assert view.verticalScrollBar().maximum() == 0

    qtbot.keyClick(view, Qt.Key.Key_1)
    assert view.scale == pytest.approx(1.0)
    assert view.verticalScrollBar().maximum() > 0
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    assert view.scale == pytest.approx(1.25)
    qtbot.keyClick(view, Qt.Key.Key_0)
    assert view.scale == pytest.approx(whole)


def test_farther_than_whole_pages_is_whole_pages(qtbot: QtBot, view: PagesView) -> None:
    whole = view.scale
    view.actual_size()

    for _ in range(6):
        qtbot.keyClick(view, Qt.Key.Key_Minus)

    assert view.scale == pytest.approx(whole)


def test_sharper_pages_are_asked_for_when_one_comes_closer(qtbot: QtBot, view: PagesView) -> None:
    before = view.dots

    with qtbot.waitSignal(view.dots_wanted) as wanted:
        view.actual_size()

    assert wanted.args[0] > before


def test_the_place_is_kept_when_other_pages_come(view: PagesView) -> None:
    view.turn_to(3)

    view.show_pages([QImage(85, 110, QImage.Format.Format_RGB32)] * 4, LETTER)
    assert list(view.shown) == [3]
    view.show_pages([QImage(85, 110, QImage.Format.Format_RGB32)] * 2, LETTER)
    assert list(view.shown) == [1]


def test_the_bar_says_which_pages_and_stops_at_the_ends(qtbot: QtBot, view: PagesView) -> None:
    bar = PagesBar(view)
    qtbot.addWidget(bar)

    assert bar.range_label.text() == "Page 1 of 5"
    assert not bar.previous.isEnabled()
    bar.next.click()
    assert bar.range_label.text() == view.accessibleDescription() == "Page 2 of 5"


@pytest.mark.parametrize(
    ("shown", "told"),
    [(range(0), ""), (range(1), "Page 1 of 5"), (range(2, 4), "Pages 3 and 4 of 5")],
)
def test_pages_are_told_in_words(shown: range, told: str) -> None:
    assert format_page_range(shown, 5) == told
