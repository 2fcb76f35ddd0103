"""Outlines of surfaces: polygons with holes, to and from JSON, checked, and as masks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError

Point = tuple[float, float]
Ring = tuple[Point, ...]

# Pixels: below this a share is off by whole percents through its border alone.
SMALLEST_AREA = 200
_MIN_CORNERS = 3
# Area that a crossing may change, as a share and in square pixels: a slip of the hand makes loops
# smaller than that; a larger one is a mistake.
_MAX_LOOP_SHARE, _MAX_LOOP_PX = 0.03, 8.0
# Sides compared with all others at a time: bounds the memory for outlines of thousands of points.
_SIDES_PER_BLOCK = 512
# Long side in pixels of the grid on which a ring that crosses itself is counted: finer than 0.1%.
_AREA_GRID = 1500.0
# Side of the grid on which an overlap is counted: 0.3% is plenty to tell whether two outlines are
# of one surface.
_OVERLAP_GRID = 320
# Contours of a mask: more are not seen in a picture; spots under 12 px or 0.04% of the whole are
# noise of the judge.
_MAX_CONTOURS = 400
_MIN_CONTOUR_SHARE, _MIN_CONTOUR_PX = 0.0004, 12.0
# A contour is simplified to within this many pixels, or 1/200 of the side of the whole.
_MIN_STRAY_PX, _STRAY_SHARE = 0.7, 1 / 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Polygon:
    """An outer ring and the holes in it; x, y in pixels, (0, 0) the center of the top left one."""

    outer: Ring
    holes: tuple[Ring, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PixelOutline:
    """One surface on one photograph: the union of its polygons."""

    polygons: tuple[Polygon, ...]


def outline_from_json(data: object) -> PixelOutline:
    """Return an outline from {"polygons": [{"outer": [[x, y], ...], "holes": [...]}]}.

    Raise InputError for anything else.
    """
    try:
        return PixelOutline(polygons=_polygons(data))
    except (TypeError, KeyError, ValueError, AttributeError) as error:
        raise InputError(
            "The outline cannot be read.",
            remedy='Its form is {"polygons": [{"outer": [[x, y], ...], "holes": []}]}.',
            subject="outline",
        ) from error


def _polygons(data: object) -> tuple[Polygon, ...]:
    if not isinstance(data, Mapping):
        raise TypeError
    return tuple(
        Polygon(
            outer=_ring(polygon["outer"]),
            holes=tuple(_ring(hole) for hole in polygon.get("holes") or ()),
        )
        for polygon in data["polygons"]
    )


def _ring(points: Sequence[Sequence[float]]) -> Ring:
    ring = tuple((float(x), float(y)) for x, y in points)
    if not np.isfinite(np.array(ring)).all():
        raise ValueError
    return ring


def outline_to_json(outline: PixelOutline) -> dict[str, object]:
    """Return an outline in the form that outline_from_json reads."""
    return {
        "polygons": [
            {
                "outer": [list(point) for point in polygon.outer],
                "holes": [[list(point) for point in hole] for hole in polygon.holes],
            }
            for polygon in outline.polygons
        ]
    }


def check_outline(outline: PixelOutline, size: tuple[int, int]) -> None:
    """Raise InputError, saying why, if nothing can be measured inside an outline.

    `size` is the photograph's width and height in pixels. Parts beyond the edge are cut off; loops
    that change the area by less than 3% are allowed.
    """
    if not outline.polygons:
        raise _refused("The outline has no polygon.", "Draw around the surface first.")
    for polygon in outline.polygons:
        for ring in (polygon.outer, *polygon.holes):
            _check_ring(ring)
    inside = int(np.count_nonzero(mask_of(outline, size)))
    if inside == 0:
        raise _refused(
            f"The outline lies outside the photograph of {size[0]} × {size[1]} pixels.",
            "Check that it was drawn on this photograph, turned upright.",
        )
    if inside < SMALLEST_AREA:
        raise _refused(
            f"The outline covers {inside} pixels; at least {SMALLEST_AREA} are needed.",
            "Outline more of the surface, or take a closer photograph.",
        )


def _check_ring(ring: Ring) -> None:
    if len(set(ring)) < _MIN_CORNERS:
        raise _refused(
            "The outline has no area: a polygon has fewer than 3 points.",
            "Set at least 3 points around the surface.",
        )
    drawn = abs(_signed_area(ring))
    if drawn < 1 and not _crosses(ring):
        raise _refused(
            "The outline has no area.", "Set points around the surface, not along a line."
        )
    if _crosses(ring) and abs(_covered(ring) - drawn) > max(_MAX_LOOP_SHARE * drawn, _MAX_LOOP_PX):
        raise _refused("The outline crosses itself.", "Move or delete the points where it crosses.")


def _refused(happened: str, remedy: str) -> InputError:
    return InputError(happened, remedy=remedy, subject="outline")


def _signed_area(ring: Ring) -> float:
    x, y = np.array(ring).T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)


def _covered(ring: Ring) -> float:
    """Return the area of a ring by the even-odd rule, counted on a fine grid."""
    points = np.array(ring)
    low, reach = points.min(axis=0), np.ptp(points, axis=0)
    scale = _AREA_GRID / max(float(reach.max()), 1.0)
    moved = (points - low) * scale
    width, height = (int(side) + 2 for side in reach * scale)
    return float(np.count_nonzero(_filled(moved, width, height))) / scale**2


def _crosses(ring: Ring) -> bool:
    """Return whether two sides cross at a point inside both; touching does not count."""
    start = np.array(ring)
    end = np.roll(start, -1, axis=0)
    order = np.argsort(np.minimum(start[:, 0], end[:, 0]), kind="stable")
    start, end = start[order], end[order]
    left, right = np.minimum(start[:, 0], end[:, 0]), np.maximum(start[:, 0], end[:, 0])
    for first in range(0, len(start), _SIDES_PER_BLOCK):
        some = slice(first, first + _SIDES_PER_BLOCK)
        last = int(np.searchsorted(left, right[some].max(), side="right"))
        rest = slice(first, last)
        a, b = start[some, None], end[some, None]
        c, d = start[None, rest], end[None, rest]
        apart = (_side(a, b, c) * _side(a, b, d) < 0) & (_side(c, d, a) * _side(c, d, b) < 0)
        if apart.any():
            return True
    return False


def _side(
    a: NDArray[np.float64], b: NDArray[np.float64], p: NDArray[np.float64]
) -> NDArray[np.float64]:
    return (b[..., 0] - a[..., 0]) * (p[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (
        p[..., 0] - a[..., 0]
    )


def mask_of(outline: PixelOutline, size: tuple[int, int]) -> NDArray[np.uint8]:
    """Return height x width, 1 where a pixel's center is inside the outline, else 0.

    `size` is width and height.
    """
    width, height = size
    mask = np.zeros((height, width), dtype=np.uint8)
    for polygon in outline.polygons:
        x0, y0, x1, y1 = _window(polygon.outer, size)
        if x0 >= x1 or y0 >= y1:
            continue
        shift = np.array([x0, y0], dtype=np.float64)
        here = _filled(np.array(polygon.outer) - shift, x1 - x0, y1 - y0)
        for hole in polygon.holes:
            here &= 1 - _filled(np.array(hole) - shift, x1 - x0, y1 - y0)
        mask[y0:y1, x0:x1] |= here
    return mask


def _window(ring: Ring, size: tuple[int, int]) -> tuple[int, int, int, int]:
    points = np.array(ring)
    x0, y0 = np.clip(np.floor(points.min(axis=0)), 0, size).astype(int)
    x1, y1 = np.clip(np.ceil(points.max(axis=0)) + 1, 0, size).astype(int)
    return int(x0), int(y0), int(x1), int(y1)


def _filled(points: NDArray[np.float64], width: int, height: int) -> NDArray[np.uint8]:
    """Return a mask filled by the even-odd rule: each side flips all pixels to its right."""
    start, end = points, np.roll(points, -1, axis=0)
    upper = np.where((start[:, 1] <= end[:, 1])[:, None], start, end)
    lower = np.where((start[:, 1] <= end[:, 1])[:, None], end, start)
    first = np.clip(np.ceil(upper[:, 1]), 0, height).astype(np.int64)
    last = np.clip(np.ceil(lower[:, 1]), 0, height).astype(np.int64)
    counts = np.maximum(last - first, 0)
    side = np.repeat(np.arange(len(points)), counts)
    rows = np.arange(len(side)) - np.repeat(np.cumsum(counts) - counts, counts) + first[side]
    slope = (lower[side, 0] - upper[side, 0]) / (lower[side, 1] - upper[side, 1])
    meets = upper[side, 0] + slope * (rows - upper[side, 1])
    columns = np.clip(np.ceil(meets), 0, width).astype(np.int64)
    flips = np.zeros((height, width + 1), dtype=np.uint8)
    np.bitwise_xor.at(flips, (rows, columns), 1)
    return np.bitwise_xor.accumulate(flips, axis=1)[:, :width]


def overlap(first: PixelOutline, second: PixelOutline) -> float:
    """Return the share of the smaller outline that the other covers too, 0 to 1.

    Counted on a grid of at most 320 squares per side; 0 if one of them is empty.
    """
    points = [point for one in (first, second) for p in one.polygons for point in p.outer]
    if not points:
        return 0.0
    low = np.array(points).min(axis=0)
    reach = np.ptp(np.array(points), axis=0)
    scale = (_OVERLAP_GRID - 2) / max(float(reach.max()), 1.0)
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


def mask_contours(inside: NDArray[np.bool_], whole_px: int) -> list[list[list[float]]]:
    """Return the contours of an H x W mask, the largest first, as lists of [x, y] in pixels.

    A hole is a contour of its own, to be filled by the even-odd rule. `whole_px` is the area of
    the whole surface in pixels. Spots smaller than 0.04% of it are left out, and at most 400
    contours are returned, each simplified to within 1/200 of its square root.
    """
    found, _ = cv2.findContours(inside.astype(np.uint8), cv2.RETR_CCOMP, cv2.CHAIN_APPROX_SIMPLE)
    least = max(_MIN_CONTOUR_PX, _MIN_CONTOUR_SHARE * whole_px)
    large = sorted((c for c in found if cv2.contourArea(c) >= least), key=cv2.contourArea)
    stray = max(_MIN_STRAY_PX, _STRAY_SHARE * whole_px**0.5)
    simplified = (
        cv2.approxPolyDP(ring, stray, closed=True) for ring in large[::-1][:_MAX_CONTOURS]
    )
    return [ring.reshape(-1, 2).astype(float).tolist() for ring in simplified if len(ring) > 2]  # noqa: PLR2004 (a ring)
