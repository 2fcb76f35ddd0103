"""The points of an outline while it is edited: select, move, insert, remove, cut holes."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import hypot

import numpy as np

from planebench.errors import PlanebenchError
from planebench.photo.outline import PixelOutline, Polygon, check_outline
from planebench.window.pieces.photo_layers import OutlineLayer, Point

_LEAST_POINTS = 3
# Where points lie close together, neighbors follow the dragged one, or it would leave a spike.
# They follow within 3 times the reach of the pointer.
_FOLLOW = 3.0


@dataclass(slots=True)
class EditableOutline:
    """An outline as lists that can be edited: polygons of an outer ring and holes.

    `chosen` is polygon, ring (0 the outer one), point. `followers` are the points of its ring that
    it draws along, each with the share of the move that it makes.
    """

    polygons: list[list[list[Point]]] = field(default_factory=list)
    chosen: tuple[int, int, int] | None = None
    followers: dict[int, float] = field(default_factory=dict)

    @classmethod
    def of(cls, outline: PixelOutline) -> EditableOutline:
        """Return an editable copy of an outline."""
        return cls([[list(ring) for ring in (p.outer, *p.holes)] for p in outline.polygons])

    @property
    def outline(self) -> PixelOutline:
        """The outline as a value."""
        return PixelOutline(
            polygons=tuple(
                Polygon(outer=tuple(outer), holes=tuple(tuple(hole) for hole in holes))
                for outer, *holes in self.polygons
            )
        )

    def layers(self, *, quiet: bool = False, plain: bool = False) -> list[OutlineLayer]:
        """Return the layers that paint it; `quiet`: dashed, no points; `plain`: no points."""
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
        """Select the point nearest to a spot within reach (pixels); return whether there is one."""
        best = reach
        self.chosen = None
        for place, point in self._all():
            away = hypot(point[0] - spot[0], point[1] - spot[1])
            if away <= best:
                best, self.chosen = away, place
        self._gather(reach)
        return self.chosen is not None

    def insert(self, spot: Point, reach: float) -> bool:
        """Insert a point on the side within reach (pixels) of a spot and select it."""
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
        """Move the selected point; its followers go part of the way."""
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
        """Move the selected point by (x, y) pixels."""
        if self.chosen is not None:
            polygon, ring, number = self.chosen
            old = self.polygons[polygon][ring][number]
            self.move((old[0] + x, old[1] + y))

    def shift(self, x: float, y: float) -> None:
        """Move the whole outline by (x, y) pixels."""
        self.polygons = [
            [[(left + x, top + y) for left, top in ring] for ring in rings]
            for rings in self.polygons
        ]

    def remove_point(self) -> bool:
        """Remove the selected point; a hole of three points goes whole. Return whether it did."""
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
        """Find the followers of the selected point: the nearer, the larger their share."""
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
        """Return the index of the selected point over all rings of a polygon."""
        if self.chosen is None or self.chosen[0] != number:
            return None
        _, ring, point = self.chosen
        return sum(len(one) for one in self.polygons[number][:ring]) + point


def _off_side(spot: Point, start: Point, end: Point) -> float:
    """Return the distance in pixels from a spot to a side."""
    a, b, p = np.array(start), np.array(end), np.array(spot)
    along = b - a
    share = float(np.clip((p - a) @ along / max(float(along @ along), 1e-9), 0, 1))
    return float(np.linalg.norm(p - a - share * along))


def _holds(ring: list[Point], point: Point) -> bool:
    """Return whether a point lies in a ring, by the even-odd rule."""
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside


def ring_error(ring: tuple[Point, ...], size: tuple[int, int]) -> PlanebenchError | None:
    """Return why a ring encloses nothing on a photograph of `size` (width, height), or None."""
    try:
        check_outline(PixelOutline(polygons=(Polygon(outer=ring),)), size)
    except PlanebenchError as error:
        return error
    return None
