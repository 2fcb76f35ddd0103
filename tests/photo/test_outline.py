"""Outlines are filled exactly, and refused where they make no sense."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon as ShapelyPolygon

from planebench.errors import InputError
from planebench.photo.outline import (
    PixelOutline,
    Polygon,
    check_outline,
    mask_of,
    outline_from_json,
    outline_to_json,
)

SIZE = (120, 90)
SQUARE = ((10.0, 10.0), (60.0, 10.0), (60.0, 50.0), (10.0, 50.0))


def one(*points: tuple[float, float], holes=()) -> PixelOutline:
    return PixelOutline(polygons=(Polygon(outer=points, holes=holes),))


def star(angles: list[float], reaches: list[float]) -> tuple[tuple[float, float], ...]:
    turns = [2 * math.pi * (i + 0.8 * a) / len(angles) for i, a in enumerate(angles)]
    return tuple(
        (60.3 + r * math.cos(t), 45.7 + r * math.sin(t))
        for t, r in zip(turns, reaches, strict=True)
    )


@given(
    st.lists(st.tuples(st.floats(0, 1), st.floats(5, 40)), min_size=5, max_size=12),
    st.floats(1, 3),
)
def test_a_pixel_is_inside_where_its_center_is(corners, hole):
    # Outside check: shapely's point in polygon.
    ring = star([a for a, _ in corners], [r for _, r in corners])
    inner = tuple((60.3 + dx * hole, 45.7 + dy * hole) for dx, dy in ((-1, -1), (1, -1), (0, 1.2)))
    truth = ShapelyPolygon(ring, [])
    cut = ShapelyPolygon(inner)

    mask = mask_of(one(*ring, holes=(inner,)), SIZE)

    for y, x in np.random.default_rng(0).integers((0, 0), (90, 120), size=(60, 2)):
        spot = ShapelyPoint(float(x), float(y))
        if truth.boundary.distance(spot) < 1e-6 or cut.boundary.distance(spot) < 1e-6:
            continue
        assert bool(mask[y, x]) == (truth.contains(spot) and not cut.contains(spot))


def test_area_of_a_large_outline_agrees_with_its_polygon():
    ring = tuple((500 + 450 * math.cos(t / 40), 480 + 300 * math.sin(t / 40)) for t in range(251))

    filled = int(mask_of(one(*ring), (1000, 1000)).sum())

    assert filled == pytest.approx(ShapelyPolygon(ring).area, rel=1e-3)


def test_polygons_that_overlap_are_counted_once():
    both = PixelOutline(polygons=(Polygon(outer=SQUARE), Polygon(outer=SQUARE)))

    assert mask_of(both, SIZE).sum() == mask_of(one(*SQUARE), SIZE).sum() == 50 * 40


def test_an_outline_goes_to_json_and_back():
    outline = one(*SQUARE, holes=(((20.0, 20.0), (30.0, 20.0), (25.0, 30.0)),))

    assert outline == outline_from_json(outline_to_json(outline))


@pytest.mark.parametrize(
    ("points", "said"),
    [
        (((10, 10), (60, 50), (60, 10), (10, 50)), "crosses itself"),
        (((10, 10), (60, 10)), "no area"),
        (((10, 10), (60, 10), (100, 10)), "no area"),
        (((500, 10), (560, 10), (560, 50)), "outside the photograph"),
        (((10, 10), (20, 10), (20, 20)), "at least 200"),
    ],
)
def test_an_outline_that_holds_nothing_is_refused_with_the_reason(points, said):
    with pytest.raises(InputError, match=said):
        check_outline(one(*points), SIZE)


def test_a_small_loop_left_by_a_slip_of_the_hand_is_allowed():
    ring = (*SQUARE[:2], (60.0, 48.0), (62.0, 50.0), (60.0, 50.0), (62.0, 48.0), SQUARE[3])

    check_outline(one(*ring), SIZE)

    assert mask_of(one(*ring), SIZE).sum() > 1800


@pytest.mark.parametrize(
    "data",
    [
        None,
        [],
        {},
        {"polygons": 3},
        {"polygons": [{"outer": [[1, "a"]]}]},
        {"polygons": [[]]},
        {"polygons": [{"outer": [[1, float("nan")], [2, 3], [4, 5]]}]},
    ],
)
def test_what_is_no_outline_is_refused(data):
    with pytest.raises(InputError, match="outline"):
        outline_from_json(data)
