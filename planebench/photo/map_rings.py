"""Rings round the areas of a map, simple enough to be drawn small and to be kept."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Ring = list[list[float]]

_MOST_RINGS = 400
_STRAY = 0.0004
_SMALLEST_PX = 12.0


def rings_of(inside: NDArray[np.bool_], whole_px: int) -> list[Ring]:
    """Return the outer rings round what is True in an H x W map, the largest first, in pixels.

    Left out is what is smaller than 0.04% of `whole_px`; at most 400 are given. Each ring strays
    less than a two-hundredth of the root of `whole_px` from the area's edge.
    """
    found, _ = cv2.findContours(inside.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    least = max(_SMALLEST_PX, _STRAY * whole_px)
    large = sorted((c for c in found if cv2.contourArea(c) >= least), key=cv2.contourArea)
    stray = max(0.7, whole_px**0.5 / 200)
    bent = (cv2.approxPolyDP(ring, stray, closed=True) for ring in large[::-1][:_MOST_RINGS])
    return [ring.reshape(-1, 2).astype(float).tolist() for ring in bent if len(ring) > 2]  # noqa: PLR2004 (a ring)
