"""Photographs prepared for print: upright, cropped, no finer than a printer shows, as JPEG.

Nothing of the original but its pixels is written: no camera, owner, place or comment.
"""

from __future__ import annotations

import io
from collections import OrderedDict
from math import ceil

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planebench.errors import FileError, SheetError
from planebench.photo.decode import open_upright, probe
from planebench.sheet.content import Crop, SheetPhotograph
from planebench.sheet.photograph_layout import POINTS_PER_INCH

DOTS_PER_INCH = 300
"""As much of a photograph as a printer shows; more only makes the file larger.

Common practice, no source.
"""

LEAST_DOTS_PER_INCH = 100
"""Below this a photograph looks blown up at reading distance. Common practice, no source."""

_QUALITY = 84
_KEPT = 48
"""Prepared images kept in memory: a few megabytes, so that previews follow edits at once."""


def aspect(photograph: SheetPhotograph) -> float:
    """Return the printed part's width over its height. Raise SheetError for an unreadable file."""
    wide, high = _pixels(photograph)
    return wide / high


def sharp_width(photograph: SheetPhotograph) -> float:
    """Return the widest print in points that does not look blown up. Raise SheetError as aspect."""
    return _pixels(photograph)[0] / LEAST_DOTS_PER_INCH * POINTS_PER_INCH


def _pixels(photograph: SheetPhotograph) -> tuple[float, float]:
    """Return the width and height of the printed part in pixels of the original."""
    try:
        facts = probe(photograph.file)
    except FileError as error:
        raise _unusable(photograph, error) from error
    crop = photograph.crop
    return facts.width * (crop.right - crop.left), facts.height * (crop.bottom - crop.top)


class PrintImageCache:
    """Prepares images and keeps the latest, by the photograph's SHA-256, crop and width."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, Crop, int], bytes] = OrderedDict()

    def jpeg(self, photograph: SheetPhotograph, width: float) -> bytes:
        """Return a JPEG for a print `width` points wide, at most 300 dots per inch, never enlarged.

        Raise SheetError, naming the file, if the photograph cannot be read.
        """
        dots = ceil(width / POINTS_PER_INCH * DOTS_PER_INCH)
        key = (photograph.sha256, photograph.crop, dots)
        if key not in self._kept:
            self._kept[key] = _prepared(photograph, dots)
        self._kept.move_to_end(key)
        while len(self._kept) > _KEPT:
            self._kept.popitem(last=False)
        return self._kept[key]


def _prepared(photograph: SheetPhotograph, dots: int) -> bytes:
    crop = photograph.crop
    try:
        facts = probe(photograph.file)
        scale = min(1.0, dots / (facts.width * (crop.right - crop.left)))
        largest = max(1, ceil(max(facts.width, facts.height) * scale))
        pixels = open_upright(photograph.file, largest=largest)
    except FileError as error:
        raise _unusable(photograph, error) from error
    out = io.BytesIO()
    Image.fromarray(_cut(pixels, crop)).save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue()


def _cut(pixels: NDArray[np.uint8], crop: Crop) -> NDArray[np.uint8]:
    height, width = pixels.shape[:2]
    top, left = round(crop.top * height), round(crop.left * width)
    bottom = max(top + 1, round(crop.bottom * height))
    right = max(left + 1, round(crop.right * width))
    return np.ascontiguousarray(pixels[top:bottom, left:right])


def _unusable(photograph: SheetPhotograph, error: FileError) -> SheetError:
    return SheetError(
        f"The sheet cannot be made: {error.happened}",
        remedy="Leave this photograph off the sheet, or restore its file from a backup.",
        subject=str(photograph.file),
    )
