"""Small copies of photographs, kept outside the catalog and made anew whenever one is missing."""

from __future__ import annotations

import os
import time
import zlib
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from threading import Lock, get_ident

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.originals import Originals
from planebench.catalog.values import Photograph
from planebench.photo.decode import decode_bytes, shrink_to
from planebench.photo.thumbnail import encode_jpeg

THUMBNAILS = (160, 320)
PREVIEWS = (1600, 2400)
LARGEST_CACHE = 2_000_000_000  # bytes
_LOOK_AFTER = 64_000_000  # bytes written between two looks at the size of the whole
_LEFT_AFTER_TRIM = 0.9
_CHECK_BYTES = 4
_DAY = 86_400


class PictureCache:
    """JPEG copies by photograph and long side in pixels; the oldest unused go when it is full.

    A copy that was damaged is made anew; a folder that cannot be written only costs time.
    """

    def __init__(self, originals: Originals, folder: Path, *, largest: int = LARGEST_CACHE) -> None:
        self._originals = originals
        self._folder = folder
        self._largest = largest
        self._written = _LOOK_AFTER
        self._lock = Lock()

    @property
    def folder(self) -> Path:
        """The folder of the copies; other derived files may be kept there too."""
        return self._folder

    def thumbnail(self, photograph: Photograph, edge: int = THUMBNAILS[-1]) -> bytes:
        """Return a small JPEG; raise FileError when the original is gone or damaged."""
        return self._copy(photograph, edge)

    def preview(self, photograph: Photograph, edge: int = PREVIEWS[0]) -> bytes:
        """Return a JPEG that fills a window; raise FileError if the original is gone or damaged."""
        return self._copy(photograph, edge)

    def full(self, photograph: Photograph) -> NDArray[np.uint8]:
        """Return the whole picture, H x W x 3 RGB, upright; raise FileError as `thumbnail` does."""
        return decode_bytes(self._original(photograph), name=photograph.original_name)

    def keep(self, sha256: str, pixels: NDArray[np.uint8]) -> None:
        """Keep the thumbnails of a picture that is decoded already (H x W x 3 RGB, upright)."""
        for edge in sorted(THUMBNAILS, reverse=True):
            pixels = shrink_to(pixels, edge)
            if self._read(sha256, edge) is None:
                self._write(sha256, edge, encode_jpeg(pixels))

    def _copy(self, photograph: Photograph, edge: int) -> bytes:
        found = self._read(photograph.sha256, edge)
        if found is not None:
            return found
        data = self._original(photograph)
        made = encode_jpeg(decode_bytes(data, name=photograph.original_name, largest=edge))
        self._write(photograph.sha256, edge, made)
        return made

    def _original(self, photograph: Photograph) -> bytes:
        return self._originals.read(photograph.sha256, photograph.suffix)

    def _path(self, sha256: str, edge: int) -> Path:
        return self._folder / sha256[:2] / f"{sha256}-{edge}.jpg"

    def _read(self, sha256: str, edge: int) -> bytes | None:
        path = self._path(sha256, edge)
        try:
            entry = path.read_bytes()
            _mark_used(path)
        except OSError:
            return None
        picture, check = entry[:-_CHECK_BYTES], entry[-_CHECK_BYTES:]
        return picture if picture and check == _check(picture) else None

    def _write(self, sha256: str, edge: int, picture: bytes) -> None:
        path = self._path(sha256, edge)
        part = path.with_name(f"{path.name}.{os.getpid()}-{get_ident()}.part")
        # What cannot be kept is made again the next time.
        with suppress(OSError):
            path.parent.mkdir(parents=True, exist_ok=True)
            part.write_bytes(picture + _check(picture))
            part.replace(path)
        self._trim_now_and_then(len(picture))

    def _trim_now_and_then(self, written: int) -> None:
        with self._lock:
            self._written += written
            if self._written < min(_LOOK_AFTER, self._largest // 10):
                return
            self._written = 0
            with suppress(OSError):
                _trim(self._folder, self._largest)


def _check(picture: bytes) -> bytes:
    return zlib.crc32(picture).to_bytes(_CHECK_BYTES, "big")


def _mark_used(path: Path) -> None:
    """Date a copy that is used anew, once a day at most."""
    if time.time() - path.stat().st_mtime > _DAY:
        os.utime(path)


def _trim(folder: Path, largest: int) -> None:
    """Delete the copies that were not used for longest until 90% of the limit is left."""
    found = list(_entries(folder))
    total = sum(size for _, size, _ in found)
    if total <= largest:
        return
    for _, size, delete in sorted(found, key=lambda entry: entry[0]):
        if total <= largest * _LEFT_AFTER_TRIM:
            return
        delete()
        total -= size


def _entries(folder: Path) -> Iterator[tuple[float, int, Callable[[], None]]]:
    for inside in folder.iterdir():
        if not inside.is_dir():
            continue
        for path in inside.iterdir():
            with suppress(OSError):
                found = path.stat()
                yield found.st_mtime, found.st_size, path.unlink
