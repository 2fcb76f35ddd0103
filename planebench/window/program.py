"""Starts Qt, builds the main window, and ends both in order."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from PySide6.QtCore import QSize, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from planebench.catalog.catalog import Catalog
from planebench.catalog.opening import DATABASE
from planebench.catalog.program_settings import ProgramSettings, ProgramSettingsFile, usual_place
from planebench.catalog.reference import sample_source
from planebench.catalog.sample import SAMPLE_NAME, make_sample
from planebench.catalog.store import Clock
from planebench.window.main_window import MainWindow, ProgramServices
from planebench.window.thread_switching import tune_threads

_FIRST_SIZE = QSize(1440, 900)
_TITLE_BAR, _EDGES = 40, 16


def run_window(folder: Path | None, *, clock: Clock) -> int:
    """Run the program with its window until it is closed; return Qt's exit code."""
    settings_file = ProgramSettingsFile()
    settings = settings_file.read()
    # Everything grows with the text: at a larger size of text alone, words would be cut off.
    os.environ.setdefault("QT_SCALE_FACTOR", str(settings.text_size / 100))
    app = QApplication(sys.argv[:1])
    app.setApplicationName("Planebench")
    app.setDesktopFileName("planebench")
    window = MainWindow(app, program_services(clock), settings_file)
    room = QGuiApplication.primaryScreen().availableGeometry().size()
    size, maximized = opening_size(room, settings)
    window.frame.resize(size)
    if maximized:
        window.frame.showMaximized()
    else:
        window.frame.show()
    if folder is not None:
        QTimer.singleShot(0, window, lambda: window.open_catalog(folder))
    collector = tune_threads(app)
    code = app.exec()
    window.close()
    collector.close()
    return code


def program_services(
    clock: Clock, *, home: Path | None = None, cache: Path | None = None
) -> ProgramServices:
    """Return how catalogs are opened and created; `home` is the folder of the sample."""

    def sample(who: str) -> Catalog:
        place = (home or usual_place()) / SAMPLE_NAME
        if not (place / DATABASE).is_file():
            place.parent.mkdir(parents=True, exist_ok=True)
            make_sample(place, source=sample_source(), cache=cache)
        return Catalog.open(place, who=who, clock=clock, cache=cache)

    return ProgramServices(
        open=lambda folder, who: Catalog.open(folder, who=who, clock=clock, cache=cache),
        make=lambda folder, who: Catalog.make(folder, who=who, clock=clock, cache=cache),
        sample=sample,
        clock=clock,
    )


def opening_size(room: QSize, settings: ProgramSettings) -> tuple[QSize, bool]:
    """Return the window's size on a screen with this room, and whether it is maximized.

    It is the last size where that fits. The first time, where the usual size and the system's
    title bar do not fit, the window is maximized: its status bar must not end up off the screen.
    """
    most = room - QSize(_EDGES, _TITLE_BAR)
    if len(settings.window) == 2:  # noqa: PLR2004 (a width and a height)
        return QSize(*settings.window).boundedTo(most), settings.maximized
    size = _FIRST_SIZE.boundedTo(most)
    return size, size != _FIRST_SIZE
