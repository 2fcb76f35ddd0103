"""Where two photographs of one view differ, once the one is laid on the other."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.tool_segmentation import segment_tool
from planebench.photo.warp import FrameSize, Warp

Rgb = NDArray[np.uint8]

EDGE_PX = 1600
"""The long side at which the two are compared."""

_LEAST = 14.0
_SPREADS = 2.5
_SMALLEST_PX = 40
_BLUR = 2.0


def change_mask(before: Rgb, after: Rgb, warp: Warp) -> NDArray[np.uint8]:
    """Return a mask, 255 where the tool looks different after, 0 elsewhere, as the photograph before.

    Its long side is EDGE_PX at most. Both pictures are H x W x 3; `warp` takes pixels before to
    pixels after. Light is evened out first, by the middle tones of the tool in both; a change is
    what stands out of the common spread of differences (CIELAB, 1976). Glare that moved counts as
    a change too, so this is for looking, never for measuring.
    """
    times = min(1.0, EDGE_PX / max(before.shape[:2]))
    first = _small(before, times)
    high, wide = first.shape[:2]
    frame = FrameSize(left=0, top=0, width=wide, height=high)
    scaled = warp.resized(times, times)
    to_x, to_y = scaled.maps(frame)
    second = cv2.remap(
        _small(after, times), to_x, to_y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    tool = _tool(first)
    if not tool.any():
        return np.zeros((high, wide), dtype=np.uint8)
    far = _difference(_lab(first), _lab(np.asarray(second, dtype=np.uint8)), tool)
    common = float(np.median(far[tool]))
    changed = (far > max(_LEAST, _SPREADS * common)) & tool
    return _without_specks(changed)


def _tool(rgb: Rgb) -> NDArray[np.bool_]:
    size = (rgb.shape[1], rgb.shape[0])
    mask = segment_tool(rgb).astype(np.uint8)
    return np.asarray(cv2.resize(mask, size, interpolation=cv2.INTER_NEAREST)) > 0


def _small(rgb: Rgb, times: float) -> Rgb:
    if times == 1:
        return rgb
    size = (round(rgb.shape[1] * times), round(rgb.shape[0] * times))
    return np.asarray(cv2.resize(rgb, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)


def _lab(rgb: Rgb) -> NDArray[np.float32]:
    soft = cv2.GaussianBlur(rgb.astype(np.float32) / 255, (0, 0), _BLUR)
    return np.asarray(cv2.cvtColor(soft, cv2.COLOR_RGB2LAB), dtype=np.float32)


def _difference(
    first: NDArray[np.float32], second: NDArray[np.float32], tool: NDArray[np.bool_]
) -> NDArray[np.float32]:
    """Return how far apart the colors are, after the middle tones of both were brought together."""
    middle = np.median(first[tool], axis=0) - np.median(second[tool], axis=0)
    return np.asarray(np.linalg.norm(first - second - middle, axis=2), dtype=np.float32)


def _without_specks(changed: NDArray[np.bool_]) -> NDArray[np.uint8]:
    count, labels, stats, _ = cv2.connectedComponentsWithStats(changed.astype(np.uint8))
    large = np.zeros(count, dtype=np.uint8)
    large[1:] = (stats[1:, cv2.CC_STAT_AREA] >= _SMALLEST_PX) * 255
    return np.asarray(large[labels], dtype=np.uint8)
