"""How long a picture file should be, by what stands in it or by how far its decoder came."""

from __future__ import annotations

from typing import BinaryIO

from PIL import Image

from planebench.photo.raw_length import length_by_directories

_SMALLEST_BOX = 8


def whole_length(stream: BinaryIO, form: str, there: int) -> int | None:
    """Return the bytes that a file's own size fields ask for, None if its format has none.

    Sources: RIFF chunk size; ISO/IEC 14496-12 boxes; BITMAPFILEHEADER.
    """
    match form:
        case "WEBP":
            return 8 + _number(stream, at=4, length=4, order="little")
        case "BMP":
            return _number(stream, at=2, length=4, order="little")
        case "HEIF" | "AVIF":
            return _end_of_boxes(stream, there)
        case "RAW":
            stream.seek(4)
            in_boxes = stream.read(4) == b"ftyp"
            return _end_of_boxes(stream, there) if in_boxes else length_by_directories(stream)
        case _:
            return None


def length_by_rows(image: Image.Image, there: int) -> int | None:
    """Estimate the whole length of a file cut short by how many rows its decoder had filled.

    None when it cannot be told: nothing was decoded, or the rows came in several passes.
    """
    try:
        filled = image.im.getbbox()
    except AttributeError:
        return None
    # Rows that never came are left at nought by the decoder.
    if filled is None or filled[3] >= image.height:
        return None
    bottom: int = filled[3]
    return round(there * image.height / bottom)


def _end_of_boxes(stream: BinaryIO, there: int) -> int:
    at = 0
    while at < there:
        size = _number(stream, at=at, length=4, order="big")
        if size == 1:
            size = _number(stream, at=at + 8, length=8, order="big")
        if size < _SMALLEST_BOX:
            return there
        at += size
    return at


def _number(stream: BinaryIO, *, at: int, length: int, order: str) -> int:
    stream.seek(at)
    return int.from_bytes(stream.read(length), "little" if order == "little" else "big")
