"""Which screen stands at the end of each way; the one table of screens."""

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
from planebench.window.screens.intake.intake_screen import IntakeScreen
from planebench.window.screens.kinds.kinds_screen import KindsScreen
from planebench.window.screens.pair.pair_screen import PairScreen
from planebench.window.screens.photograph.photograph_screen import PhotographScreen
from planebench.window.screens.settings.settings_screen import SettingsScreen
from planebench.window.screens.sheet.sheet_screen import SheetScreen
from planebench.window.screens.tool.tool_screen import ToolScreen
from planebench.window.screens.views_missing.views_missing_screen import ViewsMissingScreen

Maker = Callable[[ScreenContext, routes.Route], Screen]


def screen_for(given: ScreenContext, way: routes.Route) -> Screen:
    """Make the screen at the end of a way. Raises KeyError for a way that leads nowhere."""
    return _MAKERS[type(way)](given, way)


def _batches(given: ScreenContext, _way: routes.Route) -> Screen:
    return BatchesScreen(given)


def _batch(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToBatch)  # noqa: S101 -- the table below pairs them
    return BatchScreen(given, way.batch, words=way.words)


def _intake(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToIntake)  # noqa: S101 -- the table below pairs them
    screen = IntakeScreen(given, way.batch, way.tool, way.paths)
    if way.watch:
        screen.ask_watch()
    if way.waiting:
        screen.show_waiting()
    return screen


def _history(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToHistory)  # noqa: S101 -- the table below pairs them
    return HistoryScreen(given, way.tool)


def _bin(given: ScreenContext, _way: routes.Route) -> Screen:
    return BinScreen(given)


def _settings(given: ScreenContext, _way: routes.Route) -> Screen:
    return SettingsScreen(given)


def _kinds(given: ScreenContext, _way: routes.Route) -> Screen:
    return KindsScreen(given)


def _backups(given: ScreenContext, _way: routes.Route) -> Screen:
    return BackupsScreen(given)


def _views_missing(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToViewsMissing)  # noqa: S101 -- the table below pairs them
    return ViewsMissingScreen(given, way.batch)


def _sheet(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToSheet)  # noqa: S101 -- the table below pairs them
    return SheetScreen(given, way.tools)


def _cards(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToCards)  # noqa: S101 -- the table below pairs them
    tools = way.tools
    if way.batch is not None:
        tools = given.catalog.tools.find(ToolFilter(batch=way.batch))
    return CardsScreen(given, tools)


def _tool(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToTool)  # noqa: S101 -- the table below pairs them
    return ToolScreen(given, way.tool, section=way.section)


def _dating(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToDating)  # noqa: S101 -- the table below pairs them
    return DatingScreen(given, way.tool)


def _photograph(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToPhotograph)  # noqa: S101 -- the table below pairs them
    screen = PhotographScreen(given, way.photograph)
    screen.arrive(way.outline, way.said)
    return screen


def _pair(given: ScreenContext, way: routes.Route) -> Screen:
    assert isinstance(way, routes.ToPair)  # noqa: S101 -- the table below pairs them
    return PairScreen(given, way.tool, way.pair)


_MAKERS: dict[type[routes.Route], Maker] = {
    routes.ToBatches: _batches,
    routes.ToBatch: _batch,
    routes.ToTool: _tool,
    routes.ToPhotograph: _photograph,
    routes.ToPair: _pair,
    routes.ToIntake: _intake,
    routes.ToHistory: _history,
    routes.ToBin: _bin,
    routes.ToSettings: _settings,
    routes.ToKinds: _kinds,
    routes.ToBackups: _backups,
    routes.ToViewsMissing: _views_missing,
    routes.ToSheet: _sheet,
    routes.ToCards: _cards,
    routes.ToDating: _dating,
}
