"""The scale of a photograph as the catalog keeps it: read to a plane, and written from points."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planebench.catalog.values import Json
from planebench.trade.geometry import Points
from planebench.trade.plane_scale import (
    PlaneScale,
    scale_by_matrix,
    scale_by_rectangle,
    scale_by_two_points,
)

TWO_POINTS, RECTANGLE = "two_points", "rectangle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is known of the points set: how far apart two are, or a rectangle's sides, in mm."""

    across_mm: float
    down_mm: float | None = None


def scale_of(scale: Json | None) -> PlaneScale | None:
    """Read a photograph's scale; None where it has none that can be read."""
    if not scale:
        return None
    try:
        return _read(scale)
    except (KeyError, ValueError, TypeError, np.linalg.LinAlgError):
        return None


def _read(scale: Json) -> PlaneScale | None:
    if scale["kind"] == TWO_POINTS:
        return scale_by_two_points(_floats(scale["points"]), apart_mm=float(str(scale["apart_mm"])))
    if scale["kind"] == RECTANGLE:
        return scale_by_rectangle(
            _floats(scale["points"]),
            width_mm=float(str(scale["width_mm"])),
            height_mm=float(str(scale["height_mm"])),
        )
    error = float(str(scale.get("scale_error", 0.01)))
    return scale_by_matrix(_floats(scale["matrix_px_to_mm"]), error=error)


def scale_json(points: Points, known: Known) -> Json:
    """Write a scale by two points, or by the four corners of a rectangle, as it is kept.

    Raises ValueError where the points fix no plane.
    """
    given: Json = {"points": points.tolist()}
    if known.down_mm is None:
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


def points_of(scale: Json) -> Points:
    """Give the points that a scale was set by, N x 2 in pixels."""
    return _floats(scale["points"])


def _floats(value: object) -> Points:
    return np.array(value, dtype=np.float64)
