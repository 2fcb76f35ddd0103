"""Angles of an edge and what grinding and honing do to it."""

from __future__ import annotations

from math import hypot

import pytest

from planebench.errors import InputError
from planebench.trade.cutter_geometry import (
    bevel_for_cut,
    camber_radius,
    edge_angles,
    guide_angle,
    guide_projection,
    hollow_depth,
    mouth_closed_by,
    sharpenings_left,
)


def test_a_low_bed_with_its_bevel_up_cuts_at_the_sum_of_both():
    """A bed of 20 and a bevel of 25 cut at 45 degrees (common practice, no source)."""
    found = edge_angles(bed=20, bevel=25, bevel_up=True)

    assert (found.cutting, found.clearance, found.included) == (45, 20, 25)


def test_with_the_bevel_down_the_bed_is_the_cutting_angle():
    """A common bench plane: bed 45, bevel 25 (common practice, no source)."""
    found = edge_angles(bed=45, bevel=25, bevel_up=False)

    assert (found.cutting, found.clearance, found.included) == (45, 20, 25)


def test_a_back_bevel_steepens_a_bevel_down_cut_and_costs_a_bevel_up_one_clearance():
    down = edge_angles(bed=45, bevel=25, bevel_up=False, back_bevel=5)
    up = edge_angles(bed=12, bevel=25, bevel_up=True, back_bevel=5)

    assert (down.cutting, down.clearance) == (50, 20)
    assert (up.cutting, up.clearance) == (37, 7)


def test_cutting_is_always_clearance_and_wedge_together():
    for bed in range(12, 60, 4):
        for bevel in range(20, 35, 5):
            found = edge_angles(bed=bed, bevel=bevel, bevel_up=True, back_bevel=2)

            assert found.cutting == pytest.approx(found.clearance + found.included)


@pytest.mark.parametrize(
    ("bed", "bevel", "up", "reason"),
    [(45, 45, False, "no clearance"), (0, 25, True, "bed is 0"), (45, 95, False, "bevel is 95")],
)
def test_an_edge_that_cannot_cut_is_refused(bed, bevel, up, reason):
    with pytest.raises(InputError, match=reason):
        edge_angles(bed=bed, bevel=bevel, bevel_up=up)


def test_the_bevel_for_a_wanted_cut_gives_that_cut():
    assert bevel_for_cut(bed=12, cutting=50, bevel_up=True) == 38
    assert bevel_for_cut(bed=45, cutting=50, bevel_up=False) == 5
    with pytest.raises(InputError, match="cannot cut at 40"):
        bevel_for_cut(bed=45, cutting=40, bevel_up=False)


def test_the_projection_for_an_angle_gives_that_angle_back():
    guide = {"axle_height": 5.0, "roller_radius": 8.0, "axle_to_front": 10.0}

    for angle in (20.0, 25.0, 30.0, 35.0):
        assert guide_angle(
            projection=guide_projection(angle=angle, **guide), **guide
        ) == pytest.approx(angle)


def test_a_steeper_angle_needs_less_projection():
    guide = {"axle_height": 5.0, "roller_radius": 8.0, "axle_to_front": 10.0}

    assert guide_projection(angle=35, **guide) < guide_projection(angle=25, **guide)


def test_a_smaller_wheel_hollows_deeper():
    deep = hollow_depth(thickness=3, bevel=25, wheel_diameter=100)
    shallow = hollow_depth(thickness=3, bevel=25, wheel_diameter=250)

    assert deep == pytest.approx(0.1262, abs=1e-4)  # arc of 7.1 mm on a radius of 50
    assert deep > 2 * shallow


def test_a_bevel_longer_than_the_wheel_is_refused():
    with pytest.raises(InputError, match="wheel of 5 mm"):
        hollow_depth(thickness=3, bevel=20, wheel_diameter=5)


def test_sharpenings_left_have_a_range():
    left = sharpenings_left(usable_mm=30, per_sharpening_mm=0.1, within_mm=0.02)

    assert (left.fewest, left.count, left.most) == (250, 300, 375)


def test_steel_per_sharpening_of_zero_is_refused():
    with pytest.raises(InputError, match="steel per sharpening"):
        sharpenings_left(usable_mm=30, per_sharpening_mm=0)


def test_a_camber_is_the_arc_through_its_corners():
    radius = camber_radius(width=41.3, depth=0.2)

    assert hypot(41.3 / 2, radius - 0.2) == pytest.approx(radius)


def test_a_thicker_cutter_closes_the_mouth_by_more_than_its_thickness():
    assert mouth_closed_by(thicker_mm=1, bed=45) == pytest.approx(1.4142, abs=1e-4)
