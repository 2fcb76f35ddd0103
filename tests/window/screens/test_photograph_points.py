"""Points of an outline that are moved: alone where they lie far apart, together where close."""

from __future__ import annotations

import numpy as np
import pytest

from planebench.photo.outline import PixelOutline, Polygon
from planebench.window.screens.photograph.outline_rings import EditableOutline


def rings(ring):
    return EditableOutline.of(PixelOutline(polygons=(Polygon(outer=tuple(ring)),)))


def dense_square():
    """Return a square of side 100 with a point at every second pixel."""
    side = np.arange(0, 100, 2.0)
    ring = [(x, 0.0) for x in side]
    ring += [(100.0, y) for y in side]
    ring += [(100 - x, 100.0) for x in side]
    return [*ring, *((0.0, 100 - y) for y in side)]


def test_a_point_far_from_others_moves_alone():
    moved = rings([(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)])
    moved.choose((100.0, 1.0), 8.0)
    moved.move((120.0, -10.0))

    assert moved.polygons[0][0] == [(0.0, 0.0), (120.0, -10.0), (100.0, 100.0), (0.0, 100.0)]


def test_points_close_together_follow_the_one_held_and_make_no_needle():
    moved = rings(dense_square())
    moved.choose((50.0, 0.0), 8.0)
    for y in (5.0, 10.0):
        moved.move((50.0, y))

    ring = np.array(moved.polygons[0][0])
    assert ring[25] == pytest.approx([50, 10])
    assert ring[24, 1] == pytest.approx(ring[26, 1])
    assert np.abs(np.diff(ring[:50, 1])).max() < 1
    assert ring[25 - 12, 1] == 0


def test_what_follows_is_told_anew_for_each_point_held():
    moved = rings(dense_square())
    moved.choose((50.0, 0.0), 8.0)
    moved.choose((50.0, 100.0), 8.0)
    moved.move((50.0, 110.0))

    assert np.array(moved.polygons[0][0])[:50, 1] == pytest.approx(0)
