"""Flatness of a sole: tilt does not count, doubt and verdict follow the readings."""

from __future__ import annotations

import numpy as np
import pytest

from planebench.errors import InputError
from planebench.trade.flatness import (
    FlatnessVerdict,
    iron_to_remove,
    judge_flatness,
    measure_flatness,
)
from planebench.trade.flatness_readings import parse_readings
from planebench.trade.sole_shape import SoleShape, mouth_above_line, shape_of_sole, straightness

GRID = np.array([[x, y] for x in (0.0, 120.0, 240.0) for y in (0.0, 30.0, 60.0)])


def sole(*heights):
    return np.column_stack((GRID, np.array(heights, dtype=float)))


HOLLOW = sole(0, 0, 0, -0.05, -0.05, -0.05, 0, 0, 0)
BELLY = sole(0, 0, 0, 0.05, 0.05, 0.05, 0, 0, 0)
TWISTED = sole(0.05, 0, -0.05, 0, 0, 0, -0.05, 0, 0.05)


def test_a_tilted_flat_sole_is_flat():
    points = sole(*(0.001 * x + 0.002 * y for x, y in GRID))

    assert measure_flatness(points).mz_mm == pytest.approx(0, abs=1e-12)


def test_the_zone_is_never_wider_than_the_least_squares_range():
    rng = np.random.default_rng(3)
    for _ in range(50):
        found = measure_flatness(sole(*rng.normal(0, 0.05, 9)))

        assert found.mz_mm <= found.ls_mm + 1e-12


@pytest.mark.parametrize(
    ("points", "shape"),
    [
        (HOLLOW, SoleShape.HOLLOW_ALONG),
        (BELLY, SoleShape.BELLY_ALONG),
        (TWISTED, SoleShape.TWISTED),
        (sole(0, 0, 0, 0.05, -0.05, 0.05, 0, 0.05, -0.05), SoleShape.UNEVEN),
        (sole(*[0.001] * 8, 0), SoleShape.FLAT),
    ],
)
def test_the_shape_is_named_after_what_explains_most(points, shape):
    found = shape_of_sole(points, measure_flatness(points), flat_below_mm=0.005)

    assert found.shape is shape


def test_twist_is_how_far_one_corner_stands_from_the_plane_of_the_others():
    found = shape_of_sole(TWISTED, measure_flatness(TWISTED), flat_below_mm=0)

    assert found.twist_mm == pytest.approx(0.2)


def test_a_belly_rises_in_the_middle():
    found = shape_of_sole(BELLY, measure_flatness(BELLY), flat_below_mm=0)

    assert found.rise_along_mm == pytest.approx(0.05)


def test_the_verdict_is_given_only_where_the_doubt_changes_nothing():
    found = measure_flatness(HOLLOW)
    worst = max(found.peak_mm, found.valley_mm)

    assert judge_flatness(found, plus_minus_mm=0.04, within_mm=0.001) is FlatnessVerdict.WITHIN
    assert judge_flatness(found, plus_minus_mm=0.02, within_mm=0.001) is FlatnessVerdict.OUTSIDE
    assert judge_flatness(found, plus_minus_mm=worst, within_mm=0.01) is FlatnessVerdict.TOO_CLOSE


def test_a_tolerance_of_zero_is_refused():
    with pytest.raises(InputError, match="tolerance"):
        judge_flatness(measure_flatness(HOLLOW), plus_minus_mm=0, within_mm=0.01)


def test_the_doubt_of_the_zone_is_that_found_by_reading_many_times():
    rng = np.random.default_rng(5)
    step = 0.01
    widths = [
        measure_flatness(
            TWISTED + np.column_stack((np.zeros((9, 2)), rng.uniform(-1, 1, 9) * step / 2))
        ).mz_mm
        for _ in range(400)
    ]

    told = measure_flatness(TWISTED).within(step)

    assert told == pytest.approx(1.6449 * np.std(widths), rel=0.25)


def test_iron_comes_off_where_it_stands_above_what_may_stay():
    removed = iron_to_remove(measure_flatness(BELLY), zone_mm=0.02)

    assert removed.max() == pytest.approx(0.03)
    assert removed[GRID[:, 0] != 120].max() == pytest.approx(0)


def test_a_line_is_as_straight_as_its_closest_pair_of_parallels():
    distances = np.array([0.0, 60, 120, 180, 240])

    assert straightness(distances, 0.001 * distances) == pytest.approx(0, abs=1e-12)
    assert straightness(distances, np.array([0, 0.06, 0.08, 0.06, 0])) == pytest.approx(0.08)


def test_the_mouth_of_a_hollow_sole_lies_below_toe_and_heel():
    assert mouth_above_line(HOLLOW, toe=0, mouth=120, heel=240) == pytest.approx(-0.05)


@pytest.mark.parametrize(
    ("points", "reason"),
    [
        (HOLLOW[:3], "four readings"),
        (np.array([[x, 2 * x, 0.01 * x] for x in range(6)], dtype=float), "one line"),
        (np.vstack((HOLLOW, [[1, 1, np.nan]])), "not a number"),
    ],
)
def test_readings_that_show_no_surface_are_refused(points, reason):
    with pytest.raises(InputError, match=reason):
        measure_flatness(points)


def test_readings_are_read_from_csv_with_comments():
    points = parse_readings("# dial on a plate\nx_mm,y_mm,z_mm\n0,0,0.01\n240,0,-0.02\n")

    assert points.tolist() == [[0, 0, 0.01], [240, 0, -0.02]]


def test_readings_in_inches_become_millimeters():
    assert parse_readings("x_in,y_in,z_in\n1,2,0.001\n").tolist() == [
        pytest.approx([25.4, 50.8, 0.0254])
    ]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "empty"),
        ("x_mm,y_mm\n0,0\n", "columns are"),
        ("x_mm,y_in,z_mm\n0,0,0\n", "mix units"),
        ("x_mm,y_mm,z_mm\n0,0\n", "Line 2 has 2 values"),
        ("x_mm,y_mm,z_mm\n0,0,0,05\n", "decimal commas"),
        ('x_mm,y_mm,z_mm\n0,0,"0,05"\n', "Try 0.05"),
        ("x_mm,y_mm,z_mm\n0,0,0.05 mm\n", "unit is in the column"),
        ("x_mm,y_mm,z_mm\n0,0,nan\n", "not a number"),
        ("x_mm,y_mm,z_mm\n5000,0,0\n", "off any sole"),
        ("x_mm,y_mm,z_mm\n0,0,60\n", "more than any sole"),
    ],
)
def test_a_file_that_cannot_be_meant_is_refused_by_line(text, reason):
    with pytest.raises(InputError, match=reason):
        parse_readings(text)
