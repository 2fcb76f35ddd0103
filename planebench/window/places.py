"""Which screen stands at the end of each way; the one table of screens."""

from __future__ import annotations

from collections.abc import Callable

from planebench.window import ways
from planebench.window.given import Given
from planebench.window.pieces.place import Place
from planebench.window.screens.batch.widget import BatchScreen
from planebench.window.screens.batches.widget import BatchesScreen
from planebench.window.screens.intake.widget import IntakeScreen

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
    return IntakeScreen(given, way.batch, way.tool, way.paths)


_MAKERS: dict[type[ways.Way], Maker] = {
    ways.ToBatches: _batches,
    ways.ToBatch: _batch,
    ways.ToIntake: _intake,
}
