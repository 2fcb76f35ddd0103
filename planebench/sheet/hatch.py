"""Hatching as plain lines cut to the outline, so that it prints the same on every printer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, cos, radians, sin

from planebench.sheet.content import Point, Ring

Line = tuple[float, float, float, float]


def hatch_lines(rings: Sequence[Ring], *, degrees: float, step: float) -> tuple[Line, ...]:
    """Return lines that cover the rings, `step` apart, rising at `degrees` to the right.

    A ring within a ring is a hole (even-odd rule). Lines are (x1, y1, x2, y2), rounded to 1/100
    point. They lie on one grid whatever the rings are, so that neighbors match.
    """
    return _hatch((rings,), degrees=degrees, step=step)


def hatch_lines_inside(
    rings: Sequence[Ring], outline: Sequence[Ring], *, degrees: float, step: float
) -> tuple[Line, ...]:
    """Return hatch_lines of the rings cut to an outline: what lies in its holes is not hatched."""
    return _hatch((rings, outline), degrees=degrees, step=step)


def _hatch(areas: Sequence[Sequence[Ring]], *, degrees: float, step: float) -> tuple[Line, ...]:
    turn = radians(degrees)
    along, across = (cos(turn), -sin(turn)), (sin(turn), cos(turn))
    turned = [[_turned(ring, along, across) for ring in rings if ring] for rings in areas]
    return tuple(
        (*_back(start, level, along, across), *_back(end, level, along, across))
        for level in _levels(turned[0], step)
        for start, end in _common([list(_stretches(rings, level)) for rings in turned])
    )


def _levels(turned: Sequence[Sequence[Point]], step: float) -> list[float]:
    """Return the levels of the grid that cross some turned rings."""
    levels = [v for ring in turned for _, v in ring]
    if not levels:
        return []
    return [n * step for n in range(ceil(min(levels) / step), ceil(max(levels) / step))]


def _common(stretches: Sequence[list[Point]]) -> list[Point]:
    """Return what all lists of stretches along one line share."""
    first, *others = stretches
    for other in others:
        pairs = ((max(a, c), min(b, d)) for a, b in first for c, d in other)
        first = [(start, end) for start, end in pairs if end > start]
    return first


def _turned(ring: Ring, along: Point, across: Point) -> list[Point]:
    return [(_dot(point, along), _dot(point, across)) for point in ring]


def _stretches(turned: Sequence[Sequence[Point]], level: float) -> Iterable[Point]:
    """Return where a level runs inside the rings, as pairs of crossings (even-odd rule)."""
    cuts = sorted(cut for ring in turned for cut in _cuts(ring, level))
    return zip(cuts[::2], cuts[1::2], strict=False)


def _cuts(ring: Sequence[Point], level: float) -> Iterable[float]:
    """Return where a closed ring crosses a level; a corner on the level counts once."""
    for (u1, v1), (u2, v2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (v1 <= level) != (v2 <= level):
            yield u1 + (level - v1) / (v2 - v1) * (u2 - u1)


def _dot(point: Point, axis: Point) -> float:
    return point[0] * axis[0] + point[1] * axis[1]


def _back(u: float, v: float, along: Point, across: Point) -> Point:
    return (
        round(u * along[0] + v * across[0], 2),
        round(u * along[1] + v * across[1], 2),
    )
