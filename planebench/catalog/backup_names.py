"""The dated copies of a database by their names, and which of them to restore."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

NAME_FORM = "%Y-%m-%d-%H%M%S"
_NAME = re.compile(r"(\d{4}-\d\d-\d\d-\d{6})\.db")


def dated_backups(folder: Path) -> dict[dt.datetime, Path]:
    """Return a folder's dated copies by the wall clock's time in their names."""
    if not folder.is_dir():
        return {}
    named = ((_NAME.fullmatch(path.name), path) for path in folder.iterdir())
    return {
        # The wall clock of the machine that wrote it, as people read it in the name.
        dt.datetime.strptime(match[1], NAME_FORM): path  # noqa: DTZ007 -- compared with wall clocks only
        for match, path in named
        if match is not None
    }


def advice(catalog: Path) -> str:
    """Return what to do about a damaged database: which backup to restore, and how."""
    newest = max(dated_backups(catalog / "backups").items(), default=None)
    if newest is None:
        return (
            "Restore your latest backup into a new folder; the photographs are safe where they are."
        )
    return (
        f"Restore backups/{newest[1].name} into a new folder (planebench restore, or Backups in "
        "the window); the photographs are taken along."
    )
