"""How much of two outlines on one photograph is the same area."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planebench.photo.outline import PixelOutline, Polygon, Ring, mask_of

_GRID = 320


def overlap(first: PixelOutline, second: PixelOutline) -> float:
    """Return the share of the smaller outline that the other holds too, 0 to 1.

    Counted on a grid of at most 320 squares a side; 0 where one of them holds nothing.
    """
    points = [point for one in (first, second) for p in one.polygons for point in p.outer]
    if not points:
        return 0.0
    low = np.array(points).min(axis=0)
    reach = np.ptp(np.array(points), axis=0)
    scale = (_GRID - 2) / max(float(reach.max()), 1.0)
    size = (int(reach[0] * scale) + 2, int(reach[1] * scale) + 2)
    masks = [mask_of(_moved(one, low, scale), size) > 0 for one in (first, second)]
    smaller = min(np.count_nonzero(mask) for mask in masks)
    return float(np.count_nonzero(masks[0] & masks[1])) / smaller if smaller else 0.0


def _moved(outline: PixelOutline, low: NDArray[np.float64], scale: float) -> PixelOutline:
    def ring(points: Ring) -> Ring:
        return tuple((float((x - low[0]) * scale), float((y - low[1]) * scale)) for x, y in points)

    return PixelOutline(
        polygons=tuple(
            Polygon(outer=ring(one.outer), holes=tuple(ring(hole) for hole in one.holes))
            for one in outline.polygons
        )
    )
