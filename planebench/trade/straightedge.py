"""SolePoints of a sole from gaps under a straightedge laid along, across and corner to corner."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from planebench.errors import InputError
from planebench.trade.flatness import SolePoints

Place = tuple[float, float]
"""A place on the sole: x along and y across, in millimeters."""

_PLANE = 3
"""Gaps tell heights up to a plane, which has three unknowns."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GapReading:
    """The gap under the straightedge at one place, in mm, between two leaves of the gauge.

    `goes_mm` is the thickest leaf that goes under it, `stops_mm` the thinnest that does not.
    """

    place: Place
    goes_mm: float
    stops_mm: float

    def __post_init__(self) -> None:
        if self.goes_mm < 0:
            raise InputError(
                f"The gap is {self.goes_mm:g} mm.",
                remedy="A gap is 0 or more. Stand the straightedge on two equal pads, so that a "
                "belly leaves a gap too.",
                subject="gap",
            )
        if self.stops_mm < self.goes_mm:
            raise InputError(
                f"A leaf of {self.goes_mm:g} mm goes in, but one of {self.stops_mm:g} mm does not.",
                remedy="Check the two leaves; the thinner one should be the one that goes in.",
                subject="gap",
            )

    @property
    def gap_mm(self) -> float:
        """The middle of what the gap can be."""
        return (self.goes_mm + self.stops_mm) / 2

    @property
    def doubt_mm(self) -> float:
        """Half the step between the two leaves."""
        return (self.stops_mm - self.goes_mm) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class SoleHeights:
    """SolePoints at the places read (N x 3), and how far each line disagrees with others, in mm.

    `disagreement_mm` is the largest difference between a gap and the one the heights would leave;
    `doubtful_lines` are those whose difference is more than their leaves explain.
    """

    points: SolePoints
    disagreement_mm: Mapping[str, float]
    doubtful_lines: tuple[str, ...]


def heights_from_gaps(lines: Mapping[str, Sequence[GapReading]]) -> SoleHeights:
    """Find heights by least squares from lines of gaps, named by letter.

    A straightedge lies at a height and a slope of its own on each line, which drop out; lines
    that cross at places read on both tie the whole together. Raises InputError where the lines
    do not, and says which line hangs loose.
    """
    places = list(dict.fromkeys(r.place for readings in lines.values() for r in readings))
    number = {place: n for n, place in enumerate(places)}
    rows, gaps = _equations(lines, number)
    unknowns = len(places) + 2 * len(lines)
    if np.linalg.matrix_rank(rows) < unknowns - _PLANE:
        raise InputError(
            "The lines do not cross at enough places that were read on both.",
            remedy=f"Read where line {_loosest(lines)} crosses the others.",
            subject="lines",
        )
    found = np.linalg.lstsq(rows, gaps, rcond=None)[0]
    points = np.column_stack((np.array(places), found[: len(places)]))
    points[:, 2] -= _plane_through(points)
    misses = np.abs(rows @ found - gaps)
    return _compared(lines, points, misses)


def _equations(
    lines: Mapping[str, Sequence[GapReading]], number: Mapping[Place, int]
) -> tuple[SolePoints, SolePoints]:
    """Return one row per reading: gap = edge height + slope times distance - sole height."""
    count = sum(map(len, lines.values()))
    rows, gaps = np.zeros((count, len(number) + 2 * len(lines))), np.zeros(count)
    at = 0
    for line, readings in enumerate(lines.values()):
        start = np.array(readings[0].place) if readings else np.zeros(2)
        for reading in readings:
            first = len(number) + 2 * line
            rows[at, number[reading.place]] = -1.0
            rows[at, first] = 1.0
            # In units of 100 mm, so that slopes and heights are of one size in the equations.
            rows[at, first + 1] = float(np.linalg.norm(np.array(reading.place) - start)) / 100.0
            gaps[at] = reading.gap_mm
            at += 1
    return rows, gaps


def _plane_through(points: SolePoints) -> SolePoints:
    design = np.column_stack((np.ones(len(points)), points[:, :2]))
    return np.asarray(design @ np.linalg.lstsq(design, points[:, 2], rcond=None)[0])


def _loosest(lines: Mapping[str, Sequence[GapReading]]) -> str:
    """Return the line that shares the fewest places with others."""

    def shared(name: str) -> int:
        others = {r.place for key, rs in lines.items() if key != name for r in rs}
        return sum(reading.place in others for reading in lines[name])

    return min(lines, key=shared)


def _compared(
    lines: Mapping[str, Sequence[GapReading]], points: SolePoints, misses: SolePoints
) -> SoleHeights:
    worst: dict[str, float] = {}
    doubtful: list[str] = []
    at = 0
    for name, readings in lines.items():
        own = misses[at : at + len(readings)]
        at += len(readings)
        worst[name] = float(own.max()) if len(readings) else 0.0
        if any(miss > reading.doubt_mm for miss, reading in zip(own, readings, strict=True)):
            doubtful.append(name)
    return SoleHeights(points=points, disagreement_mm=worst, doubtful_lines=tuple(doubtful))
