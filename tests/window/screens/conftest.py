"""What a screen is given, on a real catalog."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from planebench.catalog import continuous_import
from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.values import Tool
from planebench.window.context import ScreenContext
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import JobDesk
from planebench.window.notices import Notice, Notices
from planebench.window.pieces.screen import Screen
from planebench.window.screens.photo_import.photo_import_screen import PhotoImportScreen


@pytest.fixture
def given(empty_catalog: Catalog, desk: JobDesk, theme: object) -> ScreenContext:
    """Return an empty catalog, a desk, edits and notices."""
    return ScreenContext(catalog=empty_catalog, jobs=desk, edits=EditSignal(), notices=Notices())


@pytest.fixture
def given_sample(sample: Catalog, given: ScreenContext) -> ScreenContext:
    """Return the same on the sample catalog."""
    return replace(given, catalog=sample)


@pytest.fixture
def told(given: ScreenContext) -> list[Notice]:
    """Collect what the person is told."""
    heard: list[Notice] = []
    given.notices.show_with(heard.append)
    given.jobs.troubled.connect(given.notices.trouble)
    return heard


@pytest.fixture
def show(qtbot: QtBot, settled: Callable[[], None]) -> Callable[[Screen], Screen]:
    """Show a screen and wait until it has asked all it wants to know."""

    def shown(place: Screen) -> Screen:
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
        qtbot.waitUntil(lambda: not desk.open_jobs, timeout=60_000)

    return wait


@pytest.fixture
def look(given: ScreenContext, tool_id: ToolId, settled: Callable[[], None]) -> Callable[[], Tool]:
    """Wait for what is under way and give the tool as the catalog has it."""

    def looked() -> Tool:
        settled()
        return given.catalog.tools.one(tool_id)

    return looked


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a camera's folder; a folder that is watched is looked at every tenth of a second."""
    monkeypatch.setattr(continuous_import, "LOOK_SECONDS", 0.1)
    made = tmp_path / "camera"
    made.mkdir()
    return made


@pytest.fixture
def watching(
    given: ScreenContext, batch: BatchId, folder: Path, show: Callable[[Screen], Screen]
) -> PhotoImportScreen:
    """Return a screen on which that folder was chosen to be watched."""
    screen = PhotoImportScreen(given, batch)
    show(screen)
    screen.start_page.watch_wanted.emit(folder)
    return screen


@pytest.fixture
def until(qtbot: QtBot) -> Callable[[Callable[[], bool]], None]:
    """Wait until something holds."""
    return lambda holds: qtbot.waitUntil(holds, timeout=20_000)
