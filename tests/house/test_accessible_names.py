"""Every screen on the sample: each control that takes the keyboard says what it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from planebench.catalog.catalog import Catalog
from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import Tool
from planebench.window import routes, screen_table
from planebench.window.context import ScreenContext
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import JobDesk
from planebench.window.notices import Notices
from planebench.window.pieces.screen import Screen
from planebench.window.screens.first_start.first_start_screen import FirstStartScreen
from planebench.window.screens.trouble.trouble_screen import TroubleScreen
from planebench.window.theme import Theme, ThemeChoice


def fullest(catalog: Catalog) -> Tool:
    """Return the tool of which most is written down."""
    tools = [catalog.tools.one(tool) for tool in catalog.tools.find(ToolFilter())]
    return max(tools, key=lambda t: (len(t.pairs), len(t.defects), len(t.photographs)))


WAYS: dict[type[routes.Route], Callable[[Tool], routes.Route]] = {
    routes.BatchesRoute: lambda _tool: routes.BatchesRoute(),
    routes.BatchRoute: lambda tool: routes.BatchRoute(batch=tool.batch),
    routes.ToolRoute: lambda tool: routes.ToolRoute(tool=tool.id),
    routes.PhotographRoute: lambda tool: routes.PhotographRoute(photograph=tool.photographs[0].id),
    routes.PairRoute: lambda tool: routes.PairRoute(tool=tool.id),
    routes.DatingRoute: lambda tool: routes.DatingRoute(tool=tool.id),
    routes.SheetRoute: lambda tool: routes.SheetRoute(tools=(tool.id,)),
    routes.ImportRoute: lambda tool: routes.ImportRoute(batch=tool.batch),
    routes.CardsRoute: lambda tool: routes.CardsRoute(tools=(tool.id,)),
    routes.HistoryRoute: lambda _tool: routes.HistoryRoute(),
    routes.BinRoute: lambda _tool: routes.BinRoute(),
    routes.SettingsRoute: lambda _tool: routes.SettingsRoute(),
    routes.KindsRoute: lambda _tool: routes.KindsRoute(),
    routes.BackupsRoute: lambda _tool: routes.BackupsRoute(),
    routes.ViewsMissingRoute: lambda tool: routes.ViewsMissingRoute(batch=tool.batch),
}


@pytest.fixture
def given(qapp: QApplication, sample: Catalog) -> Iterator[ScreenContext]:
    theme, desk = Theme(qapp, ThemeChoice.LIGHT), JobDesk()
    yield ScreenContext(catalog=sample, jobs=desk, edits=EditSignal(), notices=Notices())
    assert desk.close()
    for part in (theme._ring, theme):
        part.deleteLater()


@pytest.fixture
def show(qtbot: QtBot, given: ScreenContext) -> Callable[[Screen], Screen]:
    def shown(place: Screen) -> Screen:
        qtbot.addWidget(place)
        place.resize(1280, 700)
        place.show()
        qtbot.waitUntil(lambda: not given.jobs.open_jobs, timeout=30_000)
        qtbot.wait(20)
        qtbot.waitUntil(lambda: not given.jobs.open_jobs, timeout=30_000)
        return place

    return shown


def nameless(place: Screen) -> list[str]:
    """Name the class and place of each control that takes the keyboard without saying its name."""
    controls = [*place.findChildren(QWidget), *place.title_buttons]
    return [
        " in ".join(type(each).__name__ for each in (control, *above(control)))
        for control in controls
        if control.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not control.isHidden()
        and not control.objectName().startswith("qt_")
        and not said(control)
    ]


def above(widget: QWidget) -> Iterator[QWidget]:
    parent = widget.parentWidget()
    while parent is not None:
        yield parent
        parent = parent.parentWidget()


def said(widget: QWidget) -> str:
    """Return the name that a screen reader is given."""
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name).strip()


def test_every_way_is_looked_at() -> None:
    assert WAYS.keys() == screen_table._SCREEN_MAKERS.keys()


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_every_control_of_a_screen_has_a_name_and_the_screen_a_title_and_keys(
    given: ScreenContext, show: Callable[[Screen], Screen], way: type[routes.Route]
) -> None:
    place = show(screen_table.screen_for(given, WAYS[way](fullest(given.catalog))))

    assert nameless(place) == []
    assert place.title.text
    assert place.keys
    assert all(key and what for key, what in place.keys)


@pytest.mark.parametrize(
    "make",
    [
        FirstStartScreen,
        lambda: TroubleScreen(happened="The disk is full.", remedy="Free some space."),
    ],
)
def test_every_control_of_a_screen_without_a_catalog_has_a_name(
    show: Callable[[Screen], Screen], make: Callable[[], Screen]
) -> None:
    assert nameless(show(make())) == []
