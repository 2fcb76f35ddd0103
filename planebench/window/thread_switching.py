"""Keeps the window's thread responsive, and Qt's objects deleted on that thread."""

from __future__ import annotations

import gc
import sys

from PySide6.QtCore import QObject, QTimer

# As long as a thread may hold the interpreter while the window's waits for it; by itself Python
# gives it five times as much, and a few such waits in a row are felt.
_TURN_SECONDS = 0.001
# Collecting stops all threads. What is made in so many steps is looked through each time.
_COLLECT_AFTER = (20_000, 20, 50)
# Looking whether there is something to collect costs a microsecond; garbage may wait this long.
_LOOK_EVERY_MS = 250


class WindowThreadCollector(QObject):
    """Collects Python's garbage on the window's thread alone.

    Python collects on whichever thread happens to allocate. A widget that only a reference cycle
    kept alive would then be deleted on a job's thread, while Qt is using it on the window's, which
    ends the program now and then. So automatic collection is off while this object lives, and a
    timer on the window's thread collects by the same thresholds instead.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        gc.disable()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.collect_if_due)
        self._timer.start(_LOOK_EVERY_MS)

    def collect_if_due(self) -> int | None:
        """Collect the oldest generation that is over its threshold; return it, None if none is."""
        counts, thresholds = gc.get_count(), gc.get_threshold()
        for generation in (2, 1, 0):
            if counts[generation] > thresholds[generation]:
                gc.collect(generation)
                return generation
        return None

    def close(self) -> None:
        """Hand collecting back to Python, which lets go of everything at its end.

        What was kept out of collections would stay: its libraries then complain of leaks.
        """
        self._timer.stop()
        gc.unfreeze()
        gc.enable()


def tune_threads(parent: QObject | None = None) -> WindowThreadCollector:
    """Let threads take short turns and collect seldom; called once all modules are loaded.

    What lives by now lives to the end, so the collector need not look through it again. Return
    the collector, which must be kept as long as the window is open.
    """
    sys.setswitchinterval(_TURN_SECONDS)
    gc.collect()
    gc.freeze()
    gc.set_threshold(*_COLLECT_AFTER)
    return WindowThreadCollector(parent)
