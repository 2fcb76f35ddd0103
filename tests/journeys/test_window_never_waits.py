"""While 500 photographs come in, the window's thread goes on turning.

A watcher on that thread measures the time between two turns of its event loop. The aim is that no
gap is over 50 ms. A test machine of two cores makes gaps of its own, and they are left out so:
time in which the thread stood in line for a core (the system counts it, on Linux) is taken off
each gap; and the largest gap that the same watcher sees beside two plain threads, which pack
bytes and count, before and after the intake, is added to the 50 ms. Whatever else the machine does
only makes gaps larger, so that of up to three such intakes the best one counts.
"""

from __future__ import annotations

import os
import threading
import time
import zlib
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer

from planebench.window import routes
from planebench.window.screens.photo_import.photo_import_screen import PhotoImportScreen
from tests.catalog.shots import shot

PHOTOGRAPHS = 500
AIM = 0.050
TRIES = 3
CALIBRATED_FOR = 2.0


class Watcher:
    """Gaps between turns of the event loop, in seconds, without the time in line for a core."""

    def __init__(self) -> None:
        self.gaps: list[float] = []
        self._line = self._stood_in_line()
        self._last = time.perf_counter()
        self._timer = QTimer()
        self._timer.setInterval(2)
        self._timer.timeout.connect(self._turn)
        self._timer.start()

    def stop(self) -> float:
        """Return the largest gap."""
        self._timer.stop()
        return max(self.gaps)

    def _turn(self) -> None:
        now, line = time.perf_counter(), self._stood_in_line()
        self.gaps.append(now - self._last - (line - self._line))
        self._last, self._line = now, line

    @staticmethod
    def _stood_in_line() -> float:
        file = Path(f"/proc/self/task/{threading.get_native_id()}/schedstat")
        try:
            return int(file.read_text().split()[1]) / 1e9
        except OSError:
            return 0.0


def noise(qtbot) -> float:
    """Return the largest gap beside two plain threads."""
    over = threading.Event()

    def pack() -> None:
        data = os.urandom(200_000)
        while not over.is_set():
            zlib.compress(data)
            sum(range(3000))

    plain = [threading.Thread(target=pack) for _ in range(2)]
    for thread in plain:
        thread.start()
    watcher = Watcher()
    qtbot.wait(int(CALIBRATED_FOR * 1000))
    largest = watcher.stop()
    over.set()
    for thread in plain:
        thread.join()
    return largest


def card(folder: Path, first: int) -> Path:
    for number in range(first, first + PHOTOGRAPHS):
        shot(folder / f"PL-{number:04}.jpg", seed=number, size=(480, 320))
    return folder


@pytest.mark.usefixtures("pace")
def test_no_gap_is_over_50_ms_while_500_photographs_come_in(
    qtbot, workshop, empty_folder, tmp_path, settled
):
    workshop.open_catalog(empty_folder)
    settled(workshop)
    told = []
    for turn in range(TRIES):
        batch = workshop.catalog.batches.add(code=f"LOT{turn}").id
        folder = card(tmp_path / f"card {turn}", first=turn * PHOTOGRAPHS)
        workshop.go(routes.ImportRoute(batch=batch))
        screen = settled(workshop)
        assert isinstance(screen, PhotoImportScreen)

        largest, allowed = watched_intake(qtbot, workshop, screen, folder)

        told.append(f"largest gap {largest * 1000:.0f} ms, {allowed * 1000:.0f} allowed")
        assert len(workshop.catalog.photographs.unfiled(batch)) == PHOTOGRAPHS
        if largest <= allowed:
            break
        workshop.up()
    print(told)  # noqa: T201 -- shown with -s
    assert largest <= allowed, told


def watched_intake(qtbot, workshop, screen: PhotoImportScreen, folder: Path) -> tuple[float, float]:
    """Import a folder; return the largest gap while it comes in and the one allowed, in seconds."""
    before = noise(qtbot)
    # Showing the page of progress lays it out once, on the click that begins the import.
    screen.take((folder,))
    watcher = Watcher()
    qtbot.waitUntil(lambda: not screen.busy and not workshop.jobs.open_jobs, timeout=200_000)
    largest = watcher.stop()
    return largest, AIM + max(before, noise(qtbot))
