"""What a screen is given, on a real catalog."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from planebench.catalog import intake_watch
from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.values import Tool
from planebench.window.edits import Edits
from planebench.window.given import Given
from planebench.window.jobs import JobDesk
from planebench.window.notices import Notice, Notices
from planebench.window.pieces.place import Place
from planebench.window.screens.intake.widget import IntakeScreen


@pytest.fixture
def given(empty_catalog: Catalog, desk: JobDesk, theme: object) -> Given:
    """Give an empty catalog, a desk, edits and notices."""
    return Given(catalog=empty_catalog, jobs=desk, edits=Edits(), notices=Notices())


@pytest.fixture
def given_sample(sample: Catalog, given: Given) -> Given:
    """Give the same on the sample catalog."""
    return replace(given, catalog=sample)


@pytest.fixture
def told(given: Given) -> list[Notice]:
    """Collect what the person is told."""
    heard: list[Notice] = []
    given.notices.show_with(heard.append)
    given.jobs.troubled.connect(given.notices.trouble)
    return heard


@pytest.fixture
def show(qtbot: QtBot, settled: Callable[[], None]) -> Callable[[Place], Place]:
    """Show a screen and wait until it has asked all it wants to know."""

    def shown(place: Place) -> Place:
        qtbot.addWidget(place)
        place.resize(1280, 700)
        place.show()
        settled()
        return place

    return shown


@pytest.fixture
def settled(qtbot: QtBot, desk: JobDesk) -> Callable[[], None]:
    """Wait until nothing is under way."""

    def wait() -> None:
        qtbot.waitUntil(lambda: not desk.open_jobs, timeout=20_000)

    return wait


@pytest.fixture
def look(given: Given, tool_id: ToolId, settled: Callable[[], None]) -> Callable[[], Tool]:
    """Wait for what is under way and give the tool as the catalog has it."""

    def looked() -> Tool:
        settled()
        return given.catalog.tools.one(tool_id)

    return looked


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give a camera's folder; a folder that is watched is looked at every tenth of a second."""
    monkeypatch.setattr(intake_watch, "LOOK_SECONDS", 0.1)
    made = tmp_path / "camera"
    made.mkdir()
    return made


@pytest.fixture
def watching(
    given: Given, batch: BatchId, folder: Path, show: Callable[[Place], Place]
) -> IntakeScreen:
    """Give a screen on which that folder was chosen to be watched."""
    screen = IntakeScreen(given, batch)
    show(screen)
    screen.asking.watch_wanted.emit(folder)
    return screen


@pytest.fixture
def until(qtbot: QtBot) -> Callable[[Callable[[], bool]], None]:
    """Wait until something holds."""
    return lambda holds: qtbot.waitUntil(holds, timeout=20_000)
