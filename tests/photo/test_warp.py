"""A warp maps points the same way on any grid and at any size."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.photo.homography import transform
from planebench.photo.warp import FrameSize, Warp, from_homography, scaling

MATRIX = np.array([[1.02, 0.05, 12.0], [-0.04, 0.97, -7.0], [1e-5, 2e-5, 1.0]])
FRAME = FrameSize(left=10, top=20, width=171, height=101)
POINTS = np.array([[0.0, 0.0], [17.3, 40.2], [180.0, 120.0], [90.0, 3.5]])


def bent() -> Warp:
    y, x = np.mgrid[0:9, 0:15]
    shifts = np.dstack((np.sin(x / 3.0), y / 5.0))
    return Warp(matrix=MATRIX, shifts=shifts, step=12, origin=(10.0, 20.0))


def test_a_warp_without_shifts_is_its_homography() -> None:
    assert np.allclose(transform(MATRIX, POINTS), from_homography(MATRIX).carry(POINTS))


def test_maps_give_for_each_pixel_what_carry_gives_for_its_center() -> None:
    at_x, at_y = bent().maps(FRAME)
    pixels = np.array([[10, 20], [60, 30], [180, 120], [17, 119]])
    told = np.array([[at_x[y - 20, x - 10], at_y[y - 20, x - 10]] for x, y in pixels])

    assert np.allclose(bent().carry(pixels.astype(float)), told, atol=0.03)


def test_a_finer_grid_says_the_same() -> None:
    finer = bent().regrid(FRAME, 6)

    assert np.allclose(bent().carry(POINTS), finer.carry(POINTS), atol=1e-9)


@given(st.floats(0.2, 8), st.floats(0.2, 8))
def test_enlarging_both_pictures_enlarges_where_points_go(before: float, after: float) -> None:
    larger = from_homography(MATRIX).resized(before, after)
    carried = larger.carry(transform(scaling(before), POINTS))

    assert transform(scaling(after), transform(MATRIX, POINTS)) == pytest.approx(carried, abs=1e-6)


def test_pixel_centers_stay_centers_when_a_picture_is_enlarged() -> None:
    """Doubling makes two pixels of the first: their common edge lies at the old center."""
    assert np.allclose([[0.5, 0.5]], transform(scaling(2), np.array([[0.0, 0.0]])))
