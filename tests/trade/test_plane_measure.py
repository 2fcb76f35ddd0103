"""What is measured on a scaled plane is right, and its doubt grows with each cause of it."""

import numpy as np
import pytest
from numpy.typing import NDArray

from planebench.trade.geometry import mapped
from planebench.trade.photo_measurement import (
    HeightAboveCard,
    measure_angle,
    measure_diameter,
    measure_length,
    surface,
)
from planebench.trade.photo_scale import (
    PhotoScale,
    scale_by_matrix,
    scale_by_points,
    scale_by_rectangle,
    scale_by_ruler,
    scale_by_two_points,
)

# A bench seen by a camera that leans by 25 degrees: millimeters to pixels, as a renderer gave it
# for a steel rule in a picture of 2400 x 1600.
BENCH = np.array(
    [
        [9.3460468, -2.1563405, 181.19091],
        [0.3825531, 7.7140913, 989.77892],
        [-0.00017226292, -0.0012028459, 1.0],
    ]
)
CORNERS = np.array([[20.0, -60], [110, -60], [110, 0], [20, 0]])


def px(*points: tuple[float, float]) -> NDArray[np.float64]:
    return mapped(BENCH, np.array(points, dtype=float))


def by_rectangle() -> PhotoScale:
    return scale_by_rectangle(mapped(BENCH, CORNERS), width_mm=90, height_mm=60)


def ruler(marks: list[float]) -> PhotoScale:
    return scale_by_ruler(px(*((mark, 0.0) for mark in marks)), np.array(marks))


def test_a_length_between_two_points_of_a_ruler_is_within_half_a_percent() -> None:
    rounded = np.rint(px((0, 0), (50, 0), (100, 0), (150, 0), (200, 0)))
    scale = scale_by_ruler(rounded, np.array([0.0, 50, 100, 150, 200]))

    for start, end in ((0, 200), (30, 130), (10, 60)):
        told = measure_length(scale, np.rint(px((start, 0), (end, 0))))
        assert end - start == pytest.approx(told.value, rel=0.005)
        assert abs(told.value - (end - start)) < told.within


def test_two_points_far_apart_measure_what_lies_between_them_and_doubt_what_they_cannot_see() -> (
    None
):
    scale = scale_by_two_points(px((0, 0), (200, 0)), apart_mm=200)
    whole, part = (
        measure_length(scale, px((0, 0), (200, 0))),
        measure_length(scale, px((30, 0), (130, 0))),
    )

    assert whole.value == pytest.approx(200, rel=1e-9)
    assert part.value == pytest.approx(100, rel=0.01)
    assert abs(part.value - 100) < part.within


def test_across_a_ruler_the_doubt_covers_a_leaning_camera() -> None:
    scale = ruler([0, 100, 200])
    across = measure_length(scale, px((100, -30), (100, -10)))

    assert not scale.corrects_tilt
    assert abs(across.value - 20) < 2 * across.within
    assert across.within > 3 * measure_length(scale, px((100, 0), (120, 0))).within


def test_a_known_rectangle_takes_the_tilt_out_in_every_direction() -> None:
    scale = by_rectangle()

    assert scale.corrects_tilt
    for ends in (((0, -80), (0, 10)), ((0, -50), (150, -50)), ((10, -10), (100, -70))):
        exact = float(np.linalg.norm(np.subtract(*np.array(ends, float))))
        assert exact == pytest.approx(measure_length(scale, px(*ends)).value, rel=1e-6)


def test_angles_circles_and_areas_are_true_on_the_plane() -> None:
    scale = by_rectangle()
    turns = np.linspace(0, 2 * np.pi, 9)[:-1]
    rim = np.column_stack((60 + 12.5 * np.cos(turns), -30 + 12.5 * np.sin(turns)))
    hole = CORNERS / 4 + [40, -20]

    assert measure_angle(scale, px((50, 0), (50, -50), (90, -50))).value == pytest.approx(90)
    assert measure_angle(scale, px((50, -50), (0, 0), (50, 0))).value == pytest.approx(45)
    assert measure_diameter(scale, mapped(BENCH, rim)).value == pytest.approx(25)
    told = surface(scale, mapped(BENCH, CORNERS), [mapped(BENCH, hole)])
    assert told.value == pytest.approx(5400 - 5400 / 16)
    assert told.by_scale > 0


def test_what_stands_above_the_plane_is_brought_back_by_h_over_d_minus_h() -> None:
    """Similar triangles: at height h under a lens at D it looks D / (D - h) as long."""
    scale = by_rectangle()
    ends = px((0, -50), (120, -50))
    flat = measure_length(scale, ends).value
    raised = HeightAboveCard(height_mm=74, within_mm=2, distance_mm=386)
    told = measure_length(scale, ends, off_plane=raised)

    assert raised.measures_large_by == pytest.approx(74 / (386 - 74))
    assert told.value == pytest.approx(flat * (386 - 74) / 386)
    assert told.by_height == pytest.approx(told.value * 2 / (386 - 74))
    assert surface(scale, mapped(BENCH, CORNERS), off_plane=raised).value == pytest.approx(
        5400 * ((386 - 74) / 386) ** 2
    )


@pytest.mark.parametrize("height", [400.0, 386.0, -400.0])
def test_nothing_stands_higher_than_the_lens(height: float) -> None:
    with pytest.raises(ValueError, match="before the lens"):
        HeightAboveCard(height_mm=height, within_mm=1, distance_mm=386)


def test_points_set_less_surely_and_a_less_sure_scale_make_a_wider_doubt() -> None:
    ends = px((0, -50), (120, -50))
    exact = np.linalg.inv(BENCH)
    sure, unsure = (scale_by_matrix(exact, error=error) for error in (0.001, 0.01))

    assert measure_length(sure, ends).by_scale == pytest.approx(0.12, rel=1e-6)
    assert measure_length(unsure, ends).by_scale == pytest.approx(1.2, rel=1e-6)
    one, two = (measure_length(sure, ends, placing_px=placing).by_placing for placing in (1.0, 2.0))
    assert two == pytest.approx(2 * one, rel=0.01)


def test_the_ninety_percent_interval_holds_the_truth_nine_times_in_ten() -> None:
    rng = np.random.default_rng(3)
    held = 0
    for _ in range(400):
        scale = scale_by_points(mapped(BENCH, CORNERS) + rng.normal(0, 1, (4, 2)), CORNERS)
        ends = px((0, -50), (120, -20)) + rng.normal(0, 1, (2, 2))
        told = measure_length(scale, ends)
        held += abs(told.value - np.hypot(120, 30)) < told.within

    assert 0.86 < held / 400 < 0.94


def test_a_pixel_is_as_long_as_the_plane_says() -> None:
    scale = scale_by_matrix(np.diag([0.1, 0.1, 1.0]), error=0.0)

    assert scale.mm_per_px(np.array([50.0, 20.0])) == pytest.approx(0.1)
