"""A line follows the edges of a thing, and stays straight where it cannot."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from planebench.errors import InputError
from planebench.photo.follow_edge import EdgeFollower


@pytest.fixture(scope="module")
def disc():
    """Give a bright disc of radius 150 about (400, 300) on dark ground."""
    picture = np.full((600, 800, 3), 40, np.uint8)
    cv2.circle(picture, (400, 300), 150, (210, 205, 200), -1, cv2.LINE_AA)
    return cv2.GaussianBlur(picture, (0, 0), 1.2)


def off_the_rim(line):
    return np.abs(np.hypot(line[:, 0] - 400, line[:, 1] - 300) - 150)


def test_between_two_points_of_a_disc_it_runs_along_the_rim(disc):
    line = EdgeFollower(disc, (250, 300), reach=400).line_to((400, 150))

    assert line[0] == pytest.approx([250, 300])
    assert line[-1] == pytest.approx([400, 150])
    assert len(line) > 5
    assert off_the_rim(line).max() < 2.5


def test_a_reduced_look_is_off_by_no_more_than_its_own_pixels(disc):
    large = cv2.resize(disc, None, fx=3, fy=3, interpolation=cv2.INTER_CUBIC)

    line = EdgeFollower(large, (751, 901), reach=900).line_to((1201, 451))

    assert off_the_rim((line - 1) / 3).max() < 2.5


def test_what_lies_beyond_the_reach_is_joined_straight(disc):
    line = EdgeFollower(disc, (250, 300), reach=60).line_to((780, 580))

    assert line[-1] == pytest.approx([780, 580])
    assert np.abs(line[1:-1] - [250, 300]).max() <= 62


def test_a_start_outside_the_photograph_is_refused(disc):
    with pytest.raises(InputError, match="outside"):
        EdgeFollower(disc, (900, 10), reach=100)
