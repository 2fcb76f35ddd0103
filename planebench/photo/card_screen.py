"""Whether a scale card is shown on a screen: the screen's pixels, or their moire, are in its white.

A printed card's white has no pattern that repeats. What cannot be told: a screen whose pixels are
finer than the lens or the file resolves, and paper with ribs of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_layout import WHITE_AREAS
from planebench.photo.homography import Matrix, transform

_WINDOWS_PX = (64, 32)
_FEWEST, _MOST = 6, 9
_DARK = 25
_EVENED_PX = 6.0
# Cycles a pixel: slower is light and shadow.
_SLOWEST = 0.06
_RINGS = 16
# JPEG works in blocks of so many pixels, which leave a pattern of their own.
_BLOCK_PX = 8
# A pattern weaker than this share of the light is no pattern.
_FAINT = 0.0004
# How far the strongest pattern stands above its like, in two thirds of the windows. Measured:
# below 10 on photographs of printed cards, below 33 when poorly compressed ones were shrunk and
# saved again; 50 to 20,000 on screens whose pixels are resolved or lie near the camera's own.
_SHARE, _STANDS_OUT = 67, 40.0


def is_shown_on_screen(rgb: NDArray[np.uint8], matrix: Matrix) -> bool:
    """Tell whether the white of a card that lies by `matrix` (mm to px) has a repeating pattern."""
    for side in _WINDOWS_PX:
        places = list(_places(matrix, rgb.shape, side))
        if len(places) >= _FEWEST:
            return _is_patterned(rgb, places[:: -(-len(places) // _MOST)], side)
    return False


def _is_patterned(rgb: NDArray[np.uint8], places: list[tuple[int, int]], side: int) -> bool:
    heights = []
    for x, y in places:
        gray = cv2.cvtColor(rgb[y : y + side, x : x + side], cv2.COLOR_RGB2GRAY)
        if gray.mean() > _DARK:
            heights.append(_strongest(np.asarray(gray, dtype=np.float32), side))
    return len(heights) >= _FEWEST and float(np.percentile(heights, _SHARE)) > _STANDS_OUT


def _strongest(gray: NDArray[np.float32], side: int) -> float:
    """Return how far the strongest frequency stands above the middle one of its fineness."""
    waves = _waves(side)
    around = cv2.GaussianBlur(gray, (0, 0), _EVENED_PX, borderType=cv2.BORDER_REFLECT)
    power = np.abs(np.fft.rfft2((gray - around) / gray.mean() * waves.taper)) ** 2
    usual = np.array([np.median(power.take(ring)) if ring.size else 0.0 for ring in waves.rings])
    floor = (_FAINT * waves.taper.sum() / 2) ** 2
    return float((power / (usual[waves.ring_of] + floor))[waves.counted].max())


@dataclass(frozen=True, slots=True)
class _Waves:
    """Frequencies of a window: its taper, which are of like fineness, and which ones count."""

    taper: NDArray[np.float64]
    rings: tuple[NDArray[np.intp], ...]
    ring_of: NDArray[np.intp]
    counted: NDArray[np.bool_]


@cache
def _waves(side: int) -> _Waves:
    down, across = np.fft.fftfreq(side)[:, None], np.fft.rfftfreq(side)[None, :]
    fineness = np.hypot(down, across)
    ring_of = (fineness / fineness.max() * (_RINGS - 1)).astype(np.intp)
    band = fineness >= _SLOWEST
    of_blocks = _near_block(down, side) & _near_block(across, side)
    return _Waves(
        taper=np.outer(np.hanning(side), np.hanning(side)),
        rings=tuple(np.flatnonzero(band & (ring_of == ring)) for ring in range(_RINGS)),
        ring_of=ring_of,
        counted=band & ~of_blocks,
    )


def _near_block(frequency: NDArray[np.floating], side: int) -> NDArray[np.bool_]:
    steps = frequency * _BLOCK_PX
    return np.asarray(np.abs(steps - np.rint(steps)) <= 1.01 * _BLOCK_PX / side)


def _places(matrix: Matrix, shape: tuple[int, ...], side: int) -> Iterator[tuple[int, int]]:
    """Return the top left corners of windows that lie in the card's white and in the picture."""
    for area in WHITE_AREAS:
        ends = transform(matrix, area).astype(np.float32)
        (left, top), (right, bottom) = ends.min(axis=0), ends.max(axis=0)
        for y in range(max(0, int(top)), min(shape[0], int(bottom)) - side + 1, side // 2):
            for x in range(max(0, int(left)), min(shape[1], int(right)) - side + 1, side // 2):
                far = side - 1
                corners = ((x, y), (x + far, y), (x + far, y + far), (x, y + far))
                if all(cv2.pointPolygonTest(ends, at, measureDist=False) >= 0 for at in corners):
                    yield x, y
