"""Where two aligned photographs of one view differ."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.tool_segmentation import segment_tool
from planebench.photo.warp import FrameSize, Warp

Rgb = NDArray[np.uint8]

LONG_SIDE_PX = 1600
"""The long side at which the two are compared: about what a screen shows of a pair."""

# Least CIELAB difference that counts as a change. 2.3 is just noticeable; lamps and exposure move
# an unchanged surface by several times that, so a smaller limit would mark the whole tool.
_MIN_DIFFERENCE = 14.0
# ... and at least so many times the median difference over the tool, for pairs in unlike light.
_MEDIANS = 2.5
# Smaller spots are dust, glare or a pixel of misalignment.
_MIN_SPOT_PX = 40
# Blur in pixels before comparing: about the error of a good alignment at this size.
_BLUR_PX = 2.0


def change_mask(before: Rgb, after: Rgb, warp: Warp) -> NDArray[np.uint8]:
    """Return a mask, 255 where the tool looks different after and 0 elsewhere.

    It covers the photograph before, its long side at most LONG_SIDE_PX. Both pictures are
    H x W x 3; `warp` maps pixels before to pixels after. The median colors of the tool are matched
    first; a change is a color difference (CIELAB, 1976) well above the median difference. Glare
    that moved counts as a change too, so this is for looking, never for measuring.
    """
    factor = min(1.0, LONG_SIDE_PX / max(before.shape[:2]))
    first = _small(before, factor)
    high, wide = first.shape[:2]
    frame = FrameSize(left=0, top=0, width=wide, height=high)
    scaled = warp.resized(factor, factor)
    to_x, to_y = scaled.maps(frame)
    second = cv2.remap(
        _small(after, factor), to_x, to_y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    tool = _tool(first)
    if not tool.any():
        return np.zeros((high, wide), dtype=np.uint8)
    far = _difference(_lab(first), _lab(np.asarray(second, dtype=np.uint8)), tool)
    common = float(np.median(far[tool]))
    changed = (far > max(_MIN_DIFFERENCE, _MEDIANS * common)) & tool
    return _without_specks(changed)


def _tool(rgb: Rgb) -> NDArray[np.bool_]:
    size = (rgb.shape[1], rgb.shape[0])
    mask = segment_tool(rgb).astype(np.uint8)
    return np.asarray(cv2.resize(mask, size, interpolation=cv2.INTER_NEAREST)) > 0


def _small(rgb: Rgb, factor: float) -> Rgb:
    if factor == 1:
        return rgb
    size = (round(rgb.shape[1] * factor), round(rgb.shape[0] * factor))
    return np.asarray(cv2.resize(rgb, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)


def _lab(rgb: Rgb) -> NDArray[np.float32]:
    soft = cv2.GaussianBlur(rgb.astype(np.float32) / 255, (0, 0), _BLUR_PX)
    return np.asarray(cv2.cvtColor(soft, cv2.COLOR_RGB2LAB), dtype=np.float32)


def _difference(
    first: NDArray[np.float32], second: NDArray[np.float32], tool: NDArray[np.bool_]
) -> NDArray[np.float32]:
    """Return the color difference per pixel once the median colors of both are matched."""
    middle = np.median(first[tool], axis=0) - np.median(second[tool], axis=0)
    return np.asarray(np.linalg.norm(first - second - middle, axis=2), dtype=np.float32)


def _without_specks(changed: NDArray[np.bool_]) -> NDArray[np.uint8]:
    count, labels, stats, _ = cv2.connectedComponentsWithStats(changed.astype(np.uint8))
    large = np.zeros(count, dtype=np.uint8)
    large[1:] = (stats[1:, cv2.CC_STAT_AREA] >= _MIN_SPOT_PX) * 255
    return np.asarray(large[labels], dtype=np.uint8)
