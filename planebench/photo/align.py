"""Lays a photograph taken before on one taken after: how they fit, how far that can be trusted."""

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
"""A picture whose long side is shorter shows too little of a tool to be laid on another."""

_ROUGH_PX, _FINE_PX = 160, 1200
_EFFORTS = (
    (300, RefinementLevel(step=6, rounds=12, stiffness=8.0)),
    (600, RefinementLevel(step=8, rounds=8, stiffness=2.0)),
)
_LAST = RefinementLevel(step=12, rounds=6, stiffness=0.6)
_PULL = 40.0
_UPRIGHT, _TURNED = (0,), (1, 2, 3)


class AlignmentQuality(StrEnum):
    """How far a fit can be trusted; NONE says that it may be two different planes."""

    GOOD = "good"
    WEAK = "weak"
    NONE = "none"


# Marks on the best single plane and half of those of one body, at least; and how many pixels of
# the fine copy they lie beside their place, at most.
_LIMITS = ((AlignmentQuality.GOOD, 30.0, 4.0), (AlignmentQuality.WEAK, 22.0, 4.2))


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """How the before photograph lies on the after one, in pixels of the upright photographs.

    `matrix` is the homography that fits the tool best, `warp` bends it to the tool's depth.
    `inliers` marks of `looked_for` agree with one rigid body; `median_error_px` is how far they
    lie from where the edges alone put them, in pixels after. With `trust` NONE all is a guess.
    """

    matrix: Matrix
    warp: Warp
    inliers: int
    looked_for: int
    median_error_px: float
    trust: AlignmentQuality

    def carry(self, points: Points) -> Points:
        """Take N x 2 points of the before photograph to the after one."""
        return self.warp.carry(np.asarray(points, dtype=np.float64).reshape(-1, 2))


@dataclass(frozen=True, slots=True, kw_only=True)
class PreparedPhoto:
    """A photograph made ready: copies by long side, its marks, its size over the finest copy."""

    copies: Mapping[int, RegistrationCopy]
    features: Features
    times: float


def align(before: Rgb, after: Rgb) -> Alignment:
    """Lay an upright H x W x 3 photograph on another, of any size, of the same view of one plane.

    A photograph that lies on its side is turned. Raise MeasureError if one is too small.
    """
    return align_prepared(prepare_photo(before, "before"), prepare_photo(after, "after"))


def prepare_photo(rgb: Rgb, which: str) -> PreparedPhoto:
    """Make a photograph ready to be laid on others; `which` names it, should it be too small."""
    long_side = max(rgb.shape[:2])
    if long_side < SMALLEST_PX:
        raise MeasureError(
            f"The {which} photograph is {rgb.shape[1]} x {rgb.shape[0]} pixels, "
            "too small to be laid on another.",
            remedy=f"Use one whose long side has at least {SMALLEST_PX} pixels.",
            subject=which,
        )
    fine = resize_to(rgb, _FINE_PX)
    tool = segment_tool(fine)
    sizes = (_ROUGH_PX, *(size for size, _ in _EFFORTS), _FINE_PX)
    copies = {size: _small(fine, tool, size) for size in sizes}
    return PreparedPhoto(
        copies=copies, features=detect_features(fine, tool), times=long_side / _FINE_PX
    )


def align_prepared(before: PreparedPhoto, after: PreparedPhoto) -> Alignment:
    """Lay one photograph on another, both made ready."""
    rough = _roughly(before, after, _UPRIGHT)
    if rough is None:
        return _guess(before, after)
    upright = _closely(before, after, rough)
    if upright.trust is not AlignmentQuality.NONE:
        return upright
    # Edges of a plane lie well on the same plane's even where no mark agrees: only a better fit
    # on its side is worth the time.
    turned_round = _roughly(before, after, _TURNED)
    if turned_round is None or turned_round.likeness <= rough.likeness:
        return upright
    return _closely(before, after, turned_round)


def alignment_quality(agreement: FeatureMatches) -> AlignmentQuality:
    """Judge a fit by the marks that agree with it.

    The limits stand between pairs of one plane and pairs of different planes of the same kind, as
    measured by the benchmark.
    """
    support = agreement.one_plane + agreement.one_body / 2
    for trust, least, farthest in _LIMITS:
        if support >= least and agreement.miss_px <= farthest:
            return trust
    return AlignmentQuality.NONE


def _small(fine: Rgb, tool: Mask, long_side: int) -> RegistrationCopy:
    copy = resize_to(fine, long_side)
    size = (copy.shape[1], copy.shape[0])
    mask = cv2.resize(tool.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) > 0
    return RegistrationCopy(slants=orientation_channels(copy), tool=np.asarray(mask))


def _guess(before: PreparedPhoto, after: PreparedPhoto) -> Alignment:
    """Lay the one on the other as they are, when nothing is seen that could say better."""
    return _weighed(before, after, from_homography(np.eye(3)), NO_MATCHES)


def _roughly(
    before: PreparedPhoto, after: PreparedPhoto, quarter_turns: Sequence[int]
) -> CoarseFit | None:
    first, second = before.copies[_ROUGH_PX], after.copies[_ROUGH_PX]
    return register_coarsely(first, second, quarter_turns=quarter_turns)


def _closely(before: PreparedPhoto, after: PreparedPhoto, rough: CoarseFit) -> Alignment:
    """Lay one on the other more and more closely, and see whether it holds."""
    warp, size = from_homography(rough.matrix), _ROUGH_PX
    for long_side, effort in _EFFORTS:
        warp = warp.resized(long_side / size, long_side / size)
        warp = register_finely(_sheets(before, after, long_side, rough.turn), warp, effort)
        size = long_side
    warp = warp.resized(_FINE_PX / size, _FINE_PX / size)
    agreement = match_features(before.features, after.features, warp)
    if alignment_quality(agreement) is not AlignmentQuality.NONE:
        pull = PointConstraints(before=agreement.before, after=agreement.after, weight=_PULL)
        warp = register_finely(_sheets(before, after, _FINE_PX, rough.turn), warp, _LAST, pull)
    return _weighed(before, after, warp, agreement)


def _sheets(
    before: PreparedPhoto, after: PreparedPhoto, long_side: int, turn: float
) -> ChannelPair:
    """Lay out the slants of both, those after named as if they had not been turned."""
    first, second = before.copies[long_side], after.copies[long_side]
    grown = cv2.dilate(first.tool.astype(np.float32), np.ones((7, 7), np.uint8))
    weight = np.asarray(cv2.GaussianBlur(grown, (0, 0), 2.0), dtype=np.float32)
    return ChannelPair(
        before=first.slants, after=rotate_channels(second.slants, -turn), weight=weight
    )


def _weighed(
    before: PreparedPhoto, after: PreparedPhoto, warp: Warp, agreement: FeatureMatches
) -> Alignment:
    """Bring a warp between fine copies to the photographs' own pixels, and say how it holds."""
    full = warp.resized(before.times, after.times)
    return Alignment(
        matrix=full.matrix,
        warp=full,
        inliers=agreement.one_body,
        looked_for=agreement.looked_for,
        median_error_px=agreement.miss_px * after.times,
        trust=alignment_quality(agreement),
    )
