"""Areas against shapely, homographies and circles against exact maps and OpenCV."""

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely.geometry import Point, Polygon

from planebench.trade.geometry import (
    area,
    circle_through,
    homography,
    line_map,
    mapped,
    ring_area,
    tilt_degrees,
)

SEEDS = st.integers(0, 2**32 - 1)


def star(rng: np.random.Generator, *, radius: float) -> NDArray[np.float64]:
    """A ring that never crosses itself: corners at rising angles, at any distance."""
    # A corner in each of equal slots: with two half a turn apart the ring could cross itself.
    corners = rng.integers(5, 40)
    turns = (np.arange(corners) + rng.uniform(0, 1, corners)) * 2 * np.pi / corners
    far = rng.uniform(0.5, 1.0, len(turns)) * radius
    return np.column_stack((far * np.cos(turns), far * np.sin(turns))) + rng.uniform(-3000, 3000, 2)


@given(SEEDS)
def test_area_with_holes_is_shapelys(seed: int) -> None:
    rng = np.random.default_rng(seed)
    outer = star(rng, radius=1000)
    middle = Polygon(outer).representative_point()
    room = middle.distance(Polygon(outer).exterior)
    hole = np.array(Point(middle).buffer(room / 2).exterior.coords)[:-1]
    theirs = Polygon(outer, [hole])

    assert theirs.area == pytest.approx(area(outer, [hole]), rel=1e-9)


@given(SEEDS)
def test_the_sign_of_an_area_tells_which_way_the_ring_runs_as_shapely_does(seed: int) -> None:
    ring = star(np.random.default_rng(seed), radius=500)

    assert Polygon(ring).exterior.is_ccw == (ring_area(ring) > 0)
    assert ring_area(ring) == pytest.approx(-ring_area(ring[::-1]))


def camera(rng: np.random.Generator) -> NDArray[np.float64]:
    """The exact map of a tilted plane, mm to pixels, by a pinhole camera 400 mm away."""
    lean, turn = rng.uniform(-0.6, 0.6, 2)
    about, _ = cv2.Rodrigues(np.array([lean, turn, rng.uniform(-3, 3)]))
    lens = np.array([[3000.0, 0, 1200], [0, 3000.0, 800], [0, 0, 1]])
    exact = lens @ np.column_stack((about[:, 0], about[:, 1], [-20.0, 10.0, 400.0]))
    return np.asarray(exact / exact[2, 2])


@given(SEEDS, st.integers(4, 30))
def test_a_homography_is_found_exactly_from_exact_points(seed: int, count: int) -> None:
    rng = np.random.default_rng(seed)
    exact = camera(rng)
    corners = np.array([[0.0, 0], [90, 0], [90, 60], [0, 60]])
    mm = np.vstack((corners, rng.uniform(0, 90, (count - 4, 2))))
    found = homography(mm, mapped(exact, mm))
    elsewhere = rng.uniform(-50, 150, (20, 2))

    assert mapped(exact, elsewhere) == pytest.approx(mapped(found, elsewhere), rel=1e-6, abs=1e-4)


def test_a_homography_of_noisy_points_is_that_of_opencv() -> None:
    rng = np.random.default_rng(7)
    mm = rng.uniform(0, 200, (60, 2))
    px = mapped(camera(rng), mm) + rng.normal(0, 0.5, (60, 2))
    theirs, _ = cv2.findHomography(mm, px, 0)
    apart = mapped(np.asarray(theirs), mm) - mapped(homography(mm, px), mm)

    assert np.abs(apart).max() < 0.1


@given(SEEDS)
def test_the_tilt_of_a_plane_is_that_of_the_camera_that_was_turned(seed: int) -> None:
    rng = np.random.default_rng(seed)
    lean = rng.uniform(0, 60)
    about, _ = cv2.Rodrigues(np.array([np.radians(lean), 0.0, 0.0]))
    spin, _ = cv2.Rodrigues(np.array([0.0, 0.0, rng.uniform(-3, 3)]))
    whole = about @ spin
    lens = np.array([[2500.0, 0, 1000], [0, 2500.0, 700], [0, 0, 1]])
    exact = lens @ np.column_stack((whole[:, 0], whole[:, 1], [5.0, -9.0, 350.0]))
    told = tilt_degrees(np.linalg.inv(exact), focal_px=2500, middle_px=(1000, 700))

    assert lean == pytest.approx(told, abs=1e-4)


@given(SEEDS, st.floats(-0.0003, 0.0003))
def test_a_ruler_in_perspective_is_read_exactly_from_three_marks(seed: int, lean: float) -> None:
    rng = np.random.default_rng(seed)
    a, b = rng.uniform(0.05, 0.3), rng.uniform(-100, 100)

    def exact(at: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray((a * at + b) / (lean * at + 1))

    seen = np.array([100.0, 900.0, 2000.0])
    found_a, found_b, found_c = line_map(seen, exact(seen))
    between = np.linspace(0, 2400, 25)
    read = (found_a * between + found_b) / (found_c * between + 1)

    assert exact(between) == pytest.approx(read, rel=1e-6, abs=1e-6)


def test_the_cross_ratio_of_four_marks_is_kept() -> None:
    """Hartley and Zisserman, section 2.5: what a projective map of a line leaves unchanged."""
    mm = np.array([0.0, 50.0, 120.0, 200.0])
    px = (9.3 * mm + 180) / (2e-4 * mm + 1)
    a, b, c = line_map(px, mm)
    back = (a * px + b) / (c * px + 1)

    def cross_ratio(p: NDArray[np.float64]) -> float:
        return float((p[2] - p[0]) * (p[3] - p[1]) / ((p[2] - p[1]) * (p[3] - p[0])))

    assert cross_ratio(px) == pytest.approx(cross_ratio(back), rel=1e-9)
    assert mm == pytest.approx(back, abs=1e-6)


@given(SEEDS, st.floats(0.5, 500))
def test_a_circle_is_found_exactly_from_points_of_its_rim(seed: int, radius: float) -> None:
    rng = np.random.default_rng(seed)
    middle = rng.uniform(-1000, 1000, 2)
    turns = np.array([0.1, 2.0, 4.3, *rng.uniform(0, 6.28, 4)])
    rim = middle + radius * np.column_stack((np.cos(turns), np.sin(turns)))
    center, found = circle_through(rim)

    assert radius == pytest.approx(found, rel=1e-6)
    assert middle == pytest.approx(center, abs=1e-4)
