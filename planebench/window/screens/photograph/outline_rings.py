"""The points of an outline as they are edited: choose, move, insert and remove points, cut holes."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import hypot

import numpy as np

from planebench.photo.outline import PixelOutline, Polygon
from planebench.window.pieces.photo_layers import OutlineLayer, Point

_LEAST_POINTS = 3
# Where points lie close together, those near the one held follow it, or it would draw a needle.
_FOLLOW = 3.0


@dataclass(slots=True)
class EditableOutline:
    """An outline taken apart: its polygons, each an outer ring and holes; one point may be chosen.

    `chosen` is polygon, ring (0 the outer one), point. `followers` are the points of its ring that
    it draws along, each with the share of its way that it goes.
    """

    polygons: list[list[list[Point]]] = field(default_factory=list)
    chosen: tuple[int, int, int] | None = None
    followers: dict[int, float] = field(default_factory=dict)

    @classmethod
    def of(cls, outline: PixelOutline) -> EditableOutline:
        """Take an outline apart."""
        return cls([[list(ring) for ring in (p.outer, *p.holes)] for p in outline.polygons])

    @property
    def outline(self) -> PixelOutline:
        """The outline put together again."""
        return PixelOutline(
            polygons=tuple(
                Polygon(outer=tuple(outer), holes=tuple(tuple(hole) for hole in holes))
                for outer, *holes in self.polygons
            )
        )

    def layers(self, *, quiet: bool = False, plain: bool = False) -> list[OutlineLayer]:
        """Return what paints it; `quiet` dashed and without points, `plain` without points."""
        return [
            OutlineLayer(
                points=outer,
                holes=holes,
                quiet=quiet,
                plain=plain,
                chosen=self._chosen_in(number),
            )
            for number, (outer, *holes) in enumerate(self.polygons)
        ]

    def choose(self, spot: Point, reach: float) -> bool:
        """Choose the point nearest to a spot, if one is within reach."""
        best = reach
        self.chosen = None
        for place, point in self._all():
            away = hypot(point[0] - spot[0], point[1] - spot[1])
            if away <= best:
                best, self.chosen = away, place
        self._gather(reach)
        return self.chosen is not None

    def insert(self, spot: Point, reach: float) -> bool:
        """Set a new point on the side that runs within reach of a spot, and choose it."""
        best, found = reach, None
        for place, start in self._all():
            polygon, ring, number = place
            points = self.polygons[polygon][ring]
            away = _off_side(spot, start, points[(number + 1) % len(points)])
            if away <= best:
                best, found = away, place
        if found is None:
            return False
        polygon, ring, number = found
        self.polygons[polygon][ring].insert(number + 1, spot)
        self.chosen = (polygon, ring, number + 1)
        self._gather(reach)
        return True

    def move(self, to: Point) -> None:
        """Move the chosen point; those that follow it go part of the way."""
        if self.chosen is None:
            return
        polygon, ring, number = self.chosen
        points = self.polygons[polygon][ring]
        x, y = to[0] - points[number][0], to[1] - points[number][1]
        for follower, share in self.followers.items():
            left, top = points[follower]
            points[follower] = (left + share * x, top + share * y)
        points[number] = to

    def nudge(self, x: float, y: float) -> None:
        """Move the chosen point by so many pixels."""
        if self.chosen is not None:
            polygon, ring, number = self.chosen
            old = self.polygons[polygon][ring][number]
            self.move((old[0] + x, old[1] + y))

    def shift(self, x: float, y: float) -> None:
        """Move the whole outline by so many pixels."""
        self.polygons = [
            [[(left + x, top + y) for left, top in ring] for ring in rings]
            for rings in self.polygons
        ]

    def remove_point(self) -> bool:
        """Take the chosen point away; with its last three, a hole goes. Say if anything went."""
        if self.chosen is None:
            return False
        polygon, ring, number = self.chosen
        points = self.polygons[polygon][ring]
        if len(points) > _LEAST_POINTS:
            del points[number]
        elif ring:
            del self.polygons[polygon][ring]
        elif len(self.polygons) > 1:
            del self.polygons[polygon]
        else:
            return False
        self.chosen, self.followers = None, {}
        return True

    def cut(self, hole: tuple[Point, ...]) -> bool:
        """Cut a hole into the polygon in which its first point lies; False if in none."""
        for rings in self.polygons:
            if _holds(rings[0], hole[0]):
                rings.append(list(hole))
                return True
        return False

    def _gather(self, reach: float) -> None:
        """Gather what follows the chosen point: the nearer along the ring, the further it goes."""
        self.followers = {}
        if self.chosen is None:
            return
        polygon, ring, number = self.chosen
        points = self.polygons[polygon][ring]
        for step in (1, -1):
            away, at = 0.0, number
            for _ in range(len(points) // 2):
                then = (at + step) % len(points)
                away += hypot(points[then][0] - points[at][0], points[then][1] - points[at][1])
                if away >= _FOLLOW * reach:
                    break
                self.followers[then] = max(
                    1 - away / (_FOLLOW * reach), self.followers.get(then, 0.0)
                )
                at = then

    def _all(self) -> list[tuple[tuple[int, int, int], Point]]:
        return [
            ((p, r, n), point)
            for p, rings in enumerate(self.polygons)
            for r, ring in enumerate(rings)
            for n, point in enumerate(ring)
        ]

    def _chosen_in(self, number: int) -> int | None:
        """Count the chosen point through the rings of one polygon, as its layer does."""
        if self.chosen is None or self.chosen[0] != number:
            return None
        _, ring, point = self.chosen
        return sum(len(one) for one in self.polygons[number][:ring]) + point


def _off_side(spot: Point, start: Point, end: Point) -> float:
    """Return how far a spot lies from a side."""
    a, b, p = np.array(start), np.array(end), np.array(spot)
    along = b - a
    share = float(np.clip((p - a) @ along / max(float(along @ along), 1e-9), 0, 1))
    return float(np.linalg.norm(p - a - share * along))


def _holds(ring: list[Point], point: Point) -> bool:
    """Tell by the even-odd rule whether a point lies in a ring."""
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside
