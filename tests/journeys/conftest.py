"""The whole window, as it is built when the program starts, driven by key and click."""

from __future__ import annotations

import datetime as dt
import gc
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.window.main_window import MainWindow
from planebench.window.pieces.screen import Screen
from planebench.window.program import program_services
from planebench.window.thread_switching import tune_threads


def now() -> dt.datetime:
    return dt.datetime.now(dt.UTC)


@pytest.fixture
def pace() -> Iterator[None]:
    """Let threads take turns as the program itself does; afterwards as before."""
    turn, collecting = sys.getswitchinterval(), gc.get_threshold()
    tune_threads()
    yield
    sys.setswitchinterval(turn)
    gc.set_threshold(*collecting)
    gc.unfreeze()


@pytest.fixture
def start(qapp: QApplication, tmp_path: Path) -> Iterator[Callable[[], MainWindow]]:
    """Start the program's window; one that was started before is closed first."""
    started: list[MainWindow] = []

    def begin() -> MainWindow:
        while started:
            end(started.pop())
        ways_in = program_services(now, home=tmp_path, cache=tmp_path / "cache")
        workshop = MainWindow(qapp, ways_in, ProgramSettingsFile(tmp_path / "settings.json"))
        workshop.choose_theme("light")
        workshop.frame.resize(1440, 900)
        workshop.frame.show()
        started.append(workshop)
        return workshop

    yield begin
    while started:
        end(started.pop())


def end(workshop: MainWindow) -> None:
    ended = workshop.close()
    workshop.frame.close()
    # What dresses the application would go on doing so beside that of the next start.
    for part in (workshop.theme._ring, workshop.theme, workshop.frame, workshop):
        part.deleteLater()
    # Now, not some time later: what stays alive is dressed anew with each start.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert ended


@pytest.fixture
def workshop(start: Callable[[], MainWindow]) -> MainWindow:
    return start()


@pytest.fixture
def settled(qtbot: QtBot) -> Callable[[MainWindow], Screen]:
    """Wait until nothing is under way; give the place where one is then."""

    def wait(workshop: MainWindow) -> Screen:
        qtbot.waitUntil(lambda: not workshop.jobs.open_jobs, timeout=60_000)
        place = workshop.current_screen
        assert place is not None
        return place

    return wait


@pytest.fixture
def choose(settled: Callable[[MainWindow], Screen]) -> Callable[..., Screen]:
    """Choose an act in a menu by its words; give the place where one is then."""

    def chosen(workshop: MainWindow, menu: str, words: str) -> Screen:
        acts = {act.text().replace("&", ""): act for act in workshop.frame.menu(menu).actions()}
        acts[words].trigger()
        return settled(workshop)

    return chosen
