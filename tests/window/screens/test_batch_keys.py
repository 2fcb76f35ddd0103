"""The keyboard in the lists of purchases and tools, through the real window."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planebench.catalog.ids import BatchId
from planebench.catalog.reference import built_in_kinds, open_list
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screens.batch.batch_screen import BatchScreen
from planebench.window.screens.batches.batches_screen import BatchesScreen
from planebench.window.window_frame import WindowFrame

PlaceT = TypeVar("PlaceT", bound=Screen)
Enter = Callable[[PlaceT], PlaceT]


@pytest.fixture
def frame(qtbot: QtBot, theme: object) -> WindowFrame:
    assert theme is not None
    made = WindowFrame()
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


@pytest.fixture
def enter(frame: WindowFrame, settled: Callable[[], None]) -> Enter[Screen]:
    def entered(place: Screen) -> Screen:
        search = getattr(place, "search", None)
        if search is not None:
            frame.find_wanted.connect(search)
        frame.go_to(place)
        settled()
        return place

    return entered


def press(*keys: Qt.Key) -> None:
    """Press keys as the window system does: shortcuts and lists that are open get them first."""
    for key in keys:
        window = QApplication.activePopupWidget() or QApplication.activeWindow()
        QTest.keyClick(window.windowHandle(), key)


def popup_of(screen: BatchScreen) -> object:
    return screen.list.adding.kind.completer.popup()


def shown(screen: BatchScreen) -> list[str]:
    model = screen.list.adding.kind.completer.completionModel()
    return [str(model.index(row, 0).data()) for row in range(model.rowCount())]


def test_ins_adds_tools_to_a_batch_that_has_none(
    given: ScreenContext, batch: BatchId, enter
) -> None:
    screen = enter(BatchScreen(given, batch))

    press(Qt.Key.Key_Insert)

    assert screen.list.adding.isVisible()
    assert screen.list.adding.kind.line.hasFocus()


def test_ins_writes_down_the_first_purchase_of_a_catalog(given: ScreenContext, enter) -> None:
    screen = enter(BatchesScreen(given))

    press(Qt.Key.Key_Insert)

    assert screen.form.isVisible()


def test_an_empty_place_has_the_keyboard_on_its_next_step(
    given: ScreenContext, frame: WindowFrame, batch: BatchId, enter
) -> None:
    screen = enter(BatchScreen(given, batch))

    assert frame.focusWidget() is screen._add
    assert screen.list._count.text() == "0 tools."


def test_ins_in_another_place_leaves_the_batch_behind_alone(
    given: ScreenContext, batch: BatchId, enter
) -> None:
    behind = enter(BatchScreen(given, batch))
    enter(BatchScreen(given, None))

    press(Qt.Key.Key_Insert)

    assert not behind.list.adding.isVisibleTo(behind)


def test_down_on_the_empty_kind_lists_every_kind(
    given: ScreenContext, batch: BatchId, enter
) -> None:
    screen = enter(BatchScreen(given, batch))
    press(Qt.Key.Key_Insert, Qt.Key.Key_Down)

    assert popup_of(screen).isVisible()
    assert sorted(shown(screen)) == sorted(kind.name for kind in built_in_kinds().values())


def test_the_arrow_lists_every_kind_and_stands_on_the_one_written(
    qtbot: QtBot, given: ScreenContext, batch: BatchId, enter
) -> None:
    screen = enter(BatchScreen(given, batch))
    press(Qt.Key.Key_Insert)
    QTest.keyClicks(screen.list.adding.kind.line, "Shoulder plane")

    qtbot.mouseClick(screen.list.adding.kind._arrow, Qt.MouseButton.LeftButton)

    assert popup_of(screen).currentIndex().data() == "Shoulder plane"
    assert len(shown(screen)) == len(built_in_kinds())


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("bench", {"Smoothing plane", "Jack plane", "Wooden jack plane"}),
        ("rebate", {"Rabbet plane", "Shoulder plane"}),
        ("plough", {"Plow plane", "Combination plane"}),
        ("angle", {"Low-angle block plane"}),
    ],
)
def test_a_word_of_the_trade_finds_the_kinds_of_its_family(
    given: ScreenContext, batch: BatchId, enter, typed: str, found: set[str]
) -> None:
    screen = enter(BatchScreen(given, batch))
    press(Qt.Key.Key_Insert)

    QTest.keyClicks(screen.list.adding.kind.line, typed)

    assert found <= set(shown(screen))


def test_every_kind_that_comes_with_the_program_is_in_one_family() -> None:
    listed = [
        code for family in open_list("kind_families").values() for code in family.more["kinds"]
    ]

    assert sorted(listed) == sorted(built_in_kinds())


def test_a_kind_picked_from_the_list_is_written_down(
    qtbot: QtBot, given: ScreenContext, batch: BatchId, enter, settled
) -> None:
    enter(BatchScreen(given, batch))
    press(Qt.Key.Key_Insert, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Return)

    press(Qt.Key.Key_Return)
    settled()

    (tool,) = given.catalog.tools.find(ToolFilter(batch=batch))
    assert given.catalog.tools.one(tool).kind == "smoothing"


def test_esc_closes_the_list_then_the_line_then_the_page(
    qtbot: QtBot, given: ScreenContext, batch: BatchId, enter
) -> None:
    screen = enter(BatchScreen(given, batch))
    left: list[bool] = []
    screen.up_wanted.connect(lambda: left.append(True))
    press(Qt.Key.Key_Insert, Qt.Key.Key_J, Qt.Key.Key_A)
    assert popup_of(screen).isVisible()

    press(Qt.Key.Key_Escape)
    assert (popup_of(screen).isVisible(), screen.list.adding.kind.text) == (False, "ja")
    assert (screen.list.adding.isVisible(), left) == (True, [])

    press(Qt.Key.Key_Escape)
    assert (screen.list.adding.isVisible(), left) == (False, [])

    press(Qt.Key.Key_Escape)
    assert left == [True]


def test_esc_after_a_line_was_written_down_closes_the_line_alone(
    given: ScreenContext, batch: BatchId, enter, settled
) -> None:
    screen = enter(BatchScreen(given, batch))
    left: list[bool] = []
    screen.up_wanted.connect(lambda: left.append(True))
    press(Qt.Key.Key_Insert)
    screen.list.adding.kind.line.setText("Jack plane")
    press(Qt.Key.Key_Return)
    settled()

    press(Qt.Key.Key_Escape)

    assert (screen.list.adding.isVisible(), left) == (False, [])
    assert screen.list.rows.hasFocus()


def test_esc_leaves_the_form_of_a_purchase_before_the_place(given: ScreenContext, enter) -> None:
    screen = enter(BatchesScreen(given))
    left: list[bool] = []
    screen.up_wanted.connect(lambda: left.append(True))
    press(Qt.Key.Key_Insert)

    press(Qt.Key.Key_Escape)

    assert (screen.form.isVisible(), left) == (False, [])


def test_esc_empties_the_find_field_before_it_leaves_the_batch(
    qtbot: QtBot, given: ScreenContext, frame: WindowFrame, batch: BatchId, enter
) -> None:
    given.catalog.tools.add_lines(batch, [NewTool(kind="block")] * 2)
    screen = enter(BatchScreen(given, batch))
    left: list[bool] = []
    screen.up_wanted.connect(lambda: left.append(True))
    screen.list.rows.setFocus()
    press(Qt.Key.Key_5)
    qtbot.waitUntil(lambda: screen.list.model.rowCount() == 0)
    screen.list.status.setFocus()

    press(Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: screen.list.model.rowCount() == 2)

    assert (frame.find_field.text(), left) == ("", [])


def test_the_find_field_says_what_narrows_the_place_one_comes_to(
    qtbot: QtBot, given: ScreenContext, frame: WindowFrame, batch: BatchId, enter
) -> None:
    screen = enter(BatchScreen(given, batch, words="tarrow"))
    assert frame.find_field.text() == "tarrow"

    enter(BatchesScreen(given))
    assert frame.find_field.text() == ""

    enter(screen)
    assert frame.find_field.text() == "tarrow"


def test_the_kinds_and_one_s_own_are_reached_from_the_line(
    qtbot: QtBot, given: ScreenContext, batch: BatchId, enter
) -> None:
    screen = enter(BatchScreen(given, batch))

    with qtbot.waitSignal(screen.go) as went:
        screen.list.adding.kinds_wanted.emit()

    assert went.args == [routes.KindsRoute()]


def test_a_kind_of_one_s_own_stands_first(given: ScreenContext, batch: BatchId, enter) -> None:
    given.catalog.kinds.write(
        {"code": "cork", "name": "Cork plane", "source": "own", "parts": [], "surfaces": []}
    )
    screen = enter(BatchScreen(given, batch))
    press(Qt.Key.Key_Insert, Qt.Key.Key_Down)

    assert shown(screen)[0] == "Cork plane"


def test_a_day_that_cannot_be_read_is_refused_naming_its_field_once(
    given: ScreenContext, enter
) -> None:
    screen = enter(BatchesScreen(given))
    press(Qt.Key.Key_Insert)
    screen.form.fields["bought_on"].line.setText("the day before")

    press(Qt.Key.Key_Return)
    QApplication.processEvents()

    assert screen.form.fields["bought_on"].trouble.count("Bought on:") == 1
    lines = [screen.form.fields[key].line for key in ("code", "title", "bought_on")]
    assert len({line.mapTo(screen, line.rect().topLeft()).y() for line in lines}) == 1
