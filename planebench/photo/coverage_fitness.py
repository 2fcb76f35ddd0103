"""Whether the outlined part of a picture shows enough, and nothing strange, to be judged."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.coverage_reading import Finish

_DETAIL_LEVELS = 8.0
_BLACK, _WHITE = 12.0, 248.0
# Steepest steps over the range of tones: sharp photographs have 0.1 and more.
_BLURRED, _SHARP = 0.03, 0.1
# Pixels at the sensor's ends tell nothing; a share of them is usual on bare metal.
_BLOWN, _CLIPPED_ALLOWED, _CLIPPED_MOST = 0.992, 0.15, 0.5
_FEW_PIXELS = 800


def why_not(image: NDArray[np.float32], weight: NDArray[np.float32], area: int) -> str | None:
    """Say why the outlined part of a picture (H x W x 3, 0 to 1) shows nothing, or None."""
    gray = image.mean(axis=2) * 255
    inside = gray[weight > 0.5]  # noqa: PLR2004 - pixels mostly inside
    if inside.size == 0 or area < _FEW_PIXELS:
        return f"the surface is only {area} pixels large in this photograph"
    low, high = np.percentile(inside, (2, 99))
    if high < _BLACK:
        return "the photograph is black there"
    if low > _WHITE:
        return "the photograph is white there"
    return _without_detail(image, weight, high - low)


def _without_detail(
    image: NDArray[np.float32], weight: NDArray[np.float32], levels: float
) -> str | None:
    if levels < _DETAIL_LEVELS:
        return "the photograph shows one even tone there"
    if sharpness(image, weight) < _BLURRED:
        return "the photograph is out of focus there"
    return None


def spoilt(image: NDArray[np.float32], weight: NDArray[np.float32]) -> float:
    """How far the outlined part is out of focus, blown or black: 0 not, 1 nearly unmeasurable."""
    soft = (_SHARP - sharpness(image, weight)) / (_SHARP - _BLURRED)
    inside = image[weight > 0.5]  # noqa: PLR2004 - pixels mostly inside
    ends = (inside >= _BLOWN).all(axis=1) | (inside <= 1 - _BLOWN).all(axis=1)
    clipped = (float(ends.mean()) - _CLIPPED_ALLOWED) / (_CLIPPED_MOST - _CLIPPED_ALLOWED)
    return min(1.0, max(0.0, soft, clipped))


# Chroma (CIE 1976 C*ab) that hardly any pixel had in what the judge learned from: black gloss and
# what shows under it, nickel and brass, rust (of which one pixel in a hundred had more than 27).
_CHROMA = {0: 25.0, 1: 45.0, 2: 45.0}
_STRANGE_ALLOWED, _STRANGE_MOST = 0.1, 0.6


def strange(image: NDArray[np.float32], weight: NDArray[np.float32], finish: Finish) -> float:
    """How far the outlined part shows colors the judge has not met: 0 not, 1 nearly all of it."""
    lab = np.asarray(cv2.cvtColor(image, cv2.COLOR_RGB2LAB))
    chroma = np.hypot(lab[..., 1], lab[..., 2])[weight > 0.5]  # noqa: PLR2004 - mostly inside
    share = float((chroma > _CHROMA[finish.learned]).mean()) if chroma.size else 0.0
    return min(1.0, max(0.0, (share - _STRANGE_ALLOWED) / (_STRANGE_MOST - _STRANGE_ALLOWED)))


# A casting nearly bare is rarer than a light or colored paint that was never black.
_BARED_ALLOWED, _BARED_MOST = 0.65, 0.85


def bared(share_lost: float, finish: Finish) -> float:
    """How far a black finish was found nowhere, so that it may be no black one: 0 to 1."""
    if not finish.is_black:
        return 0.0
    return min(1.0, max(0.0, (share_lost - _BARED_ALLOWED) / (_BARED_MOST - _BARED_ALLOWED)))


def sharpness(image: NDArray[np.float32], weight: NDArray[np.float32]) -> float:
    """Steepest steps from pixel to pixel in the outline, over the tones' whole range there."""
    gray = image.mean(axis=2)
    across = np.abs(np.diff(gray, axis=1))[:-1]
    down = np.abs(np.diff(gray, axis=0))[:, :-1]
    within = np.minimum(weight[:-1, :-1], weight[1:, 1:]) > 0.99  # noqa: PLR2004 - wholly inside
    if not within.any():
        return 1.0
    tones = gray[:-1, :-1][within]
    spread = float(np.percentile(tones, 99) - np.percentile(tones, 1))
    return float(np.percentile(np.maximum(across, down)[within], 99)) / max(spread, 1e-3)
