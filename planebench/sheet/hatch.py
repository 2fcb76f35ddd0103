"""Hatching as plain lines cut to the outline, so that it prints the same on every printer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, cos, radians, sin

from planebench.sheet.content import Point, Ring

Line = tuple[float, float, float, float]


def hatched(rings: Sequence[Ring], *, degrees: float, step: float) -> tuple[Line, ...]:
    """Cover the rings with lines `step` apart, rising at `degrees` to the right.

    A ring within a ring is a hole (even-odd rule). Lines are (x1, y1, x2, y2), rounded to 1/100
    point. They lie on one grid whatever the rings are, so that neighbors match.
    """
    turn = radians(degrees)
    along, across = (cos(turn), -sin(turn)), (sin(turn), cos(turn))
    turned = [[(_dot(p, along), _dot(p, across)) for p in ring] for ring in rings]
    levels = [v for ring in turned for _, v in ring]
    if not levels:
        return ()
    lines: list[Line] = []
    for number in range(ceil(min(levels) / step), ceil(max(levels) / step)):
        level = number * step
        cuts = sorted(cut for ring in turned for cut in _cuts(ring, level))
        for start, end in zip(cuts[::2], cuts[1::2], strict=False):
            first, last = _back(start, level, along, across), _back(end, level, along, across)
            lines.append((*first, *last))
    return tuple(lines)


def _cuts(ring: Sequence[Point], level: float) -> Iterable[float]:
    """Give where a closed ring crosses a level; a corner on the level counts once."""
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
