"""Starts Qt, builds the workshop, and ends both in order."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QSize, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from planebench.catalog.catalog import Catalog
from planebench.catalog.opening import DATABASE
from planebench.catalog.preferences import PreferenceFile, usual_place
from planebench.catalog.reference import sample_source
from planebench.catalog.sample import SAMPLE_NAME, make_sample
from planebench.catalog.store import Clock
from planebench.window.main_window import MainWindow, ProgramServices
from planebench.window.thread_switching import tune_threads

_FIRST_SIZE = QSize(1440, 900)
_TITLE_BAR, _EDGES = 40, 16


def run_window(folder: Path | None, *, clock: Clock) -> int:
    """Run the program with its window until it is closed; return Qt's exit code."""
    app = QApplication(sys.argv[:1])
    app.setApplicationName("Planebench")
    app.setDesktopFileName("planebench")
    workshop = MainWindow(app, program_services(clock), PreferenceFile())
    size, whole = opening_size(QGuiApplication.primaryScreen().availableGeometry().size())
    workshop.frame.resize(size)
    if whole:
        workshop.frame.showMaximized()
    else:
        workshop.frame.show()
    if folder is not None:
        QTimer.singleShot(0, workshop, lambda: workshop.open_catalog(folder))
    tune_threads(app)
    code = app.exec()
    workshop.close()
    return code


def program_services(
    clock: Clock, *, home: Path | None = None, cache: Path | None = None
) -> ProgramServices:
    """Return the ways in which the workshop opens catalogs; `home` is where the sample stands."""

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


def opening_size(room: QSize) -> tuple[QSize, bool]:
    """Return the window's first size on a screen with this room, and whether it fills the screen.

    Where the usual size and the window's own title bar leave no room beside them, it fills it:
    its foot, which says what was written down, must not lie below the screen.
    """
    frame = QSize(_EDGES, _TITLE_BAR)
    size = _FIRST_SIZE.boundedTo(room - frame)
    return size, size != _FIRST_SIZE
