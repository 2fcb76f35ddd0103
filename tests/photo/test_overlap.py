"""How much of two outlines is the same area, against shapely."""

from __future__ import annotations

import math

import pytest
from shapely import Polygon as Exact

from planebench.photo.outline import PixelOutline, Polygon, Ring, overlap

SQUARE = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 1000.0), (0.0, 1000.0))


def round_at(x: float, y: float, radius: float) -> Ring:
    angles = [2 * math.pi * step / 48 for step in range(48)]
    return tuple((x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles)


def outline(*rings: Ring, holes: tuple[Ring, ...] = ()) -> PixelOutline:
    return PixelOutline(polygons=tuple(Polygon(outer=ring, holes=holes) for ring in rings))


@pytest.mark.parametrize("apart", [0, 200, 500, 900, 1300])
def test_the_shared_part_of_the_smaller_is_that_of_shapely(apart: int) -> None:
    first, second = round_at(3000, 2000, 600), round_at(3000 + apart, 2000, 400)
    shared = Exact(first).intersection(Exact(second)).area / Exact(second).area

    assert overlap(outline(first), outline(second)) == pytest.approx(shared, abs=0.02)


def test_what_lies_in_the_others_hole_is_not_shared() -> None:
    ring = outline(SQUARE, holes=(round_at(500, 500, 300),))

    assert overlap(ring, outline(round_at(500, 500, 250))) == pytest.approx(0, abs=0.02)
    assert overlap(ring, outline(SQUARE)) == pytest.approx(1)


def test_outlines_that_hold_nothing_share_nothing() -> None:
    assert overlap(PixelOutline(polygons=()), PixelOutline(polygons=())) == 0
    assert overlap(outline(SQUARE), PixelOutline(polygons=())) == 0
