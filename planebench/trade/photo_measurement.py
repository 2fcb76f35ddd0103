"""Lengths, angles, circles and areas on a scaled plane, each with what makes it unsure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from planebench.trade.geometry import Matrix, Points, area, circle_through, mapped
from planebench.trade.photo_scale import PLACING_PX, PhotoScale

NINETY = 1.6449
"""Half a 90% interval in standard deviations of a normal spread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightAboveCard:
    """How high above the scaled plane the measured thing stands, within what, seen from how far.

    All in millimeters; `distance_mm` is from the lens to the plane, and larger than the height.
    """

    height_mm: float
    within_mm: float
    distance_mm: float

    def __post_init__(self) -> None:
        if not 0 <= abs(self.height_mm) + self.within_mm < self.distance_mm:
            raise ValueError(f"nothing stands {self.height_mm} mm high before the lens")

    @property
    def measures_large_by(self) -> float:
        """The share by which it measures too large: h / (D - h)."""
        return self.height_mm / (self.distance_mm - self.height_mm)

    @property
    def doubt(self) -> float:
        """The share by which a length on it is unsure, for its height is: dh / (D - h)."""
        return self.within_mm / (self.distance_mm - self.height_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredValue:
    """A figure in millimeters, square millimeters or degrees, and three doubts about it.

    `by_placing` for the points set, `by_scale` for the scale, `by_height` for standing off the
    plane: one standard deviation each, in the figure's own unit.
    """

    value: float
    by_placing: float
    by_scale: float
    by_height: float

    @property
    def doubt(self) -> float:
        """All three together, one standard deviation."""
        return sqrt(self.by_placing**2 + self.by_scale**2 + self.by_height**2)

    @property
    def within(self) -> float:
        """Half the width of the 90% interval."""
        return NINETY * self.doubt


def measure_length(
    scale: PhotoScale,
    ends_px: Points,
    *,
    off_plane: HeightAboveCard | None = None,
    placing_px: float = PLACING_PX,
) -> MeasuredValue:
    """Measure between two points, in mm; what stands off the plane is brought back to its size."""
    return _measured(scale, ends_px, placing_px, off_plane, _Figure(ask=_length, power=1))


def measure_angle(
    scale: PhotoScale, arms_px: Points, *, placing_px: float = PLACING_PX
) -> MeasuredValue:
    """Measure the angle at the middle one of three points, 0 to 180 degrees."""
    return _measured(scale, arms_px, placing_px, None, _Figure(ask=_angle, power=0))


def measure_diameter(
    scale: PhotoScale,
    rim_px: Points,
    *,
    off_plane: HeightAboveCard | None = None,
    placing_px: float = PLACING_PX,
) -> MeasuredValue:
    """Measure a circle's diameter by three or more points of its rim, in mm."""
    return _measured(scale, rim_px, placing_px, off_plane, _Figure(ask=_diameter, power=1))


def surface(
    scale: PhotoScale,
    outer_px: Points,
    holes_px: Sequence[Points] = (),
    *,
    off_plane: HeightAboveCard | None = None,
    placing_px: float = PLACING_PX,
) -> MeasuredValue:
    """Measure the area inside an outline and outside its holes, in mm².

    Straight lines stay straight in perspective, so the corners alone need be taken to the plane.
    """
    ends = np.cumsum([len(outer_px), *(len(hole) for hole in holes_px)])

    def ask(points: Points) -> float:
        outer, *holes = np.split(points, ends[:-1])
        return area(outer, holes)

    points = np.vstack((outer_px, *holes_px))
    return _measured(scale, points, placing_px, off_plane, _Figure(ask=ask, power=2))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Figure:
    """What is asked of points in mm, and the power of a length that it is."""

    ask: Callable[[Points], float]
    power: int


def _length(points: Points) -> float:
    return float(np.linalg.norm(points[1] - points[0]))


def _angle(points: Points) -> float:
    one, other = points[0] - points[1], points[2] - points[1]
    across = one[0] * other[1] - one[1] * other[0]
    return float(np.degrees(abs(np.arctan2(across, one @ other))))


def _diameter(points: Points) -> float:
    return 2 * circle_through(points)[1]


def _measured(
    scale: PhotoScale,
    px: Points,
    placing_px: float,
    off_plane: HeightAboveCard | None,
    figure: _Figure,
) -> MeasuredValue:
    """Ask once as given, then with each input off by its doubt; the differences add as squares."""
    px = np.asarray(px, dtype=np.float64)

    def asked(matrix: Matrix, points: Points) -> float:
        return figure.ask(mapped(matrix, points))

    value = asked(scale.px_to_mm, px)
    by_scale = sqrt(sum((asked(doubt, px) - value) ** 2 for doubt in scale.doubts))
    placed = 0.0
    for place in range(px.size):
        off = px.copy()
        off.flat[place] += placing_px
        placed += (asked(scale.px_to_mm, off) - value) ** 2
    shrunk, height = 1.0, 0.0
    if off_plane is not None:
        shrunk = (1 + off_plane.measures_large_by) ** -figure.power
        height = figure.power * off_plane.doubt
    return MeasuredValue(
        value=value * shrunk,
        by_placing=sqrt(placed) * shrunk,
        by_scale=by_scale * shrunk,
        by_height=value * shrunk * height,
    )
