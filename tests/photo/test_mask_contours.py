"""The contours of a mask are simple and close to its areas."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from planebench.photo.outline import mask_contours


def filled(rings, shape):
    drawn = np.zeros(shape, np.uint8)
    for ring in rings:
        cv2.fillPoly(drawn, [np.rint(ring).astype(np.int32)], 1)
    return drawn > 0


def test_contours_enclose_their_areas():
    y, x = np.mgrid[0:300, 0:400]
    inside = ((x - 120) ** 2 + (y - 100) ** 2 < 70**2) | ((x - 300) ** 2 / 4 + (y - 220) ** 2 < 900)

    rings = mask_contours(inside, inside.size)

    assert len(rings) == 2
    overlap = (filled(rings, inside.shape) & inside).sum() / inside.sum()
    assert overlap == pytest.approx(1, abs=0.03)
    assert all(len(ring) < 40 for ring in rings)


def test_specks_are_left_out_and_the_largest_comes_first():
    inside = np.zeros((400, 400), bool)
    inside[10:12, 10:12] = True
    inside[50:80, 50:80] = True
    inside[200:300, 200:300] = True

    rings = mask_contours(inside, inside.size)

    assert [min(ring) for ring in rings] == [[200, 200], [50, 50]]


def test_an_empty_mask_has_no_contours():
    assert mask_contours(np.zeros((50, 50), bool), 100) == []


def test_an_island_inside_a_spot_is_a_hole_by_the_even_odd_rule():
    inside = np.zeros((400, 400), bool)
    inside[100:300, 100:300] = True
    inside[180:220, 180:220] = False
    drawn = np.zeros(inside.shape, np.uint8)

    rings = [np.rint(ring).astype(np.int32) for ring in mask_contours(inside, inside.size)]
    cv2.fillPoly(drawn, rings, 1)  # all at once: OpenCV fills by the even-odd rule

    assert len(rings) == 2
    assert drawn[200, 200] == 0
    assert (drawn > 0).sum() / inside.sum() == pytest.approx(1, abs=0.03)
