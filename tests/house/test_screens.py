"""Every screen in the window on the sample: names, roles and sizes of controls, keys, room."""

from __future__ import annotations

import os
from collections import defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QShortcut
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QLineEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from planebench.catalog.catalog import Catalog
from planebench.window import routes, screen_table
from planebench.window.context import ScreenContext
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import JobDesk
from planebench.window.menus import MenuActions, fill_menus
from planebench.window.notices import Notices
from planebench.window.pieces.screen import Screen
from planebench.window.screens.first_start.first_start_screen import FirstStartScreen
from planebench.window.screens.trouble.trouble_screen import TroubleScreen
from planebench.window.theme import Theme, ThemeChoice
from planebench.window.tokens import SMALLEST_TARGET
from planebench.window.window_frame import SMALLEST_WINDOW, WindowFrame
from tests.house.every_screen import ROUTES, fullest
from tests.house.spoken import dump, spoken

# Each screen's lines go to a file of this folder where it is named, for a person to read.
DUMP = os.environ.get("PLANEBENCH_DUMP", "")
SILENT_ROLES = {
    QAccessible.Role.NoRole,
    QAccessible.Role.Client,
    QAccessible.Role.StaticText,
    QAccessible.Role.Pane,
}


@pytest.fixture
def context(qapp: QApplication, sample: Catalog) -> Iterator[ScreenContext]:
    theme, desk = Theme(qapp, ThemeChoice.LIGHT), JobDesk()
    yield ScreenContext(catalog=sample, jobs=desk, edits=EditSignal(), notices=Notices())
    assert desk.close()
    for part in (theme._ring, theme):
        part.deleteLater()


@pytest.fixture
def show(qtbot: QtBot, context: ScreenContext) -> Callable[[Screen], WindowFrame]:
    def shown(screen: Screen) -> WindowFrame:
        frame = WindowFrame()
        qtbot.addWidget(frame)
        fill_menus(frame, quiet_actions())
        frame.go_to(screen)
        frame.resize(1280, 800)
        frame.show()
        for _ in range(2):
            qtbot.waitUntil(lambda: not context.jobs.open_jobs, timeout=60_000)
            qtbot.wait(20)
        return frame

    return shown


def quiet_actions() -> MenuActions:
    def nothing(*_values: object) -> None:
        return None

    names = [name for name in MenuActions.__dataclass_fields__ if name != "screen"]
    return MenuActions(**dict.fromkeys(names, nothing), screen=lambda: None)


def controls(frame: WindowFrame) -> list[QWidget]:
    """List what takes the keyboard, leaving out the parts of Qt's own widgets."""
    return [
        widget
        for widget in frame.findChildren(QWidget)
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and widget.isVisible()
        and not widget.objectName().startswith("qt_")
    ]


def path_of(widget: QWidget) -> str:
    chain, at = [], widget
    while at is not None and not isinstance(at, WindowFrame):
        chain.append(type(at).__name__)
        at = at.parentWidget()
    return " in ".join(chain[:5])


def said(widget: QWidget) -> str:
    """Return the name that a screen reader is given."""
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name).strip()


def nameless(frame: WindowFrame) -> list[str]:
    return [path_of(widget) for widget in controls(frame) if not said(widget)]


def without_role(frame: WindowFrame) -> list[str]:
    faces = ((one, QAccessible.queryAccessibleInterface(one)) for one in controls(frame))
    return [
        f"{spoken(face)}: {path_of(widget)}"
        for widget, face in faces
        if face.role() in SILENT_ROLES
    ]


def too_small(frame: WindowFrame) -> list[str]:
    clicked = (QAbstractButton, QComboBox, QLineEdit)
    return [
        f"{said(widget)}, {widget.width()} by {widget.height()}: {path_of(widget)}"
        for widget in frame.findChildren(QWidget)
        if isinstance(widget, clicked)
        and widget.isVisible()
        and widget.isEnabled()
        and min(widget.width(), widget.height()) < SMALLEST_TARGET
        and not widget.objectName().startswith("qt_")
    ]


