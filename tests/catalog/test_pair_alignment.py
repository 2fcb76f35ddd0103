"""How two photographs lie together is kept with their pair and read back the same."""

from __future__ import annotations

import numpy as np
import pytest

from planebench.catalog.import_types import Destination
from planebench.catalog.pair_alignment import (
    PairAlignment,
    align_by_points,
    alignment_from_json,
)
from planebench.catalog.photo_import import import_photographs
from planebench.errors import InputError
from planebench.photo.align import AlignmentQuality
from planebench.photo.homography import transform
from planebench.photo.warp import Warp
from tests.catalog.shots import shot


@pytest.fixture
def alignment():
    shifts = np.round(np.random.default_rng(2).normal(0, 3, (5, 7, 2)), 2)
    matrix = np.array([[1.02, 0.01, 14], [-0.02, 0.99, -6], [1e-6, 2e-6, 1]])
    warp = Warp(matrix=matrix, shifts=shifts, step=120.0, origin=(3.0, 5.0))
    return PairAlignment(
        warp=warp,
        inliers=61,
        feature_count=240,
        median_error_px=1.25,
        quality=AlignmentQuality.GOOD,
    )


def test_what_is_kept_carries_points_as_before(alignment):
    points = np.array([[10.0, 20.0], [420.5, 333.25], [700.0, 90.0]])

    read = alignment_from_json(alignment.nudged(4, -2).to_json())

    assert read is not None
    assert read.carry(points) == pytest.approx(
        alignment.carry(points) + np.array((4, -2)), abs=1e-6
    )
    assert (read.inliers, read.feature_count, read.quality) == (61, 240, AlignmentQuality.GOOD)


def test_the_matrix_kept_is_the_homography_with_the_nudge(alignment):
    matrix = alignment.nudged(4, -2).matrix

    spot = matrix @ [100, 200, 1]
    plain = alignment.warp.matrix @ [100, 200, 1]
    assert spot[:2] / spot[2] == pytest.approx(plain[:2] / plain[2] + [4, -2])


@pytest.mark.parametrize("kept", [None, {}, {"matrix": [[1, 0, 0]]}, {"warp": "bent"}])
def test_what_cannot_be_read_is_not_known(kept):
    assert alignment_from_json(kept) is None


SOURCE = np.array([[100.0, 100], [900, 120], [880, 700], [120, 650]])


@pytest.fixture
def before(empty_catalog, batch, tmp_path):
    path = shot(tmp_path / "before.png", size=(1000, 800))
    import_photographs(empty_catalog, [path], to=Destination(batch=batch))
    (found,) = empty_catalog.photographs.unfiled()
    return found


def test_four_points_give_the_homography_that_maps_them(before):
    matrix = np.array([[0.9, 0.05, 40], [-0.04, 1.1, 25], [2e-5, -1e-5, 1]])

    found = align_by_points(before, SOURCE, transform(matrix, SOURCE))

    inside = np.array([[500.0, 400], [300, 600]])
    assert found.carry(inside) == pytest.approx(transform(matrix, inside), abs=1e-3)
    assert found.median_error_px == pytest.approx(0, abs=1e-3)


def test_three_points_give_the_affine_map(before):
    target = SOURCE[:3] * (0.5, 0.6) + (30, 40)

    found = align_by_points(before, SOURCE[:3], target)

    assert found.carry(SOURCE[3:]) == pytest.approx(SOURCE[3:] * (0.5, 0.6) + (30, 40))


@pytest.mark.parametrize(
    ("source", "target"),
    [
        (SOURCE[:2], SOURCE[:2]),
        (np.array([[0.0, 0], [100, 100], [300, 300]]), SOURCE[:3]),
        (SOURCE[:3], SOURCE[:3][:, ::-1]),
        (SOURCE, SOURCE[:3]),
    ],
)
def test_points_that_fix_nothing_are_refused_with_what_to_do(before, source, target):
    with pytest.raises(InputError, match="do not align") as refused:
        align_by_points(before, source, target)

    assert "spread over the tool" in refused.value.remedy


def test_what_earlier_versions_stored_is_still_understood(alignment):
    data = alignment.to_json()
    data["trust"], data["looked_for"] = data.pop("quality"), data.pop("feature_count")
    del data["by_points"]

    assert alignment_from_json(data).to_json() == alignment.to_json()
