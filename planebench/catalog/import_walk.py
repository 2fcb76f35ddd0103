"""Finds the files to import: folders walked lazily, other files left out, loops of links cut."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from planebench.errors import FileError
from planebench.photo.formats import PICTURE_SUFFIXES, recognize

# So many entries of a folder are put in order at once; a folder of a million is not held whole.
CHUNK = 10_000
# What systems and cameras put among photographs (common practice, no source).
_NOT_FOR_PEOPLE = frozenset(
    {
        "thumbs.db",
        "desktop.ini",
        "$recycle.bin",
        "system volume information",
        "__macosx",
        "@eadir",
        "lost+found",
        "lost.dir",
    }
)
# Names of downloads and copies that are not whole yet (common practice, no source).
_UNFINISHED = frozenset({".part", ".partial", ".crdownload", ".download", ".tmp", ".filepart"})
_HIDDEN = stat.FILE_ATTRIBUTE_HIDDEN | stat.FILE_ATTRIBUTE_SYSTEM


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundFile:
    """A file to be imported; `trouble` when it, or the folder of that path, cannot be used."""

    path: Path
    trouble: FileError | None = None


class FileWalk:
    """Goes through files and folders, folder by folder in the order of names.

    A path that was named is always given; within folders hidden and system files, what is no
    picture, and the folder `leave_out` are not. `passed_over` counts the files left alone.
    """

    def __init__(self, paths: Iterable[Path], *, leave_out: Path | None = None) -> None:
        self._paths = tuple(paths)
        self._seen: set[tuple[int, int]] = set()
        self.skipped = 0
        if leave_out is not None:
            self._enter(leave_out)

    def __iter__(self) -> Iterator[FoundFile]:
        for path in self._paths:
            kind = _kind_of(path)
            if isinstance(kind, FileError):
                yield FoundFile(path=path, trouble=kind)
            elif stat.S_ISDIR(kind):
                yield from self._folder(path)
            elif stat.S_ISREG(kind):
                yield FoundFile(path=path)
            else:
                yield FoundFile(path=path, trouble=_no_file(path))

    def _folder(self, top: Path) -> Iterator[FoundFile]:
        waiting = [top]
        while waiting:
            folder = waiting.pop()
            if not self._enter(folder):
                continue
            inside: list[Path] = []
            try:
                for entry in _in_order(folder):
                    found = self._found(entry)
                    if isinstance(found, Path):
                        inside.append(found)
                    elif found is not None:
                        yield found
                    else:
                        self.skipped += 1
            except OSError as error:
                yield FoundFile(path=folder, trouble=_folder_trouble(folder, error))
            waiting.extend(reversed(inside))

    def _found(self, entry: os.DirEntry[str]) -> FoundFile | Path | None:
        """Return a folder to go into, a file to import, or None for what is skipped.

        A link that leads to itself is one file that cannot be read; the rest of its folder goes on.
        """
        path = Path(entry.path)
        try:
            if entry.is_dir():
                return path
            return FoundFile(path=path) if self._is_wanted(entry) else None
        except OSError:
            kind = _kind_of(path)
            return FoundFile(path=path, trouble=kind) if isinstance(kind, FileError) else None

    def _enter(self, folder: Path) -> bool:
        """Note a folder by its identity; False when it was entered before (a loop of links)."""
        try:
            found = folder.stat()
        except OSError:
            # Going through it will say what is wrong.
            return True
        identity = (found.st_dev, found.st_ino)
        new = identity not in self._seen
        self._seen.add(identity)
        return new

    @staticmethod
    def _is_wanted(entry: os.DirEntry[str]) -> bool:
        suffix = Path(entry.name).suffix.lower()
        if suffix in _UNFINISHED:
            return False
        if suffix in PICTURE_SUFFIXES:
            # A link to nowhere is wanted too, so that it is reported rather than skipped.
            return entry.is_file() or entry.is_symlink()
        return entry.is_file() and _is_picture(entry.path)


def printable(path: Path) -> str:
    """Return a path as text; bytes that are not UTF-8 become U+FFFD."""
    return os.fsencode(path).decode("utf-8", errors="replace")


def _in_order(folder: Path) -> Iterator[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        while chunk := list(islice(entries, CHUNK)):
            chunk.sort(key=lambda entry: entry.name)
            yield from (entry for entry in chunk if not _is_hidden(entry))


def _is_hidden(entry: os.DirEntry[str]) -> bool:
    if entry.name.startswith(".") or entry.name.lower() in _NOT_FOR_PEOPLE:
        return True
    if os.name != "nt":
        return False
    attributes: int = getattr(entry.stat(follow_symlinks=False), "st_file_attributes", 0)
    return bool(attributes & _HIDDEN)


def _is_picture(path: str) -> bool:
    """Tell a picture with an odd name by its first bytes."""
    try:
        with Path(path).open("rb") as stream:
            recognize(stream, name=path)
    except (FileError, OSError):
        return False
    return True


def _kind_of(path: Path) -> int | FileError:
    try:
        return path.stat().st_mode
    except FileNotFoundError:
        happened = "There is no such file or folder."
    except PermissionError:
        happened = "Your account is not allowed to open the folder of this file."
    except (OSError, ValueError) as error:
        # A name too long for the disk, or with a character that no name can have.
        happened = f"This cannot be the name of a file: {getattr(error, 'strerror', error)}."
    return FileError(
        happened,
        remedy="Check that the card or disk is connected and the name is right, then add it again.",
        subject=printable(path),
    )


def _no_file(path: Path) -> FileError:
    return FileError(
        "This is neither a file nor a folder.", remedy="Leave it out.", subject=printable(path)
    )


def _folder_trouble(folder: Path, error: OSError) -> FileError:
    if isinstance(error, PermissionError):
        return FileError(
            "Your account is not allowed to open this folder.",
            remedy="Allow your account to read it, then add it again.",
            subject=printable(folder),
        )
    return FileError(
        f"Only part of this folder could be read: {error.strerror or error}.",
        remedy="Check that the card or disk is still connected, then add it again.",
        subject=printable(folder),
    )
