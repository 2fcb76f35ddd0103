"""How two photographs lie together is kept with their pair and read back the same."""

from __future__ import annotations

import numpy as np
import pytest

from planebench.catalog.pair_alignment import PairAlignment, alignment_from_json
from planebench.photo.align import AlignmentQuality
from planebench.photo.warp import Warp


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
