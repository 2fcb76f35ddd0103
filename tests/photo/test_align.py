"""A photograph before aligns with one after of the same plane, and with no other plane."""

import json
from functools import cache
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from planebench.errors import MeasureError
from planebench.photo.align import (
    AlignmentQuality,
    PreparedPhoto,
    align,
    align_prepared,
    alignment_quality,
    prepare_photo,
)
from planebench.photo.decode import open_upright
from planebench.photo.feature_matching import NO_MATCHES, FeatureMatches

ROOT = Path(__file__).parents[2]
PHOTOGRAPHS = ROOT / "sample_catalog" / "photographs"
LANDMARKS = json.loads(
    (Path(__file__).parent / "data" / "landmarks_lot7_003.json").read_text(encoding="utf-8")
)["points"]
BEFORE = np.array([point["before"] for point in LANDMARKS])
AFTER = np.array([point["after"] for point in LANDMARKS])


@cache
def picture(name: str) -> NDArray[np.uint8]:
    return open_upright(PHOTOGRAPHS / f"{name}.jpg")


@cache
def ready(name: str) -> PreparedPhoto:
    return prepare_photo(picture(name), name)


def miss(carried: NDArray[np.float64], truth: NDArray[np.float64]) -> float:
    return float(np.median(np.linalg.norm(carried - truth, axis=1)))


def test_the_same_plane_cleaned_and_in_other_light_is_aligned() -> None:
    found = align_prepared(ready("LOT7-003_top_as_found"), ready("LOT7-003_top_finished"))

    assert found.quality is AlignmentQuality.GOOD
    assert miss(found.carry(BEFORE), AFTER) < 6
    assert miss(BEFORE, AFTER) > 20
    assert found.inliers >= 26
    assert 0 < found.median_error_px < 8


def test_photographs_of_different_sizes_and_turned_are_aligned() -> None:
    after = picture("LOT7-003_top_finished")
    half = cv2.resize(after, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    turned = np.ascontiguousarray(np.rot90(half))
    found = align_prepared(ready("LOT7-003_top_as_found"), prepare_photo(turned, "after"))
    x, y = (AFTER.T - 0.5) / 2
    truth = np.column_stack((y, half.shape[1] - 1 - x))

    assert found.quality is AlignmentQuality.GOOD
    assert miss(found.carry(BEFORE), truth) < 3


def test_two_planes_of_one_kind_are_not_taken_for_one() -> None:
    found = align_prepared(ready("LOT7-007_top_during"), ready("LOT7-003_top_finished"))

    assert found.quality is AlignmentQuality.NONE


def test_the_scale_card_alone_is_no_alignment() -> None:
    hidden = []
    for name in ("LOT7-003_top_as_found", "LOT7-003_top_finished"):
        rgb = picture(name).copy()
        rgb[:950] = rgb[1400, 100]
        hidden.append(rgb)

    assert align(*hidden).quality is AlignmentQuality.NONE


@pytest.mark.parametrize("level", [0, 255, 128])
def test_a_picture_of_nothing_aligns_with_nothing(level: int) -> None:
    blank = np.full((800, 1200, 3), level, np.uint8)
    found = align_prepared(ready("LOT7-003_top_as_found"), prepare_photo(blank, "after"))

    assert found.quality is AlignmentQuality.NONE
    assert found.inliers == 0
    assert np.isfinite(found.carry(BEFORE)).all()


def test_a_blurred_picture_gets_no_alignment() -> None:
    blurred = cv2.GaussianBlur(picture("LOT7-003_top_finished"), (0, 0), 40)

    assert (
        align_prepared(ready("LOT7-003_top_as_found"), prepare_photo(blurred, "after")).quality
        is AlignmentQuality.NONE
    )


def test_a_tiny_picture_is_refused_by_name() -> None:
    with pytest.raises(MeasureError, match="after photograph is 100 × 80 pixels"):
        align(picture("LOT7-003_top_as_found"), np.zeros((80, 100, 3), np.uint8))


def test_quality_asks_for_matches_on_one_flat_surface_of_one_body_in_their_place() -> None:
    def quality(flat: int, rigid: int, error_px: float) -> AlignmentQuality:
        nowhere = np.empty((0, 2))
        return alignment_quality(
            FeatureMatches(
                before=nowhere,
                after=nowhere,
                feature_count=1000,
                epipolar_inliers=rigid,
                homography_inliers=flat,
                median_error_px=error_px,
            )
        )

    assert quality(40, 60, 2.0) is AlignmentQuality.GOOD
    assert quality(14, 20, 3.0) is AlignmentQuality.WEAK
    assert quality(10, 22, 3.0) is AlignmentQuality.NONE
    assert quality(10, 24, 5.9) is AlignmentQuality.NONE
    assert quality(40, 60, 9.0) is AlignmentQuality.NONE
    assert alignment_quality(NO_MATCHES) is AlignmentQuality.NONE
