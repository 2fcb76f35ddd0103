"""Traces the edge between two clicked points of an outline."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Rgb = NDArray[np.uint8]

# Steps along the line: with more, tracing takes longer than the pointer takes to its next place.
_MAX_STEPS = 320
# How far to each side of the straight line an edge is searched for, as a share of its length, and
# in pixels of the strip at least.
_HALF_WIDTH, _MIN_HALF_WIDTH = 0.3, 4
# Blur in pixels of the strip before the gradient, against grain.
_BLUR_PX = 1.0
# Gradient at which an edge costs nothing is that under the clicks, but within these limits of 8-bit
# CIELAB: weaker is noise, stronger need not be told apart.
_MIN_GRADIENT, _MAX_GRADIENT = 10.0, 120.0
# Cost of a step at the border of the strip, and of any step, where a pixel without an edge costs
# one: the first keeps the line near the straight one, the second keeps it short.
_BORDER_COST, _STEP_COST = 1.2, 0.6
# OpenCV's weights for non-edge, gradient direction and gradient magnitude. Edges come as costs of
# ours in the last; the second keeps the line from zigzagging.
_WEIGHTS = (0.0, 0.3, 0.7)
# Rows and columns around a click in which its edge may be: a click is off by a pixel or two.
_CLICK_ROWS, _CLICK_COLUMNS = 3, 6
# How far in pixels of the strip the simplified line may stray: under a pixel is not seen.
_MAX_STRAY_PX = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """The photograph rotated and reduced so that the straight line is the middle row."""

    rgb: Rgb
    start: Points
    along: Points
    across: Points
    half: int

    def to_photograph(self, places: Points) -> Points:
        """Map N x 2 points of the strip (column, row) to pixels of the photograph."""
        columns, rows = places[:, :1], places[:, 1:] - self.half
        return np.asarray(self.start + columns * self.along + rows * self.across)


def follow_edge(rgb: Rgb, start: tuple[float, float], end: tuple[float, float]) -> Points:
    """Return the path from `start` to `end` along edges as N x 2 points, both included.

    The path of least cost over pixels ("intelligent scissors", Mortensen and Barrett 1995, in
    OpenCV's segmentation module), searched for in a strip around the straight line. Edges stronger
    than those under the two clicks count no more than those, so the path stays on the edge that was
    clicked and is not drawn to a stronger one beside it. The path is straight between points close
    together, and if one is outside the upright H x W x 3 photograph.
    """
    ends = np.array([start, end], dtype=np.float64)
    high, wide = rgb.shape[:2]
    outside = bool(np.any(ends < 0) or np.any(ends >= (wide, high)))
    if outside or np.hypot(*(ends[1] - ends[0])) < 2 * _MIN_HALF_WIDTH:
        return ends
    strip = _strip(rgb, ends)
    path = _cheapest_path(*_edges(strip), strip.half)
    simplified = cv2.approxPolyDP(path.reshape(-1, 1, 2), _MAX_STRAY_PX, closed=False)
    middle = simplified.reshape(-1, 2).astype(np.float64)[1:-1]
    return np.vstack((ends[:1], strip.to_photograph(middle), ends[1:]))


def _strip(rgb: Rgb, ends: Points) -> _Strip:
    away = ends[1] - ends[0]
    length = float(np.hypot(*away))
    scale = min(1.0, _MAX_STEPS / length)
    half = max(_MIN_HALF_WIDTH, round(length * scale * _HALF_WIDTH))
    along = away / (length * scale)
    across = np.array([-along[1], along[0]])
    low = np.maximum(np.floor(ends.min(axis=0) - half / scale - 2), 0).astype(int)
    high = np.ceil(ends.max(axis=0) + half / scale + 3).astype(int)
    # Of a piece much larger than the strip, not every pixel needs to be read.
    each = max(1, int(0.5 / scale))
    piece = np.ascontiguousarray(rgb[low[1] : high[1] : each, low[0] : high[0] : each])
    size = [max(2, round(side * each * scale)) for side in (piece.shape[1], piece.shape[0])]
    small = cv2.resize(piece, size, interpolation=cv2.INTER_AREA)
    grown = np.array(size) / (each * np.array([piece.shape[1], piece.shape[0]]))
    first = (ends[0] - half * across - low + 0.5) * grown - 0.5
    turn = np.column_stack((along * grown, across * grown, first))
    turned = cv2.warpAffine(
        small,
        turn,
        (max(2, round(length * scale) + 1), 2 * half + 1),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return _Strip(
        rgb=np.asarray(turned, dtype=np.uint8),
        start=ends[0],
        along=along,
        across=across,
        half=half,
    )


def _edges(strip: _Strip) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Return the cost of each pixel, 0 to 1, and the unit normal of its edge, H x W x 2.

    Only edges along the strip count; the strongest of lightness and the two colors does.
    """
    lab = cv2.cvtColor(strip.rgb, cv2.COLOR_RGB2LAB)
    smooth = cv2.GaussianBlur(lab, (0, 0), _BLUR_PX).astype(np.float32)
    strength = np.abs(cv2.Sobel(smooth, cv2.CV_32F, 0, 1)).max(axis=2)
    near = strength[strip.half - _CLICK_ROWS : strip.half + _CLICK_ROWS + 1]
    columns = min(_CLICK_COLUMNS, near.shape[1] // 3)
    clicked = min(float(near[:, :columns].max()), float(near[:, -columns:].max()))
    enough = float(np.clip(clicked, _MIN_GRADIENT, _MAX_GRADIENT))
    offset = (np.arange(2 * strip.half + 1) / strip.half - 1) ** 2
    cost = 1 - np.clip(strength / enough, 0, 1) + _BORDER_COST * offset[:, None] + _STEP_COST
    normal = np.zeros((*strength.shape, 2), np.float32)
    normal[..., 1] = 1
    return (cost / (1 + _BORDER_COST + _STEP_COST)).astype(np.float32), normal


def _cheapest_path(
    cost: NDArray[np.float32], normal: NDArray[np.float32], middle: int
) -> NDArray[np.int32]:
    scissors = cv2.segmentation.IntelligentScissorsMB()
    scissors.setWeights(*_WEIGHTS)
    scissors.applyImageFeatures(np.zeros(cost.shape, np.uint8), normal, cost)
    scissors.buildMap((0, middle))
    return np.asarray(scissors.getContour((cost.shape[1] - 1, middle)), dtype=np.int32)
