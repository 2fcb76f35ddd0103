"""A line that follows the edges of a thing from one point to the next, as a person clicks along."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError

Points = NDArray[np.float64]

WINDOW_PX = 600
"""The side of the piece that is searched: larger ones take over a tenth of a second."""

_STRONGEST = 200.0
_CANNY = (32, 100)
_STRAYS_PX = 0.8


class EdgeFollower:
    """Finds the way along edges from one start to any point near it.

    "Intelligent scissors" after Mortensen and Barrett (1995), as OpenCV's segmentation module does
    them: the cheapest way over pixels, cheap where the gradient is strong and runs along.
    """

    def __init__(self, rgb: NDArray[np.uint8], start: tuple[float, float], *, reach: float) -> None:
        """Look `reach` pixels to each side of `start` in an upright H x W x 3 photograph.

        The piece is reduced to WINDOW_PX, so the smaller the reach, the finer the line. Raise
        InputError for a start outside the photograph.
        """
        high, wide = rgb.shape[:2]
        x, y = start
        if not (0 <= x < wide and 0 <= y < high):
            raise InputError(
                "The point lies outside the photograph.",
                remedy="Set it on the photograph.",
                subject="outline",
            )
        left, top = max(0, int(x - reach)), max(0, int(y - reach))
        right, bottom = min(wide, int(x + reach) + 1), min(high, int(y + reach) + 1)
        piece = np.ascontiguousarray(rgb[top:bottom, left:right])
        longest = max(right - left, bottom - top)
        self._times = min(1.0, WINDOW_PX / longest)
        size = (
            max(2, round((right - left) * self._times)),
            max(2, round((bottom - top) * self._times)),
        )
        small = cv2.resize(piece, size, interpolation=cv2.INTER_AREA)
        self._size = size
        self._corner = (left, top)
        self._grown = (size[0] / (right - left), size[1] / (bottom - top))
        self._scissors = cv2.segmentation.IntelligentScissorsMB()
        self._scissors.setEdgeFeatureCannyParameters(*_CANNY)
        self._scissors.setGradientMagnitudeMaxLimit(_STRONGEST)
        self._scissors.applyImage(small)
        self.start = start
        self._scissors.buildMap(self._inside(start))

    def line_to(self, end: tuple[float, float]) -> Points:
        """Give the way from the start to `end` as N x 2 points of the photograph, both included.

        What lies beyond the reach is joined straight.
        """
        found = self._scissors.getContour(self._inside(end))
        bent = cv2.approxPolyDP(found.reshape(-1, 1, 2), _STRAYS_PX, closed=False)
        middle = bent.reshape(-1, 2).astype(np.float64)[1:-1]
        along = (middle + 0.5) / self._grown - 0.5 + self._corner
        return np.vstack(([self.start], along, [end]))

    def _inside(self, point: tuple[float, float]) -> tuple[int, int]:
        """Bring a point of the photograph to the nearest pixel of the piece."""
        x, y = (
            (value - corner + 0.5) * grown - 0.5
            for value, corner, grown in zip(point, self._corner, self._grown, strict=True)
        )
        wide, high = self._size
        return min(max(round(x), 0), wide - 1), min(max(round(y), 0), high - 1)
