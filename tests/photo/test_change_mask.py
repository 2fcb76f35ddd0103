"""Changes on the tool are found where they are, whatever the light."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from planebench.photo.change_mask import change_mask
from planebench.photo.warp import from_homography


@pytest.fixture(scope="module")
def plane():
    """Return a dark, rough thing on a light, plain bench."""
    noise = np.random.default_rng(4)
    picture = np.full((600, 900, 3), 200, np.uint8)
    rough = cv2.GaussianBlur(noise.normal(0, 60, (300, 600)).astype(np.float32), (0, 0), 1.5)
    picture[150:450, 150:750] = np.clip(70 + rough, 0, 255)[..., None].astype(np.uint8)
    return picture


def test_a_patch_laid_over_is_found_and_the_rest_is_not(plane):
    after = np.clip(plane.astype(int) + 12, 0, 255).astype(np.uint8)
    after[250:330, 300:420] = (190, 120, 60)

    changed = change_mask(plane, after, from_homography(np.eye(3))) > 0

    assert changed[260:320, 310:410].mean() > 0.9
    rest = changed.copy()
    rest[240:340, 290:430] = False
    assert rest.mean() < 0.01


def test_a_moved_photograph_is_brought_back_first(plane):
    move = np.array([[1, 0, 25.0], [0, 1, -14.0], [0, 0, 1]])
    after = cv2.warpPerspective(plane, move, (900, 600), borderValue=(200, 200, 200))

    assert (change_mask(plane, after, from_homography(move)) > 0).mean() < 0.01


def test_a_picture_without_a_tool_has_no_change():
    plain = np.full((300, 400, 3), 180, np.uint8)

    assert not change_mask(plain, plain, from_homography(np.eye(3))).any()
