"""Copies files so that what was written is known to be what was read."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from planebench.catalog.findings import Finding
from planebench.catalog.recovery import hash_of_file
from planebench.errors import CatalogError

_CHUNK = 1 << 20
_AT_ONCE = 4
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


def flush(path: Path) -> None:
    """Flush a written file to the disk."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


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
    read_from, write_to = source / file.path, target / file.path
    try:
        stream = read_from.open("rb")
    except OSError as error:
        happened = f"This file is missing: {error.strerror}."
        return Finding(subject=file.name, happened=happened, remedy=_DAMAGED)
    reckoner = hashlib.sha256()
    size = 0
    with stream:
        try:
            write_to.parent.mkdir(parents=True, exist_ok=True)
            with write_to.open("xb") as copy:
                while piece := stream.read(_CHUNK):
                    reckoner.update(piece)
                    size += copy.write(piece)
                copy.flush()
                os.fsync(copy.fileno())
        except OSError as error:
            raise disk_refuses(target, error) from error
    sha256 = reckoner.hexdigest()
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
