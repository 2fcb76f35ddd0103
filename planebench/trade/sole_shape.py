"""What a sole that is not flat is like: twisted, hollow or bellied; its lines, mouth and ends."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from planebench.errors import InputError
from planebench.trade.flatness import Flatness, SolePoints

_EXPLAINED = 0.5
"""Share of the unevenness that a simple shape must explain to be named; below, the sole is uneven.
A half: the shape then says more than everything else together."""

_LEAST_ON_LINE = 3


class SoleShape(StrEnum):
    """The simple shape that most of the unevenness has."""

    FLAT = "flat"
    TWISTED = "twisted"
    HOLLOW_ALONG = "hollow along"
    BELLY_ALONG = "belly along"
    HOLLOW_ACROSS = "hollow across"
    BELLY_ACROSS = "belly across"
    UNEVEN = "uneven"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeOfSole:
    """The twist and the rise of the middle of a sole, in millimeters.

    `twist_mm` is how far one corner of the rectangle around all readings stands from the plane
    of the other three, positive where the corner of largest x and y, and the one across from it,
    stand high. `rise_along_mm` and `rise_across_mm` are how far the middle stands above the ends
    (belly) or below (hollow, negative); 0 where too few readings lie along or across.
    """

    shape: SoleShape
    twist_mm: float
    rise_along_mm: float
    rise_across_mm: float


def shape_of_sole(points: SolePoints, flatness: Flatness, *, flat_below_mm: float) -> ShapeOfSole:
    """Fit twist and curvature to N x 3 readings by least squares and name the largest.

    Nothing is named where the minimum zone is `flat_below_mm` or less: the readings show no more.
    """
    x, y = _centered(points[:, 0]), _centered(points[:, 1])
    terms = {"plane": np.column_stack((np.ones(len(points)), x, y)), "twist": (x * y)[:, None]}
    for name, values in (("along", x), ("across", y)):
        if len(np.unique(np.round(values, 6))) >= _LEAST_ON_LINE:
            terms[name] = (values**2)[:, None]
    design = np.hstack(list(terms.values()))
    fitted = np.linalg.lstsq(design, points[:, 2], rcond=None)[0]
    found = dict(zip(list(terms)[1:], fitted[3:].tolist(), strict=True))
    left = points[:, 2] - design @ fitted
    share = 1.0 - float((left**2).sum()) / max(float((flatness.heights**2).sum()), 1e-300)
    # In coordinates from -1 to 1 the corners differ by 4 times the product's factor, the middle
    # from the ends by the square's.
    return ShapeOfSole(
        shape=_named(found, share, flat=flatness.mz_mm <= flat_below_mm),
        twist_mm=4.0 * found["twist"],
        rise_along_mm=-found.get("along", 0.0),
        rise_across_mm=-found.get("across", 0.0),
    )


def _centered(values: SolePoints) -> SolePoints:
    """Return values moved and scaled to run from -1 to 1."""
    low, high = float(values.min()), float(values.max())
    return np.asarray((2.0 * values - low - high) / (high - low))


def _named(found: dict[str, float], share: float, *, flat: bool) -> SoleShape:
    if flat:
        return SoleShape.FLAT
    # Unevenness from twist runs over 2 factors of the product, from a square over one.
    sizes = {
        SoleShape.TWISTED: 2.0 * abs(found["twist"]),
        SoleShape.BELLY_ALONG: max(-found.get("along", 0.0), 0.0),
        SoleShape.HOLLOW_ALONG: max(found.get("along", 0.0), 0.0),
        SoleShape.BELLY_ACROSS: max(-found.get("across", 0.0), 0.0),
        SoleShape.HOLLOW_ACROSS: max(found.get("across", 0.0), 0.0),
    }
    return max(sizes, key=lambda shape: sizes[shape]) if share >= _EXPLAINED else SoleShape.UNEVEN


def straightness(distances_mm: SolePoints, heights_mm: SolePoints) -> float:
    """Return the straightness deviation of readings along a line, in mm.

    The distance between the closest two parallel lines that hold them all (ISO 12780-1, minimum
    zone); they touch one edge of the readings' hull and a corner across from it. Raises
    InputError for fewer than three readings.
    """
    if len(distances_mm) < _LEAST_ON_LINE:
        raise InputError(
            f"A line needs three readings or more; there are {len(distances_mm)}.",
            remedy="Read the gap at one more place along the line.",
            subject="line",
        )
    points = np.column_stack((distances_mm, heights_mm))
    first, second = np.triu_indices(len(points), 1)
    along = points[second] - points[first]
    lengths = np.hypot(along[:, 0], along[:, 1])
    apart = lengths > 0
    normals = np.column_stack((-along[apart, 1], along[apart, 0])) / lengths[apart, None]
    return float(np.ptp(normals @ points.T, axis=1).min())


def mouth_above_line(points: SolePoints, *, toe: float, mouth: float, heel: float) -> float:
    """Return how far the mouth stands above (below: negative) the line from toe to heel, in mm.

    The three are places along the sole (x); at each, the readings nearest to it are averaged
    across. On a plane that works, toe, mouth and heel touch the board at once.
    """
    heights = [_height_at(points, place) for place in (toe, mouth, heel)]
    share = (mouth - toe) / (heel - toe)
    return heights[1] - ((1 - share) * heights[0] + share * heights[2])


def _height_at(points: SolePoints, place: float) -> float:
    away = np.abs(points[:, 0] - place)
    return float(points[away <= away.min() + 1e-6, 2].mean())
