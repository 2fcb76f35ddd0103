"""Takes the README's pictures from the program itself, on the sample catalog.

Run `.venv/bin/python -m tests.journeys.take_screenshots`; it writes resources/screenshots/.
"""

from __future__ import annotations

import datetime as dt
import os
import tempfile
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from planebench.catalog.ids import ToolId
from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.catalog.tools import ToolFilter
from planebench.window import routes
from planebench.window.main_window import MainWindow
from planebench.window.program import program_services
from planebench.window.screens.photograph.outline_panels import OutlinesPanel

TARGET = Path(__file__).parents[2] / "resources" / "screenshots"
SIZE = (1600, 1000)
QUALITY = 88
SHOWN = "LOT7-003"
MEASURED = "LOT7-010"
LONGEST_MS = 60_000


def main() -> None:
    """Open the sample, go to each place, and keep what is seen there."""
    app = QApplication([])
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        workshop = MainWindow(
            app,
            program_services(lambda: dt.datetime.now(dt.UTC), home=home, cache=home / "cache"),
            ProgramSettingsFile(home / "settings.json"),
        )
        workshop.choose_theme("light")
        workshop.frame.resize(*SIZE)
        workshop.frame.show()
        workshop.open_sample()
        _settle(workshop)
        TARGET.mkdir(exist_ok=True)
        for name_of_place, way in _places(workshop):
            workshop.go(way)
            _settle(workshop)
            _look_at(workshop, name_of_place)
            _keep(workshop, name_of_place)
        workshop.choose_theme("dark")
        _settle(workshop)
        _keep(workshop, "dark")
        workshop.close()


def _places(workshop: MainWindow) -> list[tuple[str, routes.Route]]:
    catalog = workshop.catalog
    assert catalog is not None
    tool = catalog.tools.one(catalog.tools.find(ToolFilter(words=SHOWN))[0])
    measured = catalog.tools.one(catalog.tools.find(ToolFilter(words=MEASURED))[0])
    photo = next(photo.id for photo in measured.photographs if photo.view == "top")
    return [
        ("batch", routes.BatchRoute(batch=tool.batch)),
        ("photograph", routes.PhotographRoute(photograph=photo)),
        ("pair", routes.PairRoute(tool=tool.id, pair=tool.pairs[0].id)),
        ("dating", routes.DatingRoute(tool=tool.id)),
        ("sheet", routes.SheetRoute(tools=(tool.id,))),
        ("tool", routes.ToolRoute(tool=tool.id)),
    ]


def _look_at(workshop: MainWindow, place: str) -> None:
    if place == "batch":
        listing = workshop.current_screen.list
        rows = (listing.model.tool_at(row) for row in range(listing.model.rowCount()))
        listing.select_tool(next(row for row in rows if _number(workshop, row) == SHOWN))
        _settle(workshop)
    if place == "photograph":
        # The reading of an outline is seen when the outline is chosen.
        for row in workshop.current_screen.findChild(OutlinesPanel).rows.values():
            row.click()
            break
        _settle(workshop)


def _number(workshop: MainWindow, tool: ToolId | None) -> str:
    assert workshop.catalog is not None
    assert tool is not None
    return workshop.catalog.tools.one(tool).stock_number


def _keep(workshop: MainWindow, name: str) -> None:
    workshop.frame.grab().toImage().save(str(TARGET / f"{name}.jpg"), "JPEG", QUALITY)


def _settle(workshop: MainWindow) -> None:
    """Let the window work until no job is open and a moment more has gone by."""
    _pump(400)
    _pump_until(lambda: not workshop.jobs.open_jobs)
    _pump(600)


def _pump(milliseconds: int) -> None:
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def _pump_until(over: Callable[[], bool]) -> None:
    for _ in range(LONGEST_MS // 100):
        if over():
            return
        _pump(100)


if __name__ == "__main__":
    main()
