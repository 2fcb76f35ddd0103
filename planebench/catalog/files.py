"""Reads and writes files so that links lead nowhere, nothing is half written, and it is private."""

from __future__ import annotations

import hashlib
import os
import re
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from io import BufferedReader, BufferedWriter
from pathlib import Path, PurePosixPath, PureWindowsPath
from threading import get_ident

PART_SUFFIX = ".part"
# Prices, buyers' names and addresses are nobody else's business on a shared machine.
FILE_MODE, FOLDER_MODE = 0o600, 0o700
# Systems without these (Windows) neither follow POSIX links nor have pipes among files.
_NO_LINK: int = getattr(os, "O_NOFOLLOW", 0)
_NO_WAIT: int = getattr(os, "O_NONBLOCK", 0)
_BINARY: int = getattr(os, "O_BINARY", 0)
_NAME = re.compile(r"[^\x00-\x1f/\\:]{1,255}")
# Ours end with the process that writes them: NAME.PROCESS-THREAD.part
_PART_OF = re.compile(r".*\.(\d+)-\d+\.part")


def is_plain_name(name: str) -> bool:
    """Return whether a name from a database or list names a file in a folder, and nowhere else."""
    return bool(_NAME.fullmatch(name)) and name not in {".", ".."}


def is_inside(path: str) -> bool:
    """Return whether a relative path from a list stays within the folder it is taken from."""
    if PurePosixPath(path).is_absolute() or PureWindowsPath(path).drive:
        return False
    return bool(path) and all(is_plain_name(part) for part in path.split("/"))


@contextmanager
def open_plain(path: Path, *, within: Path | None = None) -> Iterator[BufferedReader]:
    """Open a regular file for reading; raise OSError for a link, a pipe, a device or a folder.

    A pipe is not waited for. With `within`, folders on the way that are links out of that folder
    are refused too.
    """
    if within is not None and not path.parent.resolve().is_relative_to(within.resolve()):
        raise OSError(0, "a link leads out of the catalog’s folder", str(path))
    handle = os.open(path, os.O_RDONLY | _NO_LINK | _NO_WAIT | _BINARY)
    with os.fdopen(handle, "rb") as stream:
        if not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
            raise OSError(0, "it is not a regular file", str(path))
        yield stream


def hash_of_file(path: Path, *, within: Path | None = None) -> str:
    """Return the SHA-256 of a regular file as 64 hexadecimal digits; raise OSError like reading."""
    with open_plain(path, within=within) as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def write_whole(path: Path, data: bytes) -> None:
    """Write a file beside its place, flush it and put it there: whole, or not at all.

    Raises OSError when the disk cannot be written; then nothing is left over and what stood there
    before still does.
    """
    part = part_of(path)
    try:
        with create(part) as file:
            file.write(data)
        part.replace(path)
    except OSError:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise
    flush_folder(path.parent)


@contextmanager
def create(path: Path) -> Iterator[BufferedWriter]:
    """Make a new file, private, and flush it at the end; raise OSError when its name is taken."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK | _BINARY, FILE_MODE)
    with os.fdopen(handle, "wb") as file:
        yield file
        file.flush()
        os.fsync(file.fileno())


def part_of(path: Path) -> Path:
    """Return where this thread writes a file or folder before it is put in its place."""
    return path.with_name(f"{path.name}.{os.getpid()}-{get_ident()}{PART_SUFFIX}")


def make_folder(path: Path) -> None:
    """Make a folder and those above it, open to this account alone."""
    path.mkdir(parents=True, exist_ok=True, mode=FOLDER_MODE)


def flush_file(path: Path) -> None:
    """Flush a written file to the disk."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def flush_folder(folder: Path) -> None:
    """Flush a folder's own entries, where the system knows how (POSIX)."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def is_left_over(path: Path) -> bool:
    """Return whether a name is that of a half-written file or folder whose program has ended.

    The names hold a process of this machine; one that runs, under whatever program, is left alone.
    """
    found = _PART_OF.fullmatch(path.name)
    return found is not None and not is_running(int(found[1]))


def is_running(process: int) -> bool:
    """Return whether a process of this machine runs."""
    if process == os.getpid():
        return True
    if os.name != "posix":
        # Asking Windows by the same call would end the process: taken to run, so nothing is swept.
        return True
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        return True
    return True
