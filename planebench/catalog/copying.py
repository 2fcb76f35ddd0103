"""Copies files so that what was written is known to be what was read."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from planebench.catalog.files import create, hash_of_file, is_inside, make_folder, open_plain
from planebench.catalog.findings import Finding
from planebench.errors import CatalogError

_CHUNK = 1 << 20
_AT_ONCE = 4
_FOREIGN = "Do not trust this catalog if it came from someone else; its other files were copied."
_DAMAGED = "Restore it from another backup, if there is one."


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyOrder:
    """A file to copy, by its path within both folders; `sha256` is what it should hold, if known.

    `name` is what a person calls it.
    """

    path: str
    size: int
    sha256: str | None
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CopiedFile:
    """A file as it was copied, flushed and read again."""

    path: str
    size: int
    sha256: str


def copy_all(
    wanted: Sequence[CopyOrder], source: Path, target: Path, *, report: Callable[[int, int], None]
) -> tuple[list[CopiedFile], list[Finding]]:
    """Copy files from folder to folder; one that is missing or damaged is left out and reported.

    Raises CatalogError when the target's disk refuses, or has too little room before any is copied.
    """
    _refuse_without_room(target, sum(file.size for file in wanted))
    copied: list[CopiedFile] = []
    findings: list[Finding] = []
    with ThreadPoolExecutor(_AT_ONCE) as pool:
        answers = pool.map(lambda file: _copy(file, source, target), wanted)
        for done, answer in enumerate(answers, 1):
            report(done, len(wanted))
            if isinstance(answer, CopiedFile):
                copied.append(answer)
            else:
                findings.append(answer)
    return copied, findings


def disk_refuses(target: Path, error: OSError) -> CatalogError:
    """Return the error for a folder that cannot be written."""
    return CatalogError(
        f"{target.name} could not be written: {error.strerror or error}.",
        remedy="Free some space or choose another disk, then try again. Nothing was changed.",
        subject=str(target),
    )


def _refuse_without_room(target: Path, needed: int) -> None:
    free = shutil.disk_usage(target).free
    if free < needed:
        raise CatalogError(
            f"This needs {needed / 1e6:,.0f} MB and the disk has {free / 1e6:,.0f} MB free.",
            remedy="Free some space or choose another disk, then try again. Nothing was changed.",
            subject=str(target),
        )


def _copy(file: CopyOrder, source: Path, target: Path) -> CopiedFile | Finding:
    if not is_inside(file.path):
        happened = "The database names this file outside the catalog’s own folders."
        return Finding(subject=file.name, happened=happened, remedy=_FOREIGN)
    write_to = target / file.path
    try:
        with open_plain(source / file.path, within=source) as stream:
            size, sha256 = _copy_bytes(stream, write_to, target)
    except OSError as error:
        happened = f"This file cannot be read: {error.strerror}."
        return Finding(subject=file.name, happened=happened, remedy=_DAMAGED)
    if file.sha256 not in {None, sha256}:
        write_to.unlink()
        happened = "This file changed after it was written, so it was left out."
        return Finding(subject=file.name, happened=happened, remedy=_DAMAGED)
    if hash_of_file(write_to) != sha256:
        raise CatalogError(
            f"The disk did not store {file.name} correctly.",
            remedy="Choose another disk: this one may be failing. Nothing was changed.",
            subject=str(write_to),
        )
    return CopiedFile(path=file.path, size=size, sha256=sha256)


def _copy_bytes(stream: BinaryIO, write_to: Path, target: Path) -> tuple[int, str]:
    """Return the size and SHA-256 of what was copied; raise CatalogError if it cannot be written.

    OSError is left to reading.
    """
    digest = hashlib.sha256()
    size = 0
    try:
        make_folder(write_to.parent)
        with create(write_to) as copy:
            while piece := _read(stream):
                digest.update(piece)
                size += copy.write(piece)
    except _ReadError as error:
        raise error.cause from error
    except OSError as error:
        raise disk_refuses(target, error) from error
    return size, digest.hexdigest()


class _ReadError(Exception):
    """Carries an error of reading past the handler of errors of writing."""

    def __init__(self, cause: OSError) -> None:
        super().__init__(str(cause))
        self.cause = cause


def _read(stream: BinaryIO) -> bytes:
    try:
        return stream.read(_CHUNK)
    except OSError as error:
        raise _ReadError(error) from error
