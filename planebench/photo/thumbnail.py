"""Small JPEG copies of pictures, decoded at no more than the size they need."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planebench.photo.decode import decode_bytes, open_upright

# No visible loss at the size of a screen, a third of the bytes of quality 95.
_JPEG_QUALITY = 85


def make_thumbnail(source: Path | bytes, edge: int, *, name: str = "") -> bytes:
    """Return a JPEG (sRGB, upright, no metadata) whose long side is at most `edge` pixels.

    `name` is the file that an error names for a picture passed as bytes. A picture smaller than
    `edge` keeps its size. Raise FileError as open_upright does.
    """
    if isinstance(source, bytes):
        pixels = decode_bytes(source, name=name, largest=edge)
    else:
        pixels = open_upright(source, largest=edge)
    return encode_jpeg(pixels)


def encode_jpeg(pixels: NDArray[np.uint8]) -> bytes:
    """Return an H x W x 3 picture (sRGB) as JPEG without metadata."""
    stream = io.BytesIO()
    Image.fromarray(pixels).save(stream, "JPEG", quality=_JPEG_QUALITY)
    return stream.getvalue()
