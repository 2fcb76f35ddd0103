"""Small JPEG copies of pictures, made without decoding more than they need."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planebench.photo.decode import decode_bytes, open_upright

_QUALITY = 85


def make_thumbnail(source: Path | bytes, edge: int, *, name: str = "") -> bytes:
    """Return a JPEG (sRGB, upright, no notes in it) whose long side is at most `edge` pixels.

    `name` is what an error calls a picture handed in as bytes. A picture smaller than `edge` keeps
    its size. Raise FileError as open_upright does.
    """
    if isinstance(source, bytes):
        pixels = decode_bytes(source, name=name, largest=edge)
    else:
        pixels = open_upright(source, largest=edge)
    return encode_jpeg(pixels)


def encode_jpeg(pixels: NDArray[np.uint8]) -> bytes:
    """Write an H x W x 3 picture (sRGB) as JPEG with no notes in it."""
    written = io.BytesIO()
    Image.fromarray(pixels).save(written, "JPEG", quality=_QUALITY)
    return written.getvalue()
