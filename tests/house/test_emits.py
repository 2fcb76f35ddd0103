"""Holds the pinned PySide6 to what version 6.12.0 breaks on Python 3.10 and 3.11.

There each `Signal.emit` loses one reference to True, until the interpreter aborts; so this runs
in a child process.
"""

from __future__ import annotations

import subprocess
import sys

EMITS = """
import sys
from PySide6.QtCore import QCoreApplication, QObject, QThreadPool, Signal

class Speaker(QObject):
    spoke = Signal(object)

app = QCoreApplication([])
speaker, heard = Speaker(), []
speaker.spoke.connect(heard.append)
held = sys.getrefcount(True), sys.getrefcount(None)
for number in range(5000):
    speaker.spoke.emit(number)
pool = QThreadPool()
for _ in range(500):
    pool.start(lambda: None)
pool.waitForDone()
now = sys.getrefcount(True), sys.getrefcount(None)
print(len(heard), min(new - old for new, old in zip(now, held)) > -50)
"""


def test_five_thousand_signals_and_five_hundred_jobs_survive() -> None:
    child = subprocess.run(
        [sys.executable, "-c", EMITS], capture_output=True, text=True, check=False, timeout=120
    )

    assert (child.returncode, child.stderr) == (0, "")
    assert child.stdout.split() == ["5000", "True"]
