"""The scale found in a smaller copy holds for the whole picture."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from planebench.catalog.import_reader import card_in
from planebench.photo.image_info import ExifInfo, ImageInfo
from tests.photo.card_scene import View, drawn_card, mapped, photograph


def test_a_card_found_at_half_size_lies_where_it_lies_in_the_whole() -> None:
    view = View()
    whole = photograph((drawn_card(), view.mm_to_px()))
    half = np.asarray(cv2.resize(whole, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA))
    facts = ImageInfo(format="JPEG", width=1200, height=800, size_bytes=1, exif=ExifInfo())
    card = card_in(half.astype(np.uint8), facts)

    assert card is not None
    assert card.stock == "LOT7-003"
    corners_mm = np.array([(0, 0), (90, 0), (90, 60), (0, 60)], dtype=np.float64)
    corners_px = mapped(view.mm_to_px(), corners_mm)
    found = mapped(np.array(card.scale["matrix_px_to_mm"]), corners_px)
    assert found == pytest.approx(corners_mm, abs=0.3)
