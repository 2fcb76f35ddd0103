"""A card on a screen is recognized by its pixels; a printed one is never mistaken for it."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from planebench.photo.card import CardReading, find_card
from tests.photo.card_scene import View, drawn_card, photograph
from tests.photo.screen_scene import Screen, photograph_of_screen

WORDS = "This may be a card shown on a screen, so its size cannot be trusted."


def read(picture: NDArray[np.uint8]) -> CardReading:
    reading = find_card(picture, focal_px=1500)
    assert reading is not None
    return reading


@pytest.mark.parametrize(
    ("pixels_a_mm", "camera_pixels"), [(3.8, 2.5), (5.0, 1.9), (8.0, 1.2), (14.0, 0.65)]
)
def test_a_card_on_a_screen_is_not_taken_for_a_printed_one(
    pixels_a_mm: float, camera_pixels: float
) -> None:
    screen = Screen(pixels_a_mm=pixels_a_mm, camera_pixels=camera_pixels)
    reading = read(photograph_of_screen(screen))

    assert reading.stock == "LOT7-003"
    assert WORDS in reading.warnings
    assert not reading.sure


@pytest.mark.parametrize("quality", [10, 30, 60, 92])
@pytest.mark.parametrize("share", [1.0, 0.8])
def test_a_printed_card_is_not_taken_for_one_on_a_screen_however_the_file_was_saved(
    quality: int, share: float
) -> None:
    view = View(distance_mm=300)
    picture = photograph((drawn_card(), view.mm_to_px()), size=view.size)
    _, data = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, quality])
    saved = cv2.imdecode(data, cv2.IMREAD_COLOR)
    small = cv2.resize(saved, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
    reading = read(np.asarray(small, dtype=np.uint8))

    assert WORDS not in reading.warnings
