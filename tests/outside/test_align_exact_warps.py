"""Alignment against exact warps: a photograph redrawn through a homography of our making."""

from pathlib import Path

import cv2
import numpy as np
import pytest

from planebench.photo.align import AlignmentQuality, align
from planebench.photo.decode import open_upright

PHOTOGRAPH = (
    Path(__file__).parents[2] / "sample_catalog" / "photographs" / "LOT7-004_top_as_found.jpg"
)
# Turned by 7 degrees, a tenth smaller, tilted and moved: what a second visit to the bench gives.
TURN, SIZE = np.radians(7), 0.9
EXACT = np.array(
    [
        [SIZE * np.cos(TURN), -SIZE * np.sin(TURN), 140.0],
        [SIZE * np.sin(TURN), SIZE * np.cos(TURN), -20.0],
        [2e-5, -3e-5, 1.0],
    ]
)


@pytest.mark.parametrize("gamma", [1.0, 0.6])
def test_a_known_homography_is_found_again_within_a_pixel(gamma: float) -> None:
    before = open_upright(PHOTOGRAPH, largest=1600)
    height, width = before.shape[:2]
    after = cv2.warpPerspective(
        before, EXACT, (width, height), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE
    )
    curve = np.rint(255 * (np.arange(256) / 255) ** gamma).astype(np.uint8)
    found = align(before, np.asarray(cv2.LUT(after, curve), np.uint8))
    tool = np.array([[x, y] for x in range(300, 1300, 100) for y in range(120, 560, 60)], float)
    exact = cv2.perspectiveTransform(tool[None], EXACT)[0]
    off = np.linalg.norm(found.carry(tool) - exact, axis=1)

    assert found.quality is AlignmentQuality.GOOD
    assert np.median(off) < 0.6
    assert np.percentile(off, 90) < 2
    plain = cv2.perspectiveTransform(tool[None], np.array(found.matrix))[0]
    assert np.median(np.linalg.norm(plain - exact, axis=1)) < 2
