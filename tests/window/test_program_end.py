"""The end of the program: it says nothing, whatever was loaded."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

OPEN_AND_QUIT = """
import datetime as dt
import sys
from PySide6.QtCore import QTimer
from planebench.photo import card_search
from planebench.window import program

tune_threads = program.tune_threads

def tune_and_quit(app):
    QTimer.singleShot(300, app.quit)
    return tune_threads(app)

program.tune_threads = tune_and_quit
sys.exit(program.run_window(None, clock=lambda: dt.datetime.now(dt.UTC)))
"""


def test_quitting_prints_nothing(tmp_path: Path) -> None:
    folders = {name: str(tmp_path) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME")}

    ended = subprocess.run(
        [sys.executable, "-c", OPEN_AND_QUIT],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
        env={**os.environ, **folders, "QT_QPA_PLATFORM": "offscreen"},
    )

    said = [line for line in ended.stderr.splitlines() if "This plugin does not" not in line]
    assert (ended.returncode, said) == (0, [])
