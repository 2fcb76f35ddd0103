"""The scale card against exact projective geometry, OpenCV's detector and a second QR reader."""

from __future__ import annotations

import json
from pathlib import Path

import cv2
import numpy as np
import pytest

from planebench.photo.card import find_card
from planebench.photo.card_layout import marker_corners
from planebench.photo.decode import open_upright, probe
from tests.photo.card_scene import View, drawn_card, length_errors, mapped, photograph

ROOT = Path(__file__).parents[2]
PHOTOGRAPHS = ROOT / "sample_catalog" / "photographs"
TRUTH = json.loads((ROOT / "tests" / "photo" / "data" / "cards_in_sample.json").read_text("utf-8"))
KNOWN = TRUTH["photographs"]
WITH_CARD = sorted(name for name, card in KNOWN.items() if card["stock"])

VIEWS = [
    View(tilt_deg=0.0),
    View(tilt_deg=12, toward_deg=80, turn_deg=37),
    View(tilt_deg=30, toward_deg=-60, turn_deg=90, at_px=(500, 380)),
    View(tilt_deg=45, toward_deg=200, turn_deg=181),
    View(tilt_deg=25, toward_deg=120, distance_mm=700, at_px=(900, 300)),
    View(tilt_deg=20, turn_deg=-120, size=(2400, 1600), focal_px=3300, at_px=(1300, 900)),
]


@pytest.mark.parametrize("view", VIEWS)
def test_lengths_and_tilt_agree_with_a_pinhole_camera(view: View) -> None:
    # Reference: a pinhole camera K [r1 r2 t] (Hartley and Zisserman, Multiple View Geometry, 2nd
    # edition, chapters 6 and 8).
    picture = photograph((drawn_card(), view.mm_to_px()), size=view.size)
    reading = find_card(picture, focal_px=view.focal_px)

    assert reading is not None
    assert length_errors(reading.matrix_px_to_mm, view.mm_to_px()).max() < 0.1
    assert reading.tilt_deg == pytest.approx(view.tilt_deg, abs=0.3 if view.tilt_deg else 1.0)


@pytest.mark.parametrize("name", WITH_CARD)
def test_each_card_in_the_sample_photographs_is_read_right(name: str) -> None:
    # Reference: the homography with which the photograph was rendered.
    truth, path = KNOWN[name], PHOTOGRAPHS / name
    reading = find_card(open_upright(path), focal_px=probe(path).focal_px)

    assert reading is not None
    assert reading.stock == truth["stock"]
    assert reading.markers == 4
    assert reading.sure
    assert length_errors(reading.matrix_px_to_mm, np.array(truth["mm_to_px"])).max() < 0.05
    assert reading.tilt_deg == pytest.approx(truth["tilt_deg"], abs=0.5)


@pytest.mark.parametrize("name", sorted(set(KNOWN) - set(WITH_CARD)))
def test_no_card_is_read_in_the_sample_photographs_without_one(name: str) -> None:
    assert find_card(open_upright(PHOTOGRAPHS / name)) is None


@pytest.mark.parametrize("name", WITH_CARD[:4])
def test_markers_lie_where_opencvs_own_detector_sees_them(name: str) -> None:
    picture = open_upright(PHOTOGRAPHS / name)
    reading = find_card(picture)
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, numbers, _ = cv2.aruco.ArucoDetector(dictionary).detectMarkers(
        cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY)
    )

    assert reading is not None
    assert len(corners) >= 3
    for number, seen in zip(np.ravel(numbers).tolist(), corners, strict=True):
        in_mm = mapped(np.array(reading.matrix_px_to_mm), seen)
        assert np.abs(in_mm - marker_corners(number)).max() < 0.2


@pytest.mark.parametrize("name", WITH_CARD[:8])
def test_a_second_reader_finds_the_same_number(name: str) -> None:
    # Reference: OpenCV's QRCodeDetector; the program itself reads by zxing-cpp.
    picture = open_upright(PHOTOGRAPHS / name)
    reading = find_card(picture)
    assert reading is not None
    flatten = np.diag([12.0, 12.0, 1.0]) @ np.array(reading.matrix_px_to_mm)
    flat = cv2.warpPerspective(picture, flatten, (1080, 720))
    text, *_ = cv2.QRCodeDetector().detectAndDecode(flat[160:560, 340:740])

    assert text == f"PB:{reading.stock}"
