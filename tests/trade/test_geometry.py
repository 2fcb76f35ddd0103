"""What has no area, no plane or no circle is refused, not measured."""

import numpy as np
import pytest

from planebench.trade.geometry import area, circle_through, homography, line_map

SQUARE = np.array([[0.0, 0], [10, 0], [10, 10], [0, 10]])


def test_holes_are_taken_off_whichever_way_they_run() -> None:
    hole = SQUARE / 5 + 2

    assert area(SQUARE, [hole]) == pytest.approx(96)
    assert area(SQUARE, [hole[::-1]]) == pytest.approx(96)
    assert area(SQUARE[::-1], [hole]) == pytest.approx(96)


@pytest.mark.parametrize(
    "points",
    [
        SQUARE[:3],
        np.array([[0.0, 0], [1, 1], [2, 2], [3, 3]]),
        np.array([[0.0, 0], [1, 1], [2, 2], [0, 5]]),
        np.zeros((4, 2)),
    ],
)
def test_points_that_fix_no_plane_are_refused(points: np.ndarray) -> None:
    with pytest.raises(ValueError, match=r"plane|spot"):
        homography(points, SQUARE[: len(points)])


def test_points_on_a_line_are_no_circle() -> None:
    with pytest.raises(ValueError, match="no circle"):
        circle_through(np.array([[0.0, 0], [1, 1], [2, 2], [5, 5]]))
    with pytest.raises(ValueError, match="three points"):
        circle_through(SQUARE[:2])


def test_marks_on_one_spot_are_no_ruler() -> None:
    with pytest.raises(ValueError, match="one spot"):
        line_map(np.array([5.0, 5.0]), np.array([0.0, 100.0]))
