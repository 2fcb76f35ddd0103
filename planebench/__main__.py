"""Builds the program and hands its parts down: a command without a window, or the window."""

from __future__ import annotations

import datetime as dt
import logging
import sys
import warnings
from pathlib import Path

from planebench.cli.app import COMMANDS, refuse, run


def main() -> int:
    """Start the program: `planebench [CATALOG]` opens the window, `planebench COMMAND` none."""
    logging.basicConfig(level=logging.WARNING, format="%(name)s: %(message)s")
    # What Pillow minds about a camera's notes is passed over, and nothing for a person to read.
    warnings.filterwarnings("ignore", category=UserWarning, module="PIL")
    logging.getLogger("PIL").setLevel(logging.ERROR)
    words = sys.argv[1:]
    commands = {command.name for command in COMMANDS}
    if not words:
        return open_window(None)
    if words[0] in commands or words[0].startswith("-"):
        return run(words)
    if len(words) == 1 and is_place(words[0]):
        return open_window(Path(words[0]).expanduser())
    return refuse(words[0])


def is_place(word: str) -> bool:
    """Return whether a word names a folder rather than a mistyped command.

    One that is written as a path is a place even where nothing stands there: the window says so.
    """
    return Path(word).expanduser().exists() or any(mark in word for mark in ("/", "\\", "~"))


def clock() -> dt.datetime:
    """Read the clock; the rest of the program is told the time."""
    return dt.datetime.now(dt.UTC).astimezone()  # noqa: TID251 -- the edge where the clock is read


def open_window(folder: Path | None) -> int:
    """Open the window, on a catalog when one is named; return the exit code."""
    # Qt takes its time and is not there on every machine that runs commands alone.
    from planebench.window.program import run_window  # noqa: PLC0415 - as said above

    return run_window(folder, clock=clock)


if __name__ == "__main__":
    sys.exit(main())
