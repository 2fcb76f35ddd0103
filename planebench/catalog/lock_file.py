"""The mark in a catalog's folder that says who has it open; the system lets go when they die."""

from __future__ import annotations

import datetime as dt
import json
import os
import socket
import sys
from contextlib import suppress
from pathlib import Path

from planebench.catalog.files import open_plain

IN_USE = ".in-use"
_LONGEST = 10_000  # bytes; ours have about 100
# Far beyond the words of the mark, so that others can read them while it is held.
_HELD_BYTE = 1 << 30
_NO_LINK: int = getattr(os, "O_NOFOLLOW", 0)

if sys.platform == "win32":
    import msvcrt

    def _take_alone(handle: int) -> bool:
        os.lseek(handle, _HELD_BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _share(handle: int) -> None:
        """Keep what is held: this system shares no single bytes."""

else:
    import fcntl

    def _take_alone(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            # Someone has it, or this disk holds nothing: then nobody is taken for dead.
            return False
        return True

    def _share(handle: int) -> None:
        with suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)


class LockFile:
    """A lock file, held until `release`; several programs of one machine can hold it.

    `is_alone` is set when nobody else had the catalog open at that moment, `was_left` when the
    last program died without releasing it and nobody else holds it.
    """

    def __init__(self, folder: Path, *, at: dt.datetime) -> None:
        self._path = folder / IN_USE
        was_there = self._path.exists()
        handle = os.open(self._path, os.O_RDWR | os.O_CREAT | _NO_LINK, 0o600)
        self._handle: int | None = handle
        self.is_alone = _take_alone(handle)
        self.was_left = self.is_alone and was_there
        # On a full disk the lock holds without its words.
        with suppress(OSError):
            _write(handle, at)
        _share(handle)

    def release(self) -> None:
        """Let go of the mark, once; the last to do so takes it away."""
        if self._handle is None:
            return
        handle, self._handle = self._handle, None
        if _take_alone(handle) and os.name == "posix":
            self._path.unlink(missing_ok=True)
        os.close(handle)
        if os.name != "posix":
            # Here a file goes only when nobody has it open: the last one's attempt counts.
            with suppress(OSError):
                self._path.unlink(missing_ok=True)


def _write(handle: int, at: dt.datetime) -> None:
    mark = {
        "machine": socket.gethostname(),
        "process": os.getpid(),
        "since": at.isoformat(timespec="minutes"),
    }
    os.lseek(handle, 0, os.SEEK_SET)
    os.ftruncate(handle, 0)
    os.write(handle, json.dumps(mark).encode("utf-8"))


def read_lock_file(folder: Path) -> dict[str, object]:
    """Return what the lock file says; empty when there is none."""
    try:
        with open_plain(folder / IN_USE) as stream:
            mark = json.loads(stream.read(_LONGEST).decode("utf-8"))
    except (OSError, ValueError):
        return {}
    return mark if isinstance(mark, dict) else {}
