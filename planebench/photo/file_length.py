"""How long a picture file should be, to recognize one that was cut short."""

from __future__ import annotations

import struct
from collections.abc import Iterator, Mapping
from typing import BinaryIO

from PIL import Image

# ISO/IEC 14496-12: a box has at least its size and type.
_MIN_BOX = 8


def declared_length(stream: BinaryIO, form: str, length: int) -> int | None:
    """Return the bytes that a file's own size fields call for, None if its format has none.

    Sources: RIFF chunk size; ISO/IEC 14496-12 boxes; BITMAPFILEHEADER.
    """
    match form:
        case "WEBP":
            return 8 + _number(stream, at=4, length=4, order="little")
        case "BMP":
            return _number(stream, at=2, length=4, order="little")
        case "HEIF" | "AVIF":
            return _end_of_boxes(stream, length)
        case "RAW":
            stream.seek(4)
            in_boxes = stream.read(4) == b"ftyp"
            return _end_of_boxes(stream, length) if in_boxes else length_by_directories(stream)
        case _:
            return None


def estimate_length(image: Image.Image, length: int) -> int | None:
    """Return the estimated full length of a file cut short, by the rows that were decoded.

    None if it cannot be estimated: nothing was decoded, or the rows come in several passes.
    """
    try:
        filled = image.im.getbbox()
    except AttributeError:
        return None
    # The decoder leaves missing rows at zero.
    if filled is None or filled[3] >= image.height:
        return None
    bottom: int = filled[3]
    return round(length * image.height / bottom)


def _end_of_boxes(stream: BinaryIO, length: int) -> int:
    at = 0
    while at < length:
        size = _number(stream, at=at, length=4, order="big")
        if size == 1:
            size = _number(stream, at=at + 8, length=8, order="big")
        if size < _MIN_BOX:
            return length
        at += size
    return at


def _number(stream: BinaryIO, *, at: int, length: int, order: str) -> int:
    stream.seek(at)
    return int.from_bytes(stream.read(length), "little" if order == "little" else "big")


# Tags for the offsets and lengths of picture data, and for further directories (TIFF 6.0, sections
# 8, 15 and 22; DNG specification 1.4 for SubIFDs).
_OFFSET_AND_LENGTH = ((273, 279), (324, 325), (513, 514))
_SUB_DIRECTORIES = 330
_WIDTHS = {3: 2, 4: 4, 13: 4}
_KINDS = {2: "H", 4: "I"}
# Cameras write this for "unknown".
_UNKNOWN = 0xFFFFFFFF
# Far more than any camera writes: a larger number is damage, and must not cost memory or time.
_MAX_DIRECTORIES, _MAX_VALUES = 64, 1_000_000
_FUJI, _FUJI_PAIRS_AT, _FUJI_PAIRS = b"FUJIFILMCCD-RAW", 84, 3
_Directory = Mapping[int, tuple[int, ...]]


def length_by_directories(stream: BinaryIO) -> int | None:
    """Return the end of the last picture that a raw file refers to, in bytes; None without any.

    Reads files built as TIFF (by the byte order only, because cameras have magic numbers of their
    own) and the header of three offsets and lengths that starts with FUJIFILMCCD-RAW.
    """
    stream.seek(0)
    head = stream.read(_FUJI_PAIRS_AT + 8 * _FUJI_PAIRS)
    if head.startswith(_FUJI) and len(head) == _FUJI_PAIRS_AT + 8 * _FUJI_PAIRS:
        figures = struct.unpack_from(f">{2 * _FUJI_PAIRS}I", head, _FUJI_PAIRS_AT)
        return max(map(sum, zip(figures[::2], figures[1::2], strict=True)))
    order = {b"II": "<", b"MM": ">"}.get(head[:2])
    if order is None:
        return None
    ends = [end for directory in _directories(stream, order) for end in _ends(directory)]
    return max(ends, default=None)


def _directories(stream: BinaryIO, order: str) -> Iterator[_Directory]:
    """Yield each directory of the chain and those below it, once."""
    stream.seek(4)
    waiting = list(struct.unpack(order + "I", stream.read(4)))
    seen: set[int] = set()
    while waiting and len(seen) < _MAX_DIRECTORIES:
        at = waiting.pop(0)
        if at in seen or at == 0:
            continue
        seen.add(at)
        directory, following = _directory(stream, order, at)
        waiting += [following, *directory.get(_SUB_DIRECTORIES, ())]
        yield directory


def _directory(stream: BinaryIO, order: str, at: int) -> tuple[_Directory, int]:
    """Return one directory's whole numbers, and the offset of the next one (0 for none)."""
    stream.seek(at)
    try:
        (count,) = struct.unpack(order + "H", stream.read(2))
        entries = [stream.read(12) for _ in range(count)]
        (following,) = struct.unpack(order + "I", stream.read(4))
        read = dict(_values(stream, order, entry) for entry in entries)
    except struct.error:
        # The directory itself is cut off or damaged: the decoder will say so.
        return {}, 0
    return read, following


def _values(stream: BinaryIO, order: str, entry: bytes) -> tuple[int, tuple[int, ...]]:
    tag, kind, count = struct.unpack(order + "HHI", entry[:8])
    width = _WIDTHS.get(kind)
    if width is None or count > _MAX_VALUES:
        return tag, ()
    held = entry[8:]
    if width * count > len(held):
        stream.seek(struct.unpack(order + "I", held)[0])
        held = stream.read(width * count)
    return tag, struct.unpack(f"{order}{count}{_KINDS[width]}", held[: width * count])


def _ends(directory: _Directory) -> Iterator[int]:
    for begin, length in _OFFSET_AND_LENGTH:
        for at, size in zip(directory.get(begin, ()), directory.get(length, ()), strict=False):
            if _UNKNOWN not in {at, size}:
                yield at + size
