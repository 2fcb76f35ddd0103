"""The database is read and written on jobs alone, never on the window's thread."""

from __future__ import annotations

import datetime as dt
import threading
import traceback

import pytest
from sqlalchemy import Engine, event

from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.window.main_window import MainWindow
from planebench.window.program import program_services
from tests.house.every_screen import ROUTES, fullest


@pytest.fixture
def read_here():
    """List the places from which the window's thread asked the database."""
    found: list[str] = []

    def asked(*_details: object) -> None:
        if threading.current_thread() is threading.main_thread():
            frames = [one for one in traceback.extract_stack() if "planebench/" in one.filename]
            window = [one for one in frames if "/window/" in one.filename]
            if window:
                last = window[-1]
                found.append(f"{last.filename.split('planebench/')[-1]}:{last.lineno}: {last.line}")

    event.listen(Engine, "before_cursor_execute", asked)
    yield found
    event.remove(Engine, "before_cursor_execute", asked)


@pytest.fixture
def workshop(qtbot, qapp, sample, tmp_path):
    made = MainWindow(
        qapp,
        program_services(lambda: dt.datetime.now(dt.UTC), home=tmp_path, cache=tmp_path / "cache"),
        ProgramSettingsFile(tmp_path / "settings.json"),
    )
    qtbot.addWidget(made.frame)
    made.frame.show()
    yield made
    assert made.close()


def test_no_screen_asks_the_database_on_the_windows_thread(qtbot, workshop, sample, read_here):
    tool, folder = fullest(sample), sample.folder
    sample.close()
    workshop.open_catalog(folder)
    qtbot.waitUntil(lambda: workshop.catalog is not None, timeout=60_000)

    for route in ROUTES.values():
        workshop.go(route(tool))
        qtbot.wait(50)
        qtbot.waitUntil(lambda: not workshop.jobs.open_jobs, timeout=60_000)
    workshop._close_catalog()
    qtbot.waitUntil(lambda: not workshop.jobs.open_jobs, timeout=20_000)

    assert sorted(set(read_here)) == []
