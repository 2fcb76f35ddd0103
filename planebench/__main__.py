"""Starts the program: a command in the terminal, or the window."""

from __future__ import annotations

import datetime as dt
import logging
import sys
import warnings
from pathlib import Path

from planebench.cli.app import COMMANDS, FORMER_NAMES, refuse, run


def main() -> int:
    """Run `planebench [CATALOG]` (the window) or `planebench COMMAND`; return the exit code."""
    logging.basicConfig(level=logging.WARNING, format="%(name)s: %(message)s")
    # Pillow warns about odd Exif data that it then skips: nothing a person can act on.
    warnings.filterwarnings("ignore", category=UserWarning, module="PIL")
    logging.getLogger("PIL").setLevel(logging.ERROR)
    words = sys.argv[1:]
    commands = {command.name for command in COMMANDS} | FORMER_NAMES.keys()
    if not words:
        return open_window(None)
    if words[0] in commands or words[0].startswith("-"):
        return run(words)
    if len(words) == 1 and is_folder_name(words[0]):
        return open_window(Path(words[0]).expanduser())
    return refuse(words[0])


def is_folder_name(word: str) -> bool:
    """Return whether a word names a folder rather than a mistyped command.

    A word with a path separator does even if nothing is there: the window then says so.
    """
    return Path(word).expanduser().exists() or any(sign in word for sign in ("/", "\\", "~"))


def clock() -> dt.datetime:
    """Return the local time; the rest of the program gets the time from here."""
    return dt.datetime.now(dt.UTC).astimezone()  # noqa: TID251 -- the only place where the clock is read


def open_window(folder: Path | None) -> int:
    """Open the window, with a catalog if one is named; return the exit code."""
    # Qt takes time to load, and a machine that only runs commands may not have its libraries.
    from planebench.window.program import run_window  # noqa: PLC0415 - see above

    return run_window(folder, clock=clock)


if __name__ == "__main__":
    sys.exit(main())
