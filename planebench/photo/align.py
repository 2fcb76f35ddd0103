"""Aligns a photograph taken before the work with one taken after, and judges the fit.

Coarse registration of small copies, fine registration of ever larger ones, then a check by feature
matches; matches that hold sharpen the last level.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import cv2
import numpy as np

from planebench.errors import MeasureError
from planebench.photo.coarse_registration import CoarseFit, RegistrationCopy, register_coarsely
from planebench.photo.feature_matching import (
    NO_MATCHES,
    FeatureMatches,
    Features,
    detect_features,
    match_features,
)
from planebench.photo.fine_registration import (
    ChannelPair,
    PointConstraints,
    RefinementLevel,
    register_finely,
)
from planebench.photo.homography import Matrix, Points
from planebench.photo.orientation_channels import (
    Rgb,
    orientation_channels,
    resize_to,
    rotate_channels,
)
from planebench.photo.tool_segmentation import Mask, segment_tool
from planebench.photo.warp import Warp, from_homography

SMALLEST_PX = 200
"""A photograph whose long side is shorter shows too little of a tool to be aligned."""

# Long sides of the copies in pixels. On 160 px the 63 rotations and scales are cheap; the levels
# between roughly double, so that each starts within a few pixels.
_COARSE_PX, _FINE_PX = 160, 1200
# Stiff at first, so that a handle does not slide onto another edge; looser as the error shrinks.
_LEVELS = (
    (300, RefinementLevel(step=6, iterations=12, stiffness=8.0)),
    (600, RefinementLevel(step=8, iterations=8, stiffness=2.0)),
)
# Runs only after the features have confirmed the fit, hence the loosest grid.
_LAST_LEVEL = RefinementLevel(step=12, iterations=6, stiffness=0.6)
# Weight of a matched feature against the edges pooled around a node: features are few but exact.
_FEATURE_WEIGHT = 40.0
# Photographs taken upright are tried first: the other three quarter turns cost three times as much.
_UPRIGHT, _TURNED = (0,), (1, 2, 3)
# Pixels of the 300 px and larger copies by which the tool's own contour is included, and softened.
_MASK_GROWTH_PX, _MASK_BLUR_PX = 7, 2.0


class AlignmentQuality(StrEnum):
    """How far an alignment can be relied on; NONE: it may be two different planes."""

    GOOD = "good"
    WEAK = "weak"
    NONE = "none"


# (quality, least support, greatest median error in pixels of the 1,200 px copy). Support is the
# matches on the best flat surface plus half of those that one rigid body allows. The limits stand
# between pairs of one plane and pairs of different planes of one kind, as measured by
# tests/benchmarks/bench_align.py: of 810 pairs of different planes none reached them.
_LIMITS = ((AlignmentQuality.GOOD, 30.0, 4.0), (AlignmentQuality.WEAK, 22.0, 4.2))


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """How the before photograph lies on the after one, in pixels of the upright photographs.

    `matrix` is the homography that fits the tool best, `warp` bends it to the tool's depth.
    `inliers` of `feature_count` features agree with one rigid body; `median_error_px` is how far
    they lie from where the edges alone put them, in pixels after. With quality NONE all of it is a
    guess.
    """

    matrix: Matrix
    warp: Warp
    inliers: int
    feature_count: int
    median_error_px: float
    quality: AlignmentQuality

    def carry(self, points: Points) -> Points:
        """Map N x 2 points of the before photograph to the after one."""
        return self.warp.carry(np.asarray(points, dtype=np.float64).reshape(-1, 2))


@dataclass(frozen=True, slots=True, kw_only=True)
class PreparedPhoto:
    """A photograph ready for registration.

    `copies` are keyed by long side in pixels; `scale` is the photograph's size over that of the
    largest copy, in which the features' positions are given.
    """

    copies: Mapping[int, RegistrationCopy]
    features: Features
    scale: float


def align(before: Rgb, after: Rgb) -> Alignment:
    """Align two upright H x W x 3 photographs, of any size, of the same view of one plane.

    A tool that lies turned by quarter turns is found too. Raise MeasureError if a photograph is
    too small.
    """
    return align_prepared(prepare_photo(before, "before"), prepare_photo(after, "after"))


def prepare_photo(rgb: Rgb, which: str) -> PreparedPhoto:
    """Prepare an H x W x 3 photograph; `which` names it in the error if it is too small.

    Raise MeasureError if its long side is under 200 pixels.
    """
    long_side = max(rgb.shape[:2])
    if long_side < SMALLEST_PX:
        raise MeasureError(
            f"The {which} photograph is {rgb.shape[1]} × {rgb.shape[0]} pixels,"
            " too small to align.",
            remedy=f"Use one whose long side has at least {SMALLEST_PX} pixels.",
            subject=which,
        )
    fine = resize_to(rgb, _FINE_PX)
    tool = segment_tool(fine)
    sizes = (_COARSE_PX, *(size for size, _ in _LEVELS), _FINE_PX)
    return PreparedPhoto(
        copies={size: _reduced_copy(fine, tool, size) for size in sizes},
        features=detect_features(fine, tool),
        scale=long_side / _FINE_PX,
    )


def align_prepared(before: PreparedPhoto, after: PreparedPhoto) -> Alignment:
    """Align two prepared photographs."""
    upright_fit = _coarse_fit(before, after, _UPRIGHT)
    if upright_fit is None:
        # No tool is seen in one of them: they are laid on each other as they are.
        return _in_photograph_pixels(before, after, from_homography(np.eye(3)), NO_MATCHES)
    upright = _refine(before, after, upright_fit)
    if upright.quality is not AlignmentQuality.NONE:
        return upright
    # The edges of one plane fit well even where no feature matches: only a better score sideways
    # is worth the time.
    turned_fit = _coarse_fit(before, after, _TURNED)
    if turned_fit is None or turned_fit.score <= upright_fit.score:
        return upright
    return _refine(before, after, turned_fit)


def alignment_quality(matches: FeatureMatches) -> AlignmentQuality:
    """Return the quality of a fit, by the feature matches that it allows."""
    support = matches.homography_inliers + matches.epipolar_inliers / 2
    for quality, least, greatest_error in _LIMITS:
        if support >= least and matches.median_error_px <= greatest_error:
            return quality
    return AlignmentQuality.NONE


def _reduced_copy(fine: Rgb, tool: Mask, long_side: int) -> RegistrationCopy:
    copy = resize_to(fine, long_side)
    size = (copy.shape[1], copy.shape[0])
    mask = cv2.resize(tool.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) > 0
    return RegistrationCopy(channels=orientation_channels(copy), tool=np.asarray(mask))


def _coarse_fit(
    before: PreparedPhoto, after: PreparedPhoto, quarter_turns: Sequence[int]
) -> CoarseFit | None:
    first, second = before.copies[_COARSE_PX], after.copies[_COARSE_PX]
    return register_coarsely(first, second, quarter_turns=quarter_turns)


def _refine(before: PreparedPhoto, after: PreparedPhoto, fit: CoarseFit) -> Alignment:
    """Refine a coarse fit level by level, and check it by the features."""
    warp, size = from_homography(fit.matrix), _COARSE_PX
    for long_side, level in _LEVELS:
        warp = warp.resized(long_side / size, long_side / size)
        warp = register_finely(_pair(before, after, long_side, fit.rotation_deg), warp, level)
        size = long_side
    warp = warp.resized(_FINE_PX / size, _FINE_PX / size)
    matches = match_features(before.features, after.features, warp)
    if alignment_quality(matches) is not AlignmentQuality.NONE:
        points = PointConstraints(
            before=matches.before, after=matches.after, weight=_FEATURE_WEIGHT
        )
        pair = _pair(before, after, _FINE_PX, fit.rotation_deg)
        warp = register_finely(pair, warp, _LAST_LEVEL, points)
    return _in_photograph_pixels(before, after, warp, matches)


def _pair(
    before: PreparedPhoto, after: PreparedPhoto, long_side: int, rotation_deg: float
) -> ChannelPair:
    """Return both pictures' channels, those after renamed as if it had not been turned."""
    first, second = before.copies[long_side], after.copies[long_side]
    square = np.ones((_MASK_GROWTH_PX, _MASK_GROWTH_PX), np.uint8)
    grown = cv2.dilate(first.tool.astype(np.float32), square)
    weight = np.asarray(cv2.GaussianBlur(grown, (0, 0), _MASK_BLUR_PX), dtype=np.float32)
    channels = rotate_channels(second.channels, -rotation_deg)
    return ChannelPair(before=first.channels, after=channels, weight=weight)


def _in_photograph_pixels(
    before: PreparedPhoto, after: PreparedPhoto, warp: Warp, matches: FeatureMatches
) -> Alignment:
    """Scale a warp between the 1,200 px copies to the photographs, and judge it."""
    full = warp.resized(before.scale, after.scale)
    return Alignment(
        matrix=full.matrix,
        warp=full,
        inliers=matches.epipolar_inliers,
        feature_count=matches.feature_count,
        median_error_px=matches.median_error_px * after.scale,
        quality=alignment_quality(matches),
    )
