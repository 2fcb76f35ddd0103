"""Which screen stands at the end of each way; the one table of screens."""

from __future__ import annotations

from collections.abc import Callable

from planebench.catalog.tools import Wanted
from planebench.window import ways
from planebench.window.given import Given
from planebench.window.pieces.place import Place
from planebench.window.screens.backups.widget import BackupsScreen
from planebench.window.screens.batch.widget import BatchScreen
from planebench.window.screens.batches.widget import BatchesScreen
from planebench.window.screens.bin.widget import BinScreen
from planebench.window.screens.cards.widget import CardsScreen
from planebench.window.screens.dating.widget import DatingScreen
from planebench.window.screens.history.widget import HistoryScreen
from planebench.window.screens.intake.widget import IntakeScreen
from planebench.window.screens.kinds.widget import KindsScreen
from planebench.window.screens.pair.widget import PairScreen
from planebench.window.screens.photograph.widget import PhotographScreen
from planebench.window.screens.settings.widget import SettingsScreen
from planebench.window.screens.sheet.widget import SheetScreen
from planebench.window.screens.tool.widget import ToolScreen
from planebench.window.screens.views_missing.widget import ViewsMissingScreen

Maker = Callable[[Given, ways.Way], Place]


def place_for(given: Given, way: ways.Way) -> Place:
    """Make the screen at the end of a way. Raises KeyError for a way that leads nowhere."""
    return _MAKERS[type(way)](given, way)


def _batches(given: Given, _way: ways.Way) -> Place:
    return BatchesScreen(given)


def _batch(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToBatch)  # noqa: S101 -- the table below pairs them
    return BatchScreen(given, way.batch, words=way.words)


def _intake(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToIntake)  # noqa: S101 -- the table below pairs them
    screen = IntakeScreen(given, way.batch, way.tool, way.paths)
    if way.watch:
        screen.ask_watch()
    if way.waiting:
        screen.show_waiting()
    return screen


def _history(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToHistory)  # noqa: S101 -- the table below pairs them
    return HistoryScreen(given, way.tool)


def _bin(given: Given, _way: ways.Way) -> Place:
    return BinScreen(given)


def _settings(given: Given, _way: ways.Way) -> Place:
    return SettingsScreen(given)


def _kinds(given: Given, _way: ways.Way) -> Place:
    return KindsScreen(given)


def _backups(given: Given, _way: ways.Way) -> Place:
    return BackupsScreen(given)


def _views_missing(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToViewsMissing)  # noqa: S101 -- the table below pairs them
    return ViewsMissingScreen(given, way.batch)


def _sheet(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToSheet)  # noqa: S101 -- the table below pairs them
    return SheetScreen(given, way.tools)


def _cards(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToCards)  # noqa: S101 -- the table below pairs them
    tools = way.tools
    if way.batch is not None:
        tools = given.catalog.tools.find(Wanted(batch=way.batch))
    return CardsScreen(given, tools)


def _tool(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToTool)  # noqa: S101 -- the table below pairs them
    return ToolScreen(given, way.tool, section=way.section)


def _dating(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToDating)  # noqa: S101 -- the table below pairs them
    return DatingScreen(given, way.tool)


def _photograph(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToPhotograph)  # noqa: S101 -- the table below pairs them
    screen = PhotographScreen(given, way.photograph)
    screen.arrive(way.outline, way.said)
    return screen


def _pair(given: Given, way: ways.Way) -> Place:
    assert isinstance(way, ways.ToPair)  # noqa: S101 -- the table below pairs them
    return PairScreen(given, way.tool, way.pair)


_MAKERS: dict[type[ways.Way], Maker] = {
    ways.ToBatches: _batches,
    ways.ToBatch: _batch,
    ways.ToTool: _tool,
    ways.ToPhotograph: _photograph,
    ways.ToPair: _pair,
    ways.ToIntake: _intake,
    ways.ToHistory: _history,
    ways.ToBin: _bin,
    ways.ToSettings: _settings,
    ways.ToKinds: _kinds,
    ways.ToBackups: _backups,
    ways.ToViewsMissing: _views_missing,
    ways.ToSheet: _sheet,
    ways.ToCards: _cards,
    ways.ToDating: _dating,
}
