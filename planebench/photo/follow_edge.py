"""A line that follows the edge a person clicks along, from one point to the next."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Rgb = NDArray[np.uint8]

_LONGEST = 320
"""Steps along the line; with more it takes longer than the pointer needs to its next place."""

_HALF = 0.3
"""How far to each side of the straight line an edge is looked for, as a share of its length."""

_LEAST_HALF = 4
_BLUR = 1.0
_WEAKEST, _STRONGEST = 10.0, 120.0
_BY_ASIDE, _BY_STEP = 1.2, 0.6
"""What a step costs at the border of the strip, and anywhere, where no edge at all costs one."""

_WEIGHTS = (0.0, 0.3, 0.7)
_ENDS = (3, 6)
_STRAYS = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """The photograph turned and reduced so that the straight line lies in the middle row."""

    rgb: Rgb
    start: Points
    along: Points
    across: Points
    half: int

    def to_photograph(self, places: Points) -> Points:
        """Take N x 2 places in the strip (column, row) to pixels of the photograph."""
        columns, rows = places[:, :1], places[:, 1:] - self.half
        return np.asarray(self.start + columns * self.along + rows * self.across)


def follow_edge(rgb: Rgb, start: tuple[float, float], end: tuple[float, float]) -> Points:
    """Return the way from `start` to `end` along edges as N x 2 points, both included.

    "Intelligent scissors" after Mortensen and Barrett (1995), as OpenCV's segmentation module does
    them: the cheapest way over pixels. It is looked for in a strip about the straight line, and
    edges stronger than those at the two ends count no more than those: so the line stays on the
    edge that was clicked on and is not drawn away by a stronger one beside it. Straight between
    points close together, and where one lies outside the upright H x W x 3 photograph.
    """
    ends = np.array([start, end], dtype=np.float64)
    high, wide = rgb.shape[:2]
    outside = bool(np.any(ends < 0) or np.any(ends >= (wide, high)))
    if outside or np.hypot(*(ends[1] - ends[0])) < 2 * _LEAST_HALF:
        return ends
    strip = _strip(rgb, ends)
    found = _cheapest(*_edges(strip), strip.half)
    bent = cv2.approxPolyDP(found.reshape(-1, 1, 2), _STRAYS, closed=False)
    middle = bent.reshape(-1, 2).astype(np.float64)[1:-1]
    return np.vstack((ends[:1], strip.to_photograph(middle), ends[1:]))


def _strip(rgb: Rgb, ends: Points) -> _Strip:
    away = ends[1] - ends[0]
    length = float(np.hypot(*away))
    times = min(1.0, _LONGEST / length)
    half = max(_LEAST_HALF, round(length * times * _HALF))
    along = away / (length * times)
    across = np.array([-along[1], along[0]])
    low = np.maximum(np.floor(ends.min(axis=0) - half / times - 2), 0).astype(int)
    high = np.ceil(ends.max(axis=0) + half / times + 3).astype(int)
    # Of a piece much larger than the strip, every pixel need not be read.
    each = max(1, int(0.5 / times))
    piece = np.ascontiguousarray(rgb[low[1] : high[1] : each, low[0] : high[0] : each])
    size = [max(2, round(side * each * times)) for side in (piece.shape[1], piece.shape[0])]
    small = cv2.resize(piece, size, interpolation=cv2.INTER_AREA)
    grown = np.array(size) / (each * np.array([piece.shape[1], piece.shape[0]]))
    first = (ends[0] - half * across - low + 0.5) * grown - 0.5
    turn = np.column_stack((along * grown, across * grown, first))
    turned = cv2.warpAffine(
        small,
        turn,
        (max(2, round(length * times) + 1), 2 * half + 1),
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
    """Return what each pixel costs, 0 to 1, and which way its edge faces, as unit vectors.

    Only edges that run along the strip count; of lightness and the two colors the strongest.
    """
    lab = cv2.cvtColor(strip.rgb, cv2.COLOR_RGB2LAB)
    smooth = cv2.GaussianBlur(lab, (0, 0), _BLUR).astype(np.float32)
    strength = np.abs(cv2.Sobel(smooth, cv2.CV_32F, 0, 1)).max(axis=2)
    rows, columns = _ENDS
    beside = strength[strip.half - rows : strip.half + rows + 1]
    columns = min(columns, beside.shape[1] // 3)
    clicked = min(float(beside[:, :columns].max()), float(beside[:, -columns:].max()))
    enough = float(np.clip(clicked, _WEAKEST, _STRONGEST))
    aside = (np.arange(2 * strip.half + 1) / strip.half - 1) ** 2
    cost = 1 - np.clip(strength / enough, 0, 1) + _BY_ASIDE * aside[:, None] + _BY_STEP
    facing = np.zeros((*strength.shape, 2), np.float32)
    facing[..., 1] = 1
    return (cost / (1 + _BY_ASIDE + _BY_STEP)).astype(np.float32), facing


def _cheapest(
    cost: NDArray[np.float32], facing: NDArray[np.float32], middle: int
) -> NDArray[np.int32]:
    scissors = cv2.segmentation.IntelligentScissorsMB()
    scissors.setWeights(*_WEIGHTS)
    scissors.applyImageFeatures(np.zeros(cost.shape, np.uint8), facing, cost)
    scissors.buildMap((0, middle))
    return np.asarray(scissors.getContour((cost.shape[1] - 1, middle)), dtype=np.int32)
