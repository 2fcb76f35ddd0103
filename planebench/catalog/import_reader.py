"""Reads one file to import: its bytes once, hash, every pixel, scale card; then stores it."""

from __future__ import annotations

import datetime as dt
import os
import time
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path, PurePath
from threading import Condition

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.import_walk import printable
from planebench.catalog.originals import Originals, sha256_of
from planebench.catalog.picture_cache import PictureCache
from planebench.catalog.values import Json, Photograph
from planebench.errors import FileError
from planebench.photo.card import CardReading, find_card
from planebench.photo.decode import decode_bytes, probe_bytes, shrink_to
from planebench.photo.decoder_errors import as_file_errors
from planebench.photo.formats import RAW_SUFFIXES, recognize
from planebench.photo.image_info import ImageInfo
from planebench.photo.near_duplicates import fingerprints_of

SETTLE_SECONDS = 2.0
LARGEST_FILE = 1_000_000_000
"""Bytes; 150 megapixels as an uncompressed 16-bit TIFF, the largest a camera makes, take 900 MB."""
_READ_TOGETHER = 64_000_000  # bytes: as many such as there are threads stay far below ROOM
# Decoded pictures held at once, in bytes: with the program itself it stays below 1.2 GB.
ROOM = 850_000_000
_BYTES_A_PIXEL = 4  # as the decoder holds them
_GLIMPSE_EDGE = 1500  # pixels
_SUFFIXES = {
    "JPEG": ".jpg",
    "PNG": ".png",
    "TIFF": ".tif",
    "WEBP": ".webp",
    "HEIF": ".heic",
    "AVIF": ".avif",
    "BMP": ".bmp",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadFile:
    """A picture read whole and stored; `here_already` when only its hash was needed.

    `facts` is None only then. `card` is what was seen of a scale card, None without one.
    """

    path: Path
    sha256: str
    already_in_catalog: bool
    suffix: str = ""
    facts: ImageInfo | None = None
    perceptual_hash: str | None = None
    sharpness: float | None = None
    card: CardSeen | None = None


class UnsettledError(Exception):
    """The file was written a moment ago or is being written: to be looked at again later."""


@dataclass(frozen=True, slots=True)
class _Look:
    """Size in bytes and time of change in nanoseconds."""

    size: int
    changed: int

    @property
    def is_young(self) -> bool:
        return abs(time.time() - self.changed / 1e9) < SETTLE_SECONDS


class MemoryBudget:
    """Lets pictures be decoded side by side as long as they fit in so many bytes together."""

    def __init__(self, bytes_in_all: int = ROOM) -> None:
        self._left = self._all = bytes_in_all
        self._freed = Condition()

    @contextmanager
    def of(self, wanted: int) -> Iterator[None]:
        """Wait for room; a picture larger than all of it is decoded alone."""
        taken = min(wanted, self._all)
        with self._freed:
            self._freed.wait_for(lambda: self._left >= taken)
            self._left -= taken
        try:
            yield
        finally:
            with self._freed:
                self._left += taken
                self._freed.notify_all()


class Reader:
    """Reads files on any number of threads. `known` are the hashes that need not be read in."""

    def __init__(
        self,
        originals: Originals,
        pictures: PictureCache,
        known: Collection[str],
        *,
        find_cards: bool,
    ) -> None:
        self._originals = originals
        self._pictures = pictures
        self._known = known
        self._find_cards = find_cards
        self._budget = MemoryBudget()

    def read(self, path: Path) -> ReadFile:
        """Read one file and store it, flushed.

        Raises UnsettledError for a file that changes or changed a moment ago, FileError for what
        cannot be imported; then the originals are as they were.
        """
        name = printable(path)
        before = _look(path, name)
        if before.is_young:
            raise UnsettledError(name)
        try:
            read = self._read(path, name)
        except FileError:
            _refuse_changed(path, name, before)
            raise
        if not read.already_in_catalog:
            _refuse_changed(path, name, before)
        return read

    def _read(self, path: Path, name: str) -> ReadFile:
        if _look(path, name).size <= _READ_TOGETHER:
            return self._read_within(self._budget, path, name)
        # A large file is read alone, so that several do not fill the memory together.
        with self._budget.of(ROOM):
            return self._read_within(MemoryBudget(), path, name)

    def _read_within(self, budget: MemoryBudget, path: Path, name: str) -> ReadFile:
        data = _bytes_of(path, name)
        sha256 = sha256_of(data)
        if sha256 in self._known:
            return ReadFile(path=path, sha256=sha256, already_in_catalog=True)
        facts = probe_bytes(data, name=name)
        edge = CARD_EDGE if self._find_cards else _GLIMPSE_EDGE
        with budget.of(facts.width * facts.height * _BYTES_A_PIXEL + len(data)):
            # Even a JPEG that is decoded to a quarter is read to its end: one cut short is refused.
            pixels = decode_bytes(data, name=name, largest=edge)
            self._originals.store(data, sha256=sha256, suffix=_suffix(facts, path))
            return self._seen(path, sha256, facts, pixels)

    def _seen(
        self, path: Path, sha256: str, facts: ImageInfo, pixels: NDArray[np.uint8]
    ) -> ReadFile:
        small = shrink_to(pixels, _GLIMPSE_EDGE)
        self._pictures.keep(sha256, small)
        seen = fingerprints_of(small)
        return ReadFile(
            path=path,
            sha256=sha256,
            already_in_catalog=False,
            suffix=_suffix(facts, path),
            facts=facts,
            perceptual_hash=f"{seen.rough:016x}{seen.fine:064x}",
            sharpness=seen.sharpness,
            card=card_in(pixels, facts) if self._find_cards else None,
        )


def moment_of(facts: ImageInfo) -> dt.datetime | None:
    """Return when a picture was taken; a camera's own clock is read as this machine's local."""
    taken_at = facts.exif.taken_at
    if taken_at is None:
        return None
    try:
        return taken_at.astimezone(dt.UTC)
    except (OverflowError, OSError, ValueError):
        # A year that no calendar of this system reaches.
        return None


def still_being_written(path: Path) -> FileError:
    """Return the error for a file that went on changing."""
    return FileError(
        "The file is still being written.",
        remedy="Wait until it is copied completely, then add it again.",
        subject=printable(path),
    )


def _look(path: Path, name: str) -> _Look:
    with as_file_errors(name):
        found = path.stat()
    return _Look(found.st_size, found.st_mtime_ns)


def _refuse_changed(path: Path, name: str, before: _Look) -> None:
    try:
        now = _look(path, name)
    except FileError:
        return
    if now != before:
        raise UnsettledError(name)


def _bytes_of(path: Path, name: str) -> bytes:
    try:
        with path.open("rb") as stream:
            size = os.fstat(stream.fileno()).st_size
            if size > LARGEST_FILE:
                raise FileError(
                    f"The file has {size / 1e9:,.1f} GB; the limit is {LARGEST_FILE / 1e9:.0f} GB.",
                    remedy="Leave it out, or save a smaller picture and add that.",
                    subject=name,
                )
            recognize(stream, name=name)
            return stream.read()
    except (FileNotFoundError, PermissionError, IsADirectoryError):
        with as_file_errors(name):
            raise
    except OSError as error:
        raise FileError(
            f"The file could not be read: {error.strerror or error}.",
            remedy="Check that the card or disk is still connected, then add it again.",
            subject=name,
        ) from error


def _suffix(facts: ImageInfo, path: Path) -> str:
    if facts.format != "RAW":
        return _SUFFIXES[facts.format]
    named = PurePath(path.name).suffix.lower()
    return named if named in RAW_SUFFIXES else ".raw"


CARD_EDGE = 3000
"""A card is searched in a picture with a long side of at most so many pixels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSeen:
    """A scale card in a photograph: its stock number, None if it could not be read; the scale."""

    stock: str | None
    scale: Json
    warnings: tuple[str, ...]


def card_in(pixels: NDArray[np.uint8], facts: ImageInfo) -> CardSeen | None:
    """Search an upright picture, which may be smaller than its file's, for a scale card.

    The scale is in pixels of the whole picture.
    """
    height, width = pixels.shape[:2]
    times = (facts.width / width, facts.height / height)
    focal = None if facts.focal_px is None else facts.focal_px / times[0]
    reading = find_card(pixels, focal_px=focal)
    if reading is None:
        return None
    return CardSeen(
        stock=reading.stock, scale=_scale(reading, times), warnings=tuple(reading.warnings)
    )


def card_on(originals: Originals, photograph: Photograph) -> CardSeen | None:
    """Search a photograph that is in the catalog already; raise FileError if it is damaged."""
    data, name = originals.read(photograph.sha256, photograph.suffix), photograph.original_name
    pixels = decode_bytes(data, name=name, largest=CARD_EDGE)
    return card_in(pixels, probe_bytes(data, name=name))


def doubts_of(scale: Json | None) -> tuple[str, ...]:
    """Return why a card names no tool, or its scale is less sure than a whole card's."""
    if scale is None or (scale.get("sure", True) and scale.get("stock")):
        return ()
    warnings = scale.get("warnings")
    return tuple(map(str, warnings)) if isinstance(warnings, list | tuple) else ()


def of_another(scale: Json | None, stock: str) -> tuple[str, ...]:
    """Return a warning when a card names another tool than the photograph was added for."""
    says = "" if scale is None else str(scale.get("stock") or "")
    if not says or says.casefold() == stock.casefold():
        return ()
    return (f"The card belongs to another tool: {says}, not {stock}.",)


def _scale(reading: CardReading, times: tuple[float, float]) -> Json:
    """Return a reading as JSON can hold it, for a picture so many times as wide and as high.

    Pixels have their centers at whole numbers, so that large = times * small + (times - 1) / 2.
    """
    across, down = times
    to_large = np.array([[across, 0, (across - 1) / 2], [0, down, (down - 1) / 2], [0, 0, 1.0]])
    matrix = np.array(reading.matrix_px_to_mm) @ np.linalg.inv(to_large)
    matrix /= matrix[2, 2]
    plain: Json = {"kind": "card", **asdict(reading)}
    plain["matrix_px_to_mm"] = matrix.tolist()
    plain["mm_per_px"] = reading.mm_per_px / across
    return plain
