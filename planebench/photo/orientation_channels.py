"""Orientation channels: edges by direction, little changed by light, for registering photographs.

The representation is that of oriented gradient histograms (Dalal and Triggs 2005) kept per pixel.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Rgb = NDArray[np.uint8]
Channels = NDArray[np.float32]

BINS = 6
"""Channels over half a turn, 30 degrees each; light to dark and dark to light are the same.

Fewer would mix the edges of crossing parts; more cost time and memory in proportion."""

# Gradient, in 8-bit lightness per pixel, that adds as much to the normalization as the surroundings
# of an edge. More loses faint edges on dark japanning, less raises sensor and JPEG noise to edges.
_NOISE_GRADIENT = 3.0
# Radius of the contrast normalization: wider than an edge, narrower than a shadow on a plane.
_NORMALIZATION_PX = 12.0
# Normalized strength is clipped, so that a lone edge on an empty bench cannot outweigh the tool's.
_MAX_STRENGTH = 3.0
# Blur before the gradient, in pixels: less than an edge is wide, enough against single-pixel noise.
_SMOOTHING_PX = 0.8
# Blur of each channel: lets a registration step pull an edge in from a few pixels away; more would
# merge edges that lie close together.
_CHANNEL_BLUR_PX = 1.0


def resize_to(rgb: Rgb, long_side: int) -> Rgb:
    """Shrink or enlarge an H x W x 3 picture so that its long side is `long_side` pixels."""
    height, width = rgb.shape[:2]
    factor = long_side / max(height, width)
    size = (max(1, round(width * factor)), max(1, round(height * factor)))
    interpolation = cv2.INTER_AREA if factor < 1 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(rgb, size, interpolation=interpolation), dtype=np.uint8)


def orientation_channels(rgb: Rgb) -> Channels:
    """Return H x W x 6: the strength of edges in each direction, contrast-normalized, 0 to 3.

    A lamp that moved, or a rusty edge made bright, changes an edge's strength and swaps its dark
    side but not its direction, so pictures from before and after cleaning can be compared.
    """
    lightness = cv2.cvtColor(rgb, cv2.COLOR_RGB2LAB)[..., 0].astype(np.float32)
    smooth = cv2.GaussianBlur(lightness, (0, 0), _SMOOTHING_PX)
    # Scharr's kernel sums to 32.
    across = cv2.Scharr(smooth, cv2.CV_32F, 1, 0) / 32
    down = cv2.Scharr(smooth, cv2.CV_32F, 0, 1) / 32
    strength = np.hypot(across, down)
    around = np.sqrt(cv2.GaussianBlur(strength * strength, (0, 0), _NORMALIZATION_PX))
    normalized = np.minimum(strength / (around + _NOISE_GRADIENT), _MAX_STRENGTH)
    return _split_by_direction(normalized, np.arctan2(down, across))


def rotate_channels(channels: Channels, degrees: float) -> Channels:
    """Return the channels that the picture would have, had it been turned counter-clockwise.

    Only the directions are renamed; the pixels stay where they are.
    """
    steps = -degrees / 180 * BINS
    whole = int(np.floor(steps))
    part = np.float32(steps - whole)
    first, second = (np.roll(channels, whole + more, axis=2) for more in (0, 1))
    return np.asarray((1 - part) * first + part * second, dtype=np.float32)


def _split_by_direction(strength: NDArray[np.float32], angle: NDArray[np.float32]) -> Channels:
    """Share each pixel's strength between the two nearest directions, then blur each channel."""
    position = np.mod(angle, np.pi) * np.float32(BINS / np.pi)
    lower = np.floor(position).astype(np.int32)
    part = (position - lower).astype(np.float32)
    lower %= BINS
    upper = (lower + 1) % BINS
    out = np.empty((*strength.shape, BINS), np.float32)
    for channel in range(BINS):
        share = (lower == channel) * (1 - part) + (upper == channel) * part
        weighted = (strength * share).astype(np.float32)
        out[..., channel] = cv2.GaussianBlur(weighted, (0, 0), _CHANNEL_BLUR_PX)
    return out
