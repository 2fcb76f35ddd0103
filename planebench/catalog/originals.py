"""The originals of photographs: their bytes, unchanged, under their SHA-256."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from threading import get_ident

from planebench.errors import FileError

PART_SUFFIX = ".part"


class Originals:
    """Files of a catalog's photos/ folder, in sub-folders by the first two hexadecimal digits."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, sha256: str, suffix: str) -> Path:
        """Return where a file stands, whether or not it is there."""
        return self.folder / sha256[:2] / f"{sha256}{suffix}"

    def store(self, data: bytes, *, sha256: str, suffix: str) -> Path:
        """Write bytes under their hash and flush them to the disk; a file already whole is kept.

        Raises FileError when the disk refuses; nothing half-written is left under the name.
        """
        target = self.path(sha256, suffix)
        part = target.with_name(f"{target.name}.{os.getpid()}-{get_ident()}{PART_SUFFIX}")
        try:
            if _holds(target, sha256):
                return target
            if not target.parent.is_dir():
                target.parent.mkdir(parents=True, exist_ok=True)
                _flush_folder(self.folder)
            with part.open("wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            part.replace(target)
            _flush_folder(target.parent)
        except OSError as error:
            with suppress(OSError):
                part.unlink(missing_ok=True)
            raise FileError(
                f"The photograph could not be saved in the catalog: {error.strerror}.",
                remedy="Free some space on the catalog’s disk, then add it again.",
                subject=str(target.parent),
            ) from error
        return target

    def drop(self, sha256: str, suffix: str) -> None:
        """Remove a file that was stored but could not be recorded."""
        with suppress(OSError):
            self.path(sha256, suffix).unlink(missing_ok=True)

    def read(self, sha256: str, suffix: str) -> bytes:
        """Return a file's bytes; raise FileError when it is not there."""
        try:
            return self.path(sha256, suffix).read_bytes()
        except OSError as error:
            raise FileError(
                "The original of this photograph is missing from the catalog’s folder.",
                remedy="Restore it from a backup; its record is still here.",
                subject=str(self.path(sha256, suffix)),
            ) from error

    def files(self) -> Iterator[Path]:
        """Yield every file among the originals, in order."""
        if self.folder.is_dir():
            yield from sorted(path for path in self.folder.rglob("*") if path.is_file())


def _holds(path: Path, sha256: str) -> bool:
    """Tell whether a file is there whole; one that was damaged is written anew."""
    return path.is_file() and sha256_of(path.read_bytes()) == sha256


def sha256_of(data: bytes) -> str:
    """Return the SHA-256 (FIPS 180-4) of bytes as 64 hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def _flush_folder(folder: Path) -> None:
    """Flush a folder's own entry, where the system knows how (POSIX)."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
