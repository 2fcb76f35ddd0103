"""The originals of photographs: their bytes, unchanged, under their SHA-256."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from planebench.catalog.files import (
    flush_folder,
    hash_of_file,
    make_folder,
    open_plain,
    write_whole,
)
from planebench.errors import FileError

_SHA256 = re.compile(r"[0-9a-f]{64}")
_SUFFIX = re.compile(r"(\.[0-9A-Za-z]{1,15})?")


class Originals:
    """Files of a catalog's photos/ folder, in sub-folders by the first two hexadecimal digits."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, sha256: str, suffix: str) -> Path:
        """Return where a file stands, whether or not it is there.

        Raises FileError when the two could not name a file of this folder, as in a database that
        was tampered with.
        """
        if not _SHA256.fullmatch(sha256) or not _SUFFIX.fullmatch(suffix):
            raise FileError(
                "The record of this photograph does not name a file in the catalog.",
                remedy="Restore the catalog from a backup; do not trust one from a stranger.",
                subject=ascii(f"{sha256}{suffix}"[:100]),
            )
        return self.folder / sha256[:2] / f"{sha256}{suffix}"

    def store(self, data: bytes, *, sha256: str, suffix: str) -> Path:
        """Write bytes under their hash and flush them to the disk; a file already whole is kept.

        Raises FileError when the disk refuses; nothing half-written is left under the name.
        """
        target = self.path(sha256, suffix)
        try:
            if _holds(target, sha256):
                return target
            if not target.parent.is_dir():
                make_folder(target.parent)
                flush_folder(self.folder)
            write_whole(target, data)
        except OSError as error:
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
            with open_plain(self.path(sha256, suffix), within=self.folder) as stream:
                return stream.read()
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
    try:
        return hash_of_file(path) == sha256
    except OSError:
        return False


def sha256_of(data: bytes) -> str:
    """Return the SHA-256 (FIPS 180-4) of bytes as 64 hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()
