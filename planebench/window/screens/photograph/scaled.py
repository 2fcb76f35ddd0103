"""The scale of the photograph: read from its record, written to it, told in words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from planebench.catalog.values import Json, Photograph
from planebench.trade.geometry import Points
from planebench.trade.plane_measure import NINETY, Measured, length
from planebench.trade.plane_scale import (
    PlaneScale,
    scale_by_matrix,
    scale_by_rectangle,
    scale_by_two_points,
)
from planebench.trade.units import format_millimeters

CARD, TWO_POINTS, RECTANGLE = "card", "two_points", "rectangle"
_FIRST_DIGITS = 3


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


def scale_words(photograph: Photograph) -> str:
    """Tell what the scale came from, how large a pixel is, and how good that is."""
    scale = photograph.scale
    plane = scale_of(scale)
    if scale is None or plane is None:
        return "No scale on this photograph"
    middle = np.array([photograph.width / 2, photograph.height / 2])
    if scale.get("kind") in {TWO_POINTS, RECTANGLE}:
        middle = _floats(scale["points"]).mean(axis=0)
    each = plane.mm_per_px(middle)
    ends = middle + np.array([[0.0, 0.0], [photograph.width / 8, 0.0]])
    tried = length(plane, ends, placing_px=0.0)
    good = 100 * NINETY * tried.by_scale / max(tried.value, 1e-9)
    return f"Scale from {_source(scale)}: {each:.3g} mm a pixel, good to {max(good, 0.1):.1f} %"


def say_measured(measured: Measured, unit: str) -> str:
    """Tell a figure with its 90 % half width: "41.3 ± 0.2 mm"."""
    digits = _digits(measured.within)
    return f"{measured.value:.{digits}f} ± {measured.within:.{digits}f} {unit}"


def decimal_of(value: float, within: float) -> Decimal:
    """Give a figure with no more digits than its doubt allows."""
    return Decimal(f"{value:.{_digits(within)}f}")


def size_words(measured: Measured) -> str:
    """Tell a length as a defect's size: "12.4 mm"."""
    return format_millimeters(decimal_of(measured.value, measured.within))


def _digits(within: float) -> int:
    return 2 if within < 0.1 else 1 if within < _FIRST_DIGITS else 0  # noqa: PLR2004 (in mm)


def _source(scale: Json) -> str:
    if scale.get("kind") == TWO_POINTS:
        return "two points"
    if scale.get("kind") == RECTANGLE:
        return "a known rectangle"
    return f"the card {scale.get('stock') or ''}".strip()


def _floats(value: object) -> Points:
    return np.array(value, dtype=np.float64)
