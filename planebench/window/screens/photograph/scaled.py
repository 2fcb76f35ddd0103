"""The scale of the photograph and what is measured by it, told in words."""

from __future__ import annotations

from decimal import Decimal

import numpy as np

from planebench.catalog.scales import RECTANGLE, TWO_POINTS, points_of, scale_of
from planebench.catalog.values import Json, Photograph
from planebench.trade.plane_measure import NINETY, Measured, length
from planebench.trade.units import format_millimeters

_FIRST_DIGITS = 3


def scale_words(photograph: Photograph) -> str:
    """Tell what the scale came from, how large a pixel is, and how good that is."""
    scale = photograph.scale
    plane = scale_of(scale)
    if scale is None or plane is None:
        return "No scale on this photograph"
    middle = np.array([photograph.width / 2, photograph.height / 2])
    if scale.get("kind") in {TWO_POINTS, RECTANGLE}:
        middle = points_of(scale).mean(axis=0)
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