def low_rows(frame: WindowFrame) -> list[str]:
    lists = [view for view in frame.findChildren(QAbstractItemView) if view.isVisible()]
    return [
        f"{said(view)}, {view.sizeHintForRow(0)} high"
        for view in lists
        if view.model() is not None
        and view.model().rowCount() > 0
        and 0 < view.sizeHintForRow(0) < SMALLEST_TARGET
    ]


def keys_held_twice(frame: WindowFrame) -> dict[str, list[str]]:
    """Return the keys that two actions share; Qt then does neither."""
    held: dict[str, list[tuple[QWidget | None, str]]] = defaultdict(list)
    menus = {name: frame.menu(name) for name in ("Catalog", "Edit", "View", "Batch", "Tool")}
    menus |= {name: frame.menu(name) for name in ("Photograph", "Sheet", "Help")}
    for name, menu in menus.items():
        for action in menu.actions():
            if not action.shortcut().isEmpty():
                held[action.shortcut().toString()].append((None, f"{name}: {action.text()}"))
    for shortcut in frame.findChildren(QShortcut):
        owner = shortcut.parent()
        assert isinstance(owner, QWidget)
        inside = shortcut.context() != Qt.ShortcutContext.WindowShortcut
        for key in shortcut.keys():  # noqa: SIM118 (a QShortcut, not a dictionary)
            where = (owner if inside else None, path_of(owner) or "the window")
            held[key.toString()].append(where)
    return {
        key: [words for _, words in owners]
        for key, owners in held.items()
        if any(meet(a, b) for i, (a, _) in enumerate(owners) for b, _ in owners[:i])
    }


def meet(one: QWidget | None, other: QWidget | None) -> bool:
    """Return whether both can be meant at once; None is the whole window."""
    if one is None or other is None:
        return True
    return one is other or one.isAncestorOf(other) or other.isAncestorOf(one)


def keep_dump(name: str, frame: WindowFrame) -> None:
    if DUMP:
        folder = Path(DUMP)
        folder.mkdir(parents=True, exist_ok=True)
        (folder / f"{name}.txt").write_text(dump(frame), "utf-8")


def test_every_screen_is_looked_at() -> None:
    assert ROUTES.keys() == screen_table._SCREEN_MAKERS.keys()


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.__name__)
def test_each_control_is_named_large_enough_and_reached_by_a_key_of_its_own(
    context: ScreenContext, show: Callable[[Screen], WindowFrame], route: type[routes.Route]
) -> None:
    screen = screen_table.screen_for(context, ROUTES[route](fullest(context.catalog)))
    frame = show(screen)
    keep_dump(route.__name__, frame)

    assert nameless(frame) == []
    assert without_role(frame) == []
    assert too_small(frame) == []
    assert low_rows(frame) == []
    assert keys_held_twice(frame) == {}
    assert screen.title.text
    assert screen.keys
    assert all(key and what for key, what in screen.keys)


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.__name__)
def test_a_screen_has_room_in_the_smallest_window(
    qtbot: QtBot,
    context: ScreenContext,
    show: Callable[[Screen], WindowFrame],
    route: type[routes.Route],
) -> None:
    frame = show(screen_table.screen_for(context, ROUTES[route](fullest(context.catalog))))

    frame.resize(SMALLEST_WINDOW)
    qtbot.wait(100)  # a screen lays itself out anew once it has its width

    needed = frame.centralWidget().minimumSizeHint()
    assert needed.width() <= SMALLEST_WINDOW.width()
    assert needed.height() <= SMALLEST_WINDOW.height()


@pytest.mark.parametrize(
    "make",
    [
        FirstStartScreen,
        lambda: TroubleScreen(happened="The disk is full.", remedy="Free some space."),
    ],
)
def test_the_controls_of_a_screen_without_a_catalog_are_named_and_large_enough(
    show: Callable[[Screen], WindowFrame], make: Callable[[], Screen]
) -> None:
    frame = show(make())
    keep_dump(type(frame.current_screen).__name__, frame)

    assert nameless(frame) == []
    assert without_role(frame) == []
    assert too_small(frame) == []
