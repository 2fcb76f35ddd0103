"""Detects a scale card shown on a screen, by the screen's pixels or their moire in its white.

The white of a printed card has no repeating pattern. Two cases cannot be told: a screen whose
pixels are finer than the lens or the file resolves, and paper with a laid texture.
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

# Window sides in pixels: the larger separates frequencies better, the smaller fits a small card.
_WINDOWS_PX = (64, 32)
# Windows looked at: enough that a smudge in one does not decide, few enough to cost milliseconds.
_MIN_WINDOWS, _MAX_WINDOWS = 6, 9
# Mean gray level of 255 below which a window is too noisy to judge.
_DARK = 25
# Blur that is subtracted: light and shadow vary more slowly than this.
_HIGH_PASS_PX = 6.0
# Cycles per pixel: lower frequencies are light and shadow.
_MIN_FREQUENCY = 0.06
# Bands of like frequency over which the usual power is taken: some 60 bins each in a 64 px window.
_RINGS = 16
# JPEG works in blocks of this size, which leave a pattern of their own.
_BLOCK_PX = 8
# A pattern weaker than this share of the light (0.1 gray levels of 255) is lost in rounding.
_MIN_AMPLITUDE = 0.0004
# Peak power over the median of its ring, reached in a third of the windows. Measured:
# below 10 on photographs of printed cards, below 33 when poorly compressed ones were shrunk and
# saved again; 50 to 20,000 on screens whose pixels are resolved or lie near the camera's own.
_PERCENTILE, _MIN_PEAK_RATIO = 67, 40.0


def is_shown_on_screen(rgb: NDArray[np.uint8], matrix: Matrix) -> bool:
    """Return whether the white of a card at `matrix` (mm to px) has a repeating pattern."""
    for side in _WINDOWS_PX:
        windows = list(_windows(matrix, rgb.shape, side))
        if len(windows) >= _MIN_WINDOWS:
            return _is_patterned(rgb, windows[:: -(-len(windows) // _MAX_WINDOWS)], side)
    return False


def _is_patterned(rgb: NDArray[np.uint8], windows: list[tuple[int, int]], side: int) -> bool:
    peaks = []
    for x, y in windows:
        gray = cv2.cvtColor(rgb[y : y + side, x : x + side], cv2.COLOR_RGB2GRAY)
        if gray.mean() > _DARK:
            peaks.append(_peak_ratio(np.asarray(gray, dtype=np.float32), side))
    return len(peaks) >= _MIN_WINDOWS and float(np.percentile(peaks, _PERCENTILE)) > _MIN_PEAK_RATIO


def _peak_ratio(gray: NDArray[np.float32], side: int) -> float:
    """Return the greatest power of a frequency over the median of its ring."""
    spectrum = _spectrum(side)
    around = cv2.GaussianBlur(gray, (0, 0), _HIGH_PASS_PX, borderType=cv2.BORDER_REFLECT)
    power = np.abs(np.fft.rfft2((gray - around) / gray.mean() * spectrum.taper)) ** 2
    usual = np.array([np.median(power.take(ring)) if ring.size else 0.0 for ring in spectrum.rings])
    floor = (_MIN_AMPLITUDE * spectrum.taper.sum() / 2) ** 2
    return float((power / (usual[spectrum.ring_of] + floor))[spectrum.counted].max())


@dataclass(frozen=True, slots=True)
class _Spectrum:
    """The frequencies of a window: taper, rings of like frequency, and which ones count."""

    taper: NDArray[np.float64]
    rings: tuple[NDArray[np.intp], ...]
    ring_of: NDArray[np.intp]
    counted: NDArray[np.bool_]


@cache
def _spectrum(side: int) -> _Spectrum:
    down, across = np.fft.fftfreq(side)[:, None], np.fft.rfftfreq(side)[None, :]
    radius = np.hypot(down, across)
    ring_of = (radius / radius.max() * (_RINGS - 1)).astype(np.intp)
    band = radius >= _MIN_FREQUENCY
    on_block_grid = _near_block_frequency(down, side) & _near_block_frequency(across, side)
    return _Spectrum(
        taper=np.outer(np.hanning(side), np.hanning(side)),
        rings=tuple(np.flatnonzero(band & (ring_of == ring)) for ring in range(_RINGS)),
        ring_of=ring_of,
        counted=band & ~on_block_grid,
    )


def _near_block_frequency(frequency: NDArray[np.floating], side: int) -> NDArray[np.bool_]:
    steps = frequency * _BLOCK_PX
    return np.asarray(np.abs(steps - np.rint(steps)) <= 1.01 * _BLOCK_PX / side)


def _windows(matrix: Matrix, shape: tuple[int, ...], side: int) -> Iterator[tuple[int, int]]:
    """Yield the top left corners of windows inside the card's white and inside the picture."""
    for area in WHITE_AREAS:
        ends = transform(matrix, area).astype(np.float32)
        (left, top), (right, bottom) = ends.min(axis=0), ends.max(axis=0)
        for y in range(max(0, int(top)), min(shape[0], int(bottom)) - side + 1, side // 2):
            for x in range(max(0, int(left)), min(shape[1], int(right)) - side + 1, side // 2):
                far = side - 1
                corners = ((x, y), (x + far, y), (x + far, y + far), (x, y + far))
                if all(cv2.pointPolygonTest(ends, at, measureDist=False) >= 0 for at in corners):
                    yield x, y
