"""Whether two photographs show the same plane: points that agree, found where the warp says.

Edges of one plane can be bent onto another of its kind. Small marks cannot: a scratch, a chip, the
grain of a knob lie in one plane only. So each mark of the tool is looked for near where the warp
puts it, must look more like that place than like any other, and must then move with the rest.
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

_MOST = 3000
_FAINTEST = 0.015
_NEAR_PX, _FAR_PX = 12.0, 30.0
_SAME_TURN_DEG, _SAME_SIZE = 20.0, 0.4
_BETTER = 0.95
_ONE_PLANE_PX, _ONE_BODY_PX = 1.5, 0.8
_LEAST = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Features:
    """Distinct spots of a tool (Lowe's SIFT, 2004): place, size in px, turn in degrees, look."""

    at: Points
    size: NDArray[np.float64]
    turn: NDArray[np.float64]
    look: NDArray[np.float32]


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureMatches:
    """Marks that agree: N x 2 `before` and `after`; `looked_for` is how many were sought.

    `one_body` counts those that one rigid body seen twice allows, `one_plane` those that lie on
    one flat surface. `miss_px` is the median distance of the first from where the warp put them.
    """

    before: Points
    after: Points
    looked_for: int
    one_body: int
    one_plane: int
    miss_px: float


NO_MATCHES = FeatureMatches(
    before=np.empty((0, 2)),
    after=np.empty((0, 2)),
    looked_for=0,
    one_body=0,
    one_plane=0,
    miss_px=0.0,
)


def detect_features(rgb: Rgb, tool: Mask) -> Features:
    """Find distinct spots inside the tool; its mask may be of another size."""
    gray = cv2.createCLAHE(3, (8, 8)).apply(cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY))
    size = (rgb.shape[1], rgb.shape[0])
    mask = cv2.resize(tool.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) * 255
    finder = cv2.SIFT.create(nfeatures=_MOST, contrastThreshold=_FAINTEST)
    points, looks = finder.detectAndCompute(gray, np.asarray(mask, np.uint8))
    at = np.array([point.pt for point in points], dtype=np.float64).reshape(-1, 2)
    return Features(
        at=at,
        size=np.array([point.size for point in points], dtype=np.float64),
        turn=np.array([point.angle for point in points], dtype=np.float64),
        look=_root(looks, len(points)),
    )


def match_features(before: Features, after: Features, warp: Warp) -> FeatureMatches:
    """Find the marks that agree under a warp between the two pictures that they were found in."""
    looked_for = len(before.at)
    if min(looked_for, len(after.at)) < _LEAST:
        return NO_MATCHES
    expected = warp.carry(before.at)
    first, second = _pairs(before, after, expected, warp)
    source, target = before.at[first], after.at[second]
    if len(source) < _LEAST:
        return NO_MATCHES
    body = _one_body(source, target)
    if np.count_nonzero(body) < _LEAST:
        return NO_MATCHES
    misses = np.linalg.norm(target - expected[first], axis=1)[body]
    return FeatureMatches(
        before=source[body],
        after=target[body],
        looked_for=looked_for,
        one_body=int(np.count_nonzero(body)),
        one_plane=_one_plane(source, target),
        miss_px=float(np.median(misses)),
    )


def _root(looks: object, count: int) -> NDArray[np.float32]:
    """Take the root of each look's shares (Arandjelovic and Zisserman 2012)."""
    # OpenCV gives None, against its own types, where there is no point.
    if not isinstance(looks, np.ndarray):
        return np.empty((count, 128), np.float32)
    return np.asarray(np.sqrt(looks / (looks.sum(axis=1, keepdims=True) + 1e-9)), np.float32)


def _pairs(
    before: Features, after: Features, expected: Points, warp: Warp
) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Pair each mark with the likest near its place, if no far one is as like; one to one."""
    unlike = np.maximum(2 - 2 * before.look @ after.look.T, 0)
    apart = np.linalg.norm(expected[:, None] - after.at[None], axis=2)
    near = (apart < _NEAR_PX) & _same_pose(before, after, warp)
    inside = np.where(near, unlike, np.inf)
    outside = np.where(apart > _FAR_PX, unlike, np.inf)
    best = inside.argmin(axis=1)
    least = inside.min(axis=1)
    chosen = np.nonzero(np.isfinite(least) & (least < _BETTER * outside.min(axis=1)))[0]
    order = chosen[np.argsort(least[chosen], kind="stable")]
    _, once = np.unique(best[order], return_index=True)
    order = order[once]
    _, once = np.unique(np.rint(before.at[order]), axis=0, return_index=True)
    return order[once], best[order[once]]


def _same_pose(before: Features, after: Features, warp: Warp) -> NDArray[np.bool_]:
    """Say which marks are turned and sized alike, the warp's own turn and size taken off."""
    local = jacobians(warp.matrix, before.at)
    turn = np.degrees(np.arctan2(local[:, 1, 0], local[:, 0, 0]))
    size = np.linalg.norm(local[:, :, 0], axis=1)
    turns = (after.turn[None] - (before.turn + turn)[:, None] + 180) % 360 - 180
    sizes = np.log(after.size[None] / (before.size * size)[:, None])
    return np.asarray((np.abs(turns) < _SAME_TURN_DEG) & (np.abs(sizes) < _SAME_SIZE))


def _one_body(source: Points, target: Points) -> NDArray[np.bool_]:
    """Keep the pairs that one rigid body seen by two cameras allows (a fundamental matrix)."""
    _, kept = cv2.findFundamentalMat(source, target, cv2.USAC_MAGSAC, _ONE_BODY_PX, 0.999, 5000)
    return _flags(kept, len(source))


def _one_plane(source: Points, target: Points) -> int:
    """Count the pairs that lie on the best single flat surface (MAGSAC, Barath et al. 2019)."""
    _, kept = cv2.findHomography(source, target, cv2.USAC_MAGSAC, _ONE_PLANE_PX)
    return int(np.count_nonzero(_flags(kept, len(source))))


def _flags(kept: object, count: int) -> NDArray[np.bool_]:
    # OpenCV gives None, against its own types, where nothing can be fitted.
    if not isinstance(kept, np.ndarray):
        return np.zeros(count, np.bool_)
    return np.asarray(kept.ravel() > 0)
