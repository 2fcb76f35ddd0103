"""A line follows the edge it was clicked on, and stays straight where it cannot."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from planebench.photo.follow_edge import follow_edge


@pytest.fixture(scope="module")
def disc():
    """Return a bright disc of radius 150 about (400, 300) on dark ground."""
    picture = np.full((600, 800, 3), 40, np.uint8)
    cv2.circle(picture, (400, 300), 150, (210, 205, 200), -1, cv2.LINE_AA)
    return cv2.GaussianBlur(picture, (0, 0), 1.2)


def off_the_rim(line):
    return np.abs(np.hypot(line[:, 0] - 400, line[:, 1] - 300) - 150)


def test_between_two_points_of_a_disc_it_runs_along_the_rim(disc):
    line = follow_edge(disc, (250, 300), (400, 150))

    assert line[0] == pytest.approx([250, 300])
    assert line[-1] == pytest.approx([400, 150])
    assert len(line) > 5
    assert off_the_rim(line).max() < 2.5


def test_clicks_that_miss_the_edge_by_a_little_do_not_lead_it_astray(disc):
    line = follow_edge(disc, (247, 302), (402, 153))

    assert np.median(off_the_rim(line)) < 2


def test_a_reduced_copy_is_off_by_no_more_than_its_own_pixels(disc):
    large = cv2.resize(disc, None, fx=8, fy=8, interpolation=cv2.INTER_CUBIC)

    line = follow_edge(large, (2004, 2404), (3204, 1204))

    assert off_the_rim((line - 3.5) / 8).max() < 2.5


def test_a_stronger_edge_beside_the_one_clicked_on_does_not_draw_it_away():
    picture = np.full((300, 500, 3), 20, np.uint8)
    picture[150:] = 50
    picture[180:] = 240

    line = follow_edge(cv2.GaussianBlur(picture, (0, 0), 1.2), (60, 150), (440, 150))

    assert np.abs(line[:, 1] - 150).max() < 2


def test_where_there_is_no_edge_it_is_straight():
    line = follow_edge(np.full((300, 500, 3), 90, np.uint8), (50, 60), (420, 250))

    off = (line - (50, 60)) @ np.array([-190, 370]) / np.hypot(190, 370)
    assert np.abs(off).max() < 1.5


@pytest.mark.parametrize(("start", "end"), [((400, 300), (900, 10)), ((250, 300), (252, 302))])
def test_beyond_the_photograph_and_over_a_few_pixels_it_is_straight(disc, start, end):
    assert follow_edge(disc, start, end) == pytest.approx(np.array([start, end]))
