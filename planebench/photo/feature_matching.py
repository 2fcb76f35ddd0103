"""Feature matches between two photographs, to tell whether they show the same plane.

The edges of one plane can be warped onto another plane of its kind. Small features cannot: a
scratch, a chip or the grain of a knob exists on one plane only. Each feature is therefore searched
for near where the warp puts it, must resemble that place more than any distant one, and must then
move with the others.
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.homography import Points, jacobians
from planebench.photo.orientation_channels import Rgb
from planebench.photo.tool_segmentation import Mask
from planebench.photo.warp import Warp

# Every feature is compared with every other: at 3,000 per side each table of distances is 72 MB.
_MAX_FEATURES = 3000
# SIFT's default is 0.04. Worn and dark iron has little contrast, so weaker features are kept; wrong
# ones cost time only, because they fail the geometric checks.
_SIFT_CONTRAST = 0.015
# Contrast limit and tiles of the equalization (CLAHE): lifts dark japanning without amplifying
# sensor noise much.
_CLAHE_LIMIT, _CLAHE_TILES = 3, (8, 8)
# Pixels of the 1,200 px copy. The edges alone put a feature within a few pixels of its place, so
# 12 leaves room for parts that stand high; beyond 30 it cannot be the same feature. The gap
# between the two keeps a feature from competing with its own shoulder.
_NEAR_PX, _FAR_PX = 12.0, 30.0
# Loose on purpose: parts that stand high turn and scale a little against the homography, and
# position and descriptor already rule out most false pairs.
_MAX_ROTATION_DEG, _MAX_LOG_SCALE = 20.0, 0.4
# Ratio test against the best distant match. Lowe (2004) uses 0.8 without any prior; here the
# position already rules out nearly all rivals.
_RATIO = 0.95
# Inlier thresholds of MAGSAC in pixels of the 1,200 px copy: a flat surface is only nearly flat,
# the epipolar constraint is weaker and so is held tighter.
_HOMOGRAPHY_PX, _EPIPOLAR_PX = 1.5, 0.8
# The fundamental matrix needs eight points.
_MIN_MATCHES = 8
_DESCRIPTOR_SIZE = 128


@dataclass(frozen=True, slots=True, kw_only=True)
class Features:
    """SIFT features of a tool (Lowe 2004), N of them.

    `position` is N x 2 (x, y) and `size` N, in pixels; `angle` is N, in degrees, clockwise with y
    down; `descriptor` is N x 128 with rows of unit length.
    """

    position: Points
    size: NDArray[np.float64]
    angle: NDArray[np.float64]
    descriptor: NDArray[np.float32]


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureMatches:
    """Matches that one rigid body allows: M x 2 positions `before` and `after`, in pixels.

    `feature_count` is how many features were searched for, `epipolar_inliers` is M, and
    `homography_inliers` how many of all matches lie on one flat surface. `median_error_px` is the
    median distance of the M matches from where the warp put them.
    """

    before: Points
    after: Points
    feature_count: int
    epipolar_inliers: int
    homography_inliers: int
    median_error_px: float


NO_MATCHES = FeatureMatches(
    before=np.empty((0, 2)),
    after=np.empty((0, 2)),
    feature_count=0,
    epipolar_inliers=0,
    homography_inliers=0,
    median_error_px=0.0,
)


def detect_features(rgb: Rgb, tool: Mask) -> Features:
    """Return the features of an H x W x 3 picture inside the tool, whose mask may be smaller."""
    equalize = cv2.createCLAHE(_CLAHE_LIMIT, _CLAHE_TILES)
    gray = equalize.apply(cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY))
    size = (rgb.shape[1], rgb.shape[0])
    mask = cv2.resize(tool.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) * 255
    sift = cv2.SIFT.create(nfeatures=_MAX_FEATURES, contrastThreshold=_SIFT_CONTRAST)
    keypoints, descriptors = sift.detectAndCompute(gray, np.asarray(mask, np.uint8))
    position = np.array([keypoint.pt for keypoint in keypoints], dtype=np.float64).reshape(-1, 2)
    return Features(
        position=position,
        size=np.array([keypoint.size for keypoint in keypoints], dtype=np.float64),
        angle=np.array([keypoint.angle for keypoint in keypoints], dtype=np.float64),
        descriptor=_root_sift(descriptors, len(keypoints)),
    )


def match_features(before: Features, after: Features, warp: Warp) -> FeatureMatches:
    """Return the features that match under a warp between the pictures they were detected in."""
    feature_count = len(before.position)
    if min(feature_count, len(after.position)) < _MIN_MATCHES:
        return NO_MATCHES
    expected = warp.carry(before.position)
    first, second = _candidate_pairs(before, after, expected, warp)
    source, target = before.position[first], after.position[second]
    if len(source) < _MIN_MATCHES:
        return NO_MATCHES
    rigid = _epipolar_inliers(source, target)
    if np.count_nonzero(rigid) < _MIN_MATCHES:
        return NO_MATCHES
    errors = np.linalg.norm(target - expected[first], axis=1)[rigid]
    return FeatureMatches(
        before=source[rigid],
        after=target[rigid],
        feature_count=feature_count,
        epipolar_inliers=int(np.count_nonzero(rigid)),
        homography_inliers=_homography_inliers(source, target),
        median_error_px=float(np.median(errors)),
    )


def _root_sift(descriptors: object, count: int) -> NDArray[np.float32]:
    """Return RootSIFT descriptors (Arandjelovic and Zisserman 2012)."""
    # OpenCV returns None, against its own type hints, when there is no feature.
    if not isinstance(descriptors, np.ndarray):
        return np.empty((count, _DESCRIPTOR_SIZE), np.float32)
    shares = descriptors / (descriptors.sum(axis=1, keepdims=True) + 1e-9)
    return np.asarray(np.sqrt(shares), np.float32)


def _candidate_pairs(
    before: Features, after: Features, expected: Points, warp: Warp
) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Pair each feature with the most similar one near its place, one to one.

    A feature is dropped if one far away is about as similar.
    """
    dissimilarity = np.maximum(2 - 2 * before.descriptor @ after.descriptor.T, 0)
    distance = np.linalg.norm(expected[:, None] - after.position[None], axis=2)
    near = (distance < _NEAR_PX) & _similar_pose(before, after, warp)
    inside = np.where(near, dissimilarity, np.inf)
    outside = np.where(distance > _FAR_PX, dissimilarity, np.inf)
    best = inside.argmin(axis=1)
    least = inside.min(axis=1)
    chosen = np.nonzero(np.isfinite(least) & (least < _RATIO * outside.min(axis=1)))[0]
    order = chosen[np.argsort(least[chosen], kind="stable")]
    _, once = np.unique(best[order], return_index=True)
    order = order[once]
    # SIFT reports one spot several times, with different angles: it counts once.
    _, once = np.unique(np.rint(before.position[order]), axis=0, return_index=True)
    return order[once], best[order[once]]


