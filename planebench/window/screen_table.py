"""The one table of screens: which screen each route leads to."""

from __future__ import annotations

from collections.abc import Callable

from planebench.catalog.tools import ToolFilter
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screens.backups.backups_screen import BackupsScreen
from planebench.window.screens.batch.batch_screen import BatchScreen
from planebench.window.screens.batches.batches_screen import BatchesScreen
from planebench.window.screens.bin.bin_screen import BinScreen
from planebench.window.screens.cards.cards_screen import CardsScreen
from planebench.window.screens.dating.dating_screen import DatingScreen
from planebench.window.screens.history.history_screen import HistoryScreen
from planebench.window.screens.kinds.kinds_screen import KindsScreen
from planebench.window.screens.pair.pair_screen import PairScreen
from planebench.window.screens.photo_import.photo_import_screen import PhotoImportScreen
from planebench.window.screens.photograph.photograph_screen import PhotographScreen
from planebench.window.screens.settings.settings_screen import SettingsScreen
from planebench.window.screens.sheet.sheet_screen import SheetScreen
from planebench.window.screens.tool.tool_screen import ToolScreen
from planebench.window.screens.views_missing.views_missing_screen import ViewsMissingScreen

ScreenMaker = Callable[[ScreenContext, routes.Route], Screen]


def screen_for(context: ScreenContext, route: routes.Route) -> Screen:
    """Return a new screen for a route. Raise KeyError for a route without a screen."""
    return _SCREEN_MAKERS[type(route)](context, route)


def _batches(context: ScreenContext, _route: routes.Route) -> Screen:
    return BatchesScreen(context)


def _batch(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.BatchRoute)  # noqa: S101 -- the table below pairs them
    return BatchScreen(context, route.batch, words=route.words)


def _import(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.ImportRoute)  # noqa: S101 -- the table below pairs them
    screen = PhotoImportScreen(context, route.batch, route.tool, route.paths)
    if route.watch:
        screen.ask_watch()
    if route.waiting:
        screen.show_waiting()
    return screen


def _history(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.HistoryRoute)  # noqa: S101 -- the table below pairs them
    return HistoryScreen(context, route.tool)


def _bin(context: ScreenContext, _route: routes.Route) -> Screen:
    return BinScreen(context)


def _settings(context: ScreenContext, _route: routes.Route) -> Screen:
    return SettingsScreen(context)


def _kinds(context: ScreenContext, _route: routes.Route) -> Screen:
    return KindsScreen(context)


def _backups(context: ScreenContext, _route: routes.Route) -> Screen:
    return BackupsScreen(context)


def _views_missing(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.ViewsMissingRoute)  # noqa: S101 -- the table below pairs them
    return ViewsMissingScreen(context, route.batch)


def _sheet(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.SheetRoute)  # noqa: S101 -- the table below pairs them
    return SheetScreen(context, route.tools)


def _cards(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.CardsRoute)  # noqa: S101 -- the table below pairs them
    tools = route.tools
    if route.batch is not None:
        tools = context.catalog.tools.find(ToolFilter(batch=route.batch))
    return CardsScreen(context, tools)


def _tool(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.ToolRoute)  # noqa: S101 -- the table below pairs them
    return ToolScreen(context, route.tool, section=route.section)


def _dating(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.DatingRoute)  # noqa: S101 -- the table below pairs them
    return DatingScreen(context, route.tool)


def _photograph(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.PhotographRoute)  # noqa: S101 -- the table below pairs them
    screen = PhotographScreen(context, route.photograph)
    screen.arrive(route.outline, route.message)
    if route.measure:
        screen.measure()
    return screen


def _pair(context: ScreenContext, route: routes.Route) -> Screen:
    assert isinstance(route, routes.PairRoute)  # noqa: S101 -- the table below pairs them
    return PairScreen(context, route.tool, route.pair)


_SCREEN_MAKERS: dict[type[routes.Route], ScreenMaker] = {
    routes.BatchesRoute: _batches,
    routes.BatchRoute: _batch,
    routes.ToolRoute: _tool,
    routes.PhotographRoute: _photograph,
    routes.PairRoute: _pair,
    routes.ImportRoute: _import,
    routes.HistoryRoute: _history,
    routes.BinRoute: _bin,
    routes.SettingsRoute: _settings,
    routes.KindsRoute: _kinds,
    routes.BackupsRoute: _backups,
    routes.ViewsMissingRoute: _views_missing,
    routes.SheetRoute: _sheet,
    routes.CardsRoute: _cards,
    routes.DatingRoute: _dating,
}
