"""Places numbered balloons on a printed photograph so that none hides another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, dist, pi, sin

from planebench.sheet.content import Crop, Point, SheetPin

RADIUS = 6.5
"""Points: room for two digits at 8 points, small enough to leave the tool visible."""

_REACHES = (24.0, 36.0, 50.0, 68.0)
_DIRECTIONS = 24
_CLEAR = 5.0
"""Points that a balloon or its leader should keep clear of what belongs to other numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Balloon:
    """A number, the spot it marks and its center, in points from the print's top left."""

    number: int
    spot: Point
    at: Point


def place_balloons(pins: Iterable[SheetPin], crop: Crop, size: Point) -> tuple[Balloon, ...]:
    """Return a balloon for each pin inside the crop; `size` is the print's width and height.

    A balloon placed by a person stays there, moved in from the edge if needed, unless it would
    hide another on a small print. The others go as near to their spot as they can while clear of
    all spots, balloons and leaders.
    """
    inside = _inside(pins, crop, size)
    spots = [spot for _, spot in inside]
    placed: list[Balloon] = []
    for pin, spot in inside:
        at = None if pin.balloon is None else _as_placed(pin.balloon, placed, crop, size)
        if at is None:
            at = _clearest(spot, spots, placed, size)
        placed.append(Balloon(number=pin.number, spot=spot, at=at))
    return tuple(placed)


def _inside(pins: Iterable[SheetPin], crop: Crop, size: Point) -> list[tuple[SheetPin, Point]]:
    spots = [(pin, _on_print(pin.x, pin.y, crop, size)) for pin in pins]
    return [(pin, (x, y)) for pin, (x, y) in spots if 0 <= x <= size[0] and 0 <= y <= size[1]]


def _as_placed(balloon: Point, placed: Sequence[Balloon], crop: Crop, size: Point) -> Point | None:
    """Return where a person placed a balloon; None if it would hide another on this print."""
    at = _pulled_in(_on_print(*balloon, crop, size), size)
    return at if all(dist(at, other.at) >= 2 * RADIUS + 1 for other in placed) else None


def _on_print(x: float, y: float, crop: Crop, size: Point) -> Point:
    return (
        (x - crop.left) / (crop.right - crop.left) * size[0],
        (y - crop.top) / (crop.bottom - crop.top) * size[1],
    )


def _pulled_in(at: Point, size: Point) -> Point:
    edge = RADIUS + 2
    return (
        min(max(at[0], edge), max(size[0] - edge, edge)),
        min(max(at[1], edge), max(size[1] - edge, edge)),
    )


def _clearest(spot: Point, spots: Sequence[Point], placed: Sequence[Balloon], size: Point) -> Point:
    tries = _places_around(spot, size) or [_pulled_in(spot, size)]
    middle = (sum(x for x, _ in spots) / len(spots), sum(y for _, y in spots) / len(spots))
    others = [other for other in spots if other != spot]
    return min(tries, key=lambda at: _cost(at, spot, others, placed) - dist(at, middle) / 50)


def _places_around(spot: Point, size: Point) -> list[Point]:
    scale = min(1.0, size[0] / 300)
    tries = [
        (spot[0] + reach * scale * cos(angle), spot[1] + reach * scale * sin(angle))
        for reach in _REACHES
        for angle in (2 * pi * step / _DIRECTIONS for step in range(_DIRECTIONS))
    ]
    return [at for at in tries if at == _pulled_in(at, size)]


def _cost(at: Point, spot: Point, others: Sequence[Point], placed: Sequence[Balloon]) -> float:
    """Return the cost of a place: crossings most, then crowding, then the leader's length.

    A crossed leader sends the eye to the wrong spot, so one crossing outweighs ten points of
    crowding; length only decides between places that are otherwise as good.
    """
    crowding = sum(_crowded_by_spot(at, spot, other) for other in others)
    crowding += sum(_crowded_by_balloon(at, spot, ball) for ball in placed)
    crossings = sum(_cross(spot, at, ball.spot, ball.at) for ball in placed)
    return crowding * 10 + crossings * 100 + dist(at, spot) / 10


def _crowded_by_spot(at: Point, spot: Point, other: Point) -> float:
    return _short_of(RADIUS + _CLEAR, dist(at, other)) + _short_of(_CLEAR, _off(other, spot, at))


def _crowded_by_balloon(at: Point, spot: Point, ball: Balloon) -> float:
    return (
        _short_of(2 * RADIUS + _CLEAR, dist(at, ball.at))
        + _short_of(RADIUS + _CLEAR, _off(ball.at, spot, at))
        + _short_of(RADIUS + _CLEAR, _off(at, ball.spot, ball.at))
    )


def _short_of(wanted: float, got: float) -> float:
    return max(0.0, wanted - got)


def _off(point: Point, start: Point, end: Point) -> float:
    """Return the distance from a point to the segment between two others."""
    along = (end[0] - start[0], end[1] - start[1])
    length = along[0] ** 2 + along[1] ** 2
    share = 0.0
    if length:
        share = ((point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]) / length
        share = min(1.0, max(0.0, share))
    return dist(point, (start[0] + share * along[0], start[1] + share * along[1]))


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _turn(a, b, c) != _turn(a, b, d) and _turn(c, d, a) != _turn(c, d, b)


def _turn(a: Point, b: Point, c: Point) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) > (b[1] - a[1]) * (c[0] - a[0])
