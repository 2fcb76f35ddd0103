"""The photograph’s scale and what is measured by it, in words."""

from __future__ import annotations

from decimal import Decimal

import numpy as np

from planebench.catalog.photo_scales import (
    RECTANGLE,
    RULER,
    SET_BY_HAND,
    TWO_POINTS,
    points_of,
    scale_of,
)
from planebench.catalog.values import Json, Photograph
from planebench.trade.geometry import Points
from planebench.trade.photo_measurement import NINETY, MeasuredValue, measure_length
from planebench.trade.units import MM_PER_INCH, format_inches, format_millimeters

# A single line says nothing about tilt, so lengths beside it are less certain.
_LESS = "less so off that line, because the tilt is unknown. A card or rectangle gives it"
_WHERE = {TWO_POINTS: f" between them, {_LESS}", RULER: f" along it, {_LESS}"}
_FIRST_DIGITS = 3
_LEFT_OUT = 0.05
_FINEST, _COARSEST = 64, 8


def describe_scale(photograph: Photograph) -> str:
    """Return the scale in words: its source, mm per pixel, and how accurate it is."""
    scale = photograph.scale
    plane = scale_of(scale)
    if scale is None or plane is None:
        return "No scale on this photograph"
    middle, ends = _tried_on(photograph, scale)
    each = plane.mm_per_px(middle)
    tried = measure_length(plane, ends, placing_px=0.0)
    good = 100 * NINETY * tried.by_scale / max(tried.value, 1e-9)
    told = f"Scale from {_source(scale)}: {each:.3g} mm per pixel"
    if scale.get("sure", True):
        return f"{told}, good to {max(good, 0.1):.1f}%{_WHERE.get(str(scale.get('kind')), '')}"
    # A card that is bent, cut off, mirrored or on a screen: why it is less sure matters more.
    warnings = scale.get("warnings")
    return f"{told}. {warnings[0]}" if isinstance(warnings, list) and warnings else told


def _tried_on(photograph: Photograph, scale: Json) -> tuple[Points, Points]:
    """Return the point (2,) where the scale is stated, and a length (2 x 2) to try it on."""
    middle = np.array([photograph.width / 2, photograph.height / 2])
    way = np.array([photograph.width / 8, 0.0])
    if scale.get("kind") in SET_BY_HAND:
        points = points_of(scale)
        middle = points.mean(axis=0)
        if scale.get("kind") in _WHERE:
            away = points - points[0]
            way = away[np.argmax(np.linalg.norm(away, axis=1))] / 4
    return middle, middle + np.array([[0.0, 0.0], way])


def describe_fit(count: int, step_mm: float | None, misses: float | None) -> str:
    """Return how many marks of a ruler are set, what they span and how well they fit, in words.

    `misses` is how far they are off, as a share of the step.
    """
    words = "1 mark set" if count == 1 else f"{count} marks set"
    if step_mm is None or count == 1:
        return f"{words}."
    words += f", {format_millimeters(Decimal(f'{(count - 1) * step_mm:.6g}'))} from end to end."
    if misses is not None:
        words += f" They are off by {misses * step_mm:.2f} mm."
    return words + (" Was one skipped or set twice?" if is_doubtful(misses) else "")


def is_doubtful(misses: float | None) -> bool:
    """Return whether a ruler's marks are so far off that one must have been skipped."""
    return misses is not None and misses > _LEFT_OUT


def format_measured(measured: MeasuredValue, unit: str) -> str:
    """Return a figure with its 90% half width: "41.3 ±0.2 mm"."""
    digits = _digits(measured.within)
    return f"{measured.value:.{digits}f} ±{measured.within:.{digits}f} {unit}"


def format_measured_inches(measured: MeasuredValue) -> str:
    """Return a length in inches, in fractions no finer than its uncertainty: "6 3/4 in"."""
    finest = _FINEST
    while finest > _COARSEST and float(MM_PER_INCH) / finest < measured.within:
        finest //= 2
    value = decimal_of(max(measured.value, 0.0), measured.within)
    return format_inches(value, denominator=finest)


def decimal_of(value: float, within: float) -> Decimal:
    """Return a figure with no more digits than its uncertainty allows."""
    return Decimal(f"{value:.{_digits(within)}f}")


def _digits(within: float) -> int:
    return 2 if within < 0.1 else 1 if within < _FIRST_DIGITS else 0  # noqa: PLR2004 (in mm)


def _source(scale: Json) -> str:
    if scale.get("kind") == TWO_POINTS:
        return "two points"
    if scale.get("kind") == RULER:
        return f"{len(points_of(scale))} marks of a ruler"
    if scale.get("kind") == RECTANGLE:
        return "a known rectangle"
    return f"the card {scale.get('stock') or ''}".strip()
