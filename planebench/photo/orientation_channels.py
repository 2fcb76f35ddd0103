"""Slants: what an edge looks like whatever the light, for laying one photograph on another."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Rgb = NDArray[np.uint8]
Channels = NDArray[np.float32]

BINS = 6
"""Directions of edges told apart, over half a turn: light to dark and dark to light are alike."""

_FAINT = 3.0
_NEIGHBOURHOOD_PX = 12.0
_STRONGEST = 3.0


def resize_to(rgb: Rgb, long_side: int) -> Rgb:
    """Shrink (or enlarge) an H x W x 3 picture so that its long side is `long_side` pixels."""
    height, width = rgb.shape[:2]
    factor = long_side / max(height, width)
    size = (max(1, round(width * factor)), max(1, round(height * factor)))
    way = cv2.INTER_AREA if factor < 1 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(rgb, size, interpolation=way), dtype=np.uint8)


def orientation_channels(rgb: Rgb) -> Channels:
    """Return the H x W x 6 strength of edges in each direction, evened out over the neighborhood.

    A lamp moved or a rusty edge made bright changes an edge's strength and turns its dark side,
    but not its direction: so pictures from before and after cleaning can still be compared.
    """
    lightness = cv2.cvtColor(rgb, cv2.COLOR_RGB2LAB)[..., 0].astype(np.float32)
    smooth = cv2.GaussianBlur(lightness, (0, 0), 0.8)
    across = cv2.Scharr(smooth, cv2.CV_32F, 1, 0) / 32
    down = cv2.Scharr(smooth, cv2.CV_32F, 0, 1) / 32
    strength = np.hypot(across, down)
    around = np.sqrt(cv2.GaussianBlur(strength * strength, (0, 0), _NEIGHBOURHOOD_PX))
    evened = np.minimum(strength / (around + _FAINT), _STRONGEST)
    return _by_direction(evened, np.arctan2(down, across))


def rotate_channels(by_direction: Channels, degrees: float) -> Channels:
    """Return the slants as they are named after the picture was turned counter-clockwise."""
    steps = -degrees / 180 * BINS
    whole = int(np.floor(steps))
    part = np.float32(steps - whole)
    first, second = (np.roll(by_direction, whole + more, axis=2) for more in (0, 1))
    return np.asarray((1 - part) * first + part * second, dtype=np.float32)


def _by_direction(strength: NDArray[np.float32], angle: NDArray[np.float32]) -> Channels:
    """Share each pixel's strength out between the two nearest directions, and blur a little."""
    place = np.mod(angle, np.pi) * np.float32(BINS / np.pi)
    lower = np.floor(place).astype(np.int32)
    part = (place - lower).astype(np.float32)
    lower %= BINS
    upper = (lower + 1) % BINS
    out = np.empty((*strength.shape, BINS), np.float32)
    for each in range(BINS):
        share = (lower == each) * (1 - part) + (upper == each) * part
        out[..., each] = cv2.GaussianBlur((strength * share).astype(np.float32), (0, 0), 1.0)
    return out
