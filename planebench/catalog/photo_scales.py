"""The scale of a photograph as the catalog keeps it: read to a plane, and written from points."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.values import Json
from planebench.trade.geometry import Points
from planebench.trade.photo_scale import (
    PhotoScale,
    along_ruler,
    ruler_misses,
    scale_by_matrix,
    scale_by_rectangle,
    scale_by_ruler,
    scale_by_two_points,
)

TWO_POINTS, RULER, RECTANGLE = "two_points", "ruler", "rectangle"
SET_BY_HAND = frozenset({TWO_POINTS, RULER, RECTANGLE})


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownScale:
    """What is known of the points set, in mm: how far apart two are, or a rectangle's sides.

    With `ruler` the points are marks of a ruler, any number of them, each so far from the next.
    """

    across_mm: float
    down_mm: float | None = None
    ruler: bool = False


def scale_of(scale: Json | None) -> PhotoScale | None:
    """Read a photograph's scale; None where it has none that can be read."""
    if not scale:
        return None
    try:
        return _read(scale)
    except (KeyError, ValueError, TypeError, np.linalg.LinAlgError):
        return None


def _read(scale: Json) -> PhotoScale | None:
    if scale["kind"] == TWO_POINTS:
        return scale_by_two_points(_floats(scale["points"]), apart_mm=float(str(scale["apart_mm"])))
    if scale["kind"] == RULER:
        points = _floats(scale["points"])
        return scale_by_ruler(points, _marks(points, float(str(scale["step_mm"]))))
    if scale["kind"] == RECTANGLE:
        return scale_by_rectangle(
            _floats(scale["points"]),
            width_mm=float(str(scale["width_mm"])),
            height_mm=float(str(scale["height_mm"])),
        )
    error = float(str(scale.get("scale_error", 0.01)))
    return scale_by_matrix(_floats(scale["matrix_px_to_mm"]), error=error)


def scale_json(points: Points, known: KnownScale) -> Json:
    """Write a scale by two points, a ruler's marks or the corners of a rectangle, as it is kept.

    Raises ValueError where the points fix no plane.
    """
    given: Json = {"points": points.tolist()}
    if known.ruler:
        points = along_ruler(points)
        given = {"points": points.tolist(), "kind": RULER, "step_mm": known.across_mm}
    elif known.down_mm is None:
        given |= {"kind": TWO_POINTS, "apart_mm": known.across_mm}
    else:
        given |= {"kind": RECTANGLE, "width_mm": known.across_mm, "height_mm": known.down_mm}
    found = _read(given)
    if found is None or not np.isfinite(found.px_to_mm).all():
        raise ValueError("the points fix no plane")
    middle = points.mean(axis=0)
    return given | {
        "matrix_px_to_mm": found.px_to_mm.tolist(),
        "mm_per_px": found.mm_per_px(middle),
    }


def misses_of(points: Points, step_mm: float) -> float:
    """Return by how much a ruler's marks, `step_mm` apart, miss their places, in mm.

    Raises ValueError where they lie on one spot.
    """
    points = along_ruler(points)
    marks = _marks(points, step_mm)
    return ruler_misses(scale_by_ruler(points, marks), points, marks)


def points_of(scale: Json) -> Points:
    """Return the points that a scale was set by, N x 2 in pixels."""
    return _floats(scale["points"])


def _marks(points: Points, step_mm: float) -> NDArray[np.float64]:
    return np.arange(len(points), dtype=np.float64) * step_mm


def _floats(value: object) -> Points:
    return np.array(value, dtype=np.float64)