def _similar_pose(before: Features, after: Features, warp: Warp) -> NDArray[np.bool_]:
    """Return which pairs agree in angle and size once the warp's own rotation is removed."""
    local = jacobians(warp.matrix, before.position)
    rotation = np.degrees(np.arctan2(local[:, 1, 0], local[:, 0, 0]))
    scale = np.linalg.norm(local[:, :, 0], axis=1)
    angles = (after.angle[None] - (before.angle + rotation)[:, None] + 180) % 360 - 180
    scales = np.log(after.size[None] / (before.size * scale)[:, None])
    return np.asarray((np.abs(angles) < _MAX_ROTATION_DEG) & (np.abs(scales) < _MAX_LOG_SCALE))


def _epipolar_inliers(source: Points, target: Points) -> NDArray[np.bool_]:
    """Return which pairs one rigid body seen by two cameras allows (fundamental matrix)."""
    _, kept = cv2.findFundamentalMat(source, target, cv2.USAC_MAGSAC, _EPIPOLAR_PX, 0.999, 5000)
    return _inlier_flags(kept, len(source))


def _homography_inliers(source: Points, target: Points) -> int:
    """Return how many pairs lie on the best single flat surface (MAGSAC, Barath et al. 2019)."""
    _, kept = cv2.findHomography(source, target, cv2.USAC_MAGSAC, _HOMOGRAPHY_PX)
    return int(np.count_nonzero(_inlier_flags(kept, len(source))))


def _inlier_flags(kept: object, count: int) -> NDArray[np.bool_]:
    # OpenCV returns None, against its own type hints, when nothing can be fitted.
    if not isinstance(kept, np.ndarray):
        return np.zeros(count, np.bool_)
    return np.asarray(kept.ravel() > 0)
