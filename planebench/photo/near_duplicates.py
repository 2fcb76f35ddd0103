"""Photographs that show the same again, bursts and copies, and which of them is the best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.fft import dctn

_ROUGH_KEPT, _FINE_KEPT = 8, 16
_SIDES_A_FREQUENCY = 4
_SHARPNESS_EDGE = 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Fingerprints:
    """What is remembered of a photograph to compare it: fingerprints, size, sharpness, when taken.

    `rough` has 64 bits, for frames of a burst; `fine` 256, for copies of one and the same picture.
    """

    rough: int
    fine: int
    pixels: int
    sharpness: float
    taken_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DuplicateGroup:
    """Photographs that show the same, as places in the sequence given; `best` the one to keep.

    That is the largest, and of equals the sharpest.
    """

    members: tuple[int, ...]
    best: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SimilarityLimits:
    """How alike counts as the same: bits that may differ, and how soon after each other.

    Measured on 141 photographs of known scenes: copies at other sizes and qualities differ in 6 of
    256 bits at most, other pictures in 34 and more. Frames a hundredth of a width apart differ in
    10 of 64 bits at most; so can other tools on the same bench, hence the time between them.
    """

    copy_bits: int = 12
    burst_bits: int = 10
    burst_gap: timedelta = timedelta(seconds=3)


def fingerprints_of(rgb: NDArray[np.uint8], taken_at: datetime | None = None) -> Fingerprints:
    """Take what is needed to compare an H x W x 3 picture with others; a reduced one will do."""
    return Fingerprints(
        rough=perceptual_hash(rgb),
        fine=perceptual_hash(rgb, kept=_FINE_KEPT),
        pixels=rgb.shape[0] * rgb.shape[1],
        sharpness=sharpness(rgb),
        taken_at=taken_at,
    )


def perceptual_hash(rgb: NDArray[np.uint8], *, kept: int = _ROUGH_KEPT) -> int:
    """Return bits that stay nearly the same when a picture is resized, saved again or brightened.

    `kept` x `kept` low frequencies of its cosine transform against their median. Source: Zauner,
    "Implementation and Benchmarking of Perceptual Image Hash Functions", 2010, section 3.2.1.
    """
    side = kept * _SIDES_A_FREQUENCY
    gray = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY)
    small = cv2.resize(gray, (side, side), interpolation=cv2.INTER_AREA)
    low = np.asarray(dctn(small.astype(np.float64)))[:kept, :kept]
    return int.from_bytes(np.packbits(low > np.median(low)).tobytes(), "big")


def hamming_distance(first: int, second: int) -> int:
    """Count the bits in which two fingerprints differ."""
    return (first ^ second).bit_count()


def sharpness(rgb: NDArray[np.uint8]) -> float:
    """Return the strength of fine detail, 0 up; only pictures of the same scene can be compared.

    The variance of the Laplacian over that of the picture. Source: Pech-Pacheco and others,
    "Diatom autofocusing in brightfield microscopy", ICPR 2000.
    """
    gray = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY)
    longest = max(gray.shape)
    if longest > _SHARPNESS_EDGE:
        share = _SHARPNESS_EDGE / longest
        gray = cv2.resize(gray, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
    detail = cv2.Laplacian(gray, cv2.CV_32F, ksize=3)
    return float(detail.var() / max(1.0, float(np.var(gray))))


def group_near_duplicates(
    glimpses: Sequence[Fingerprints], closeness: SimilarityLimits | None = None
) -> tuple[DuplicateGroup, ...]:
    """Gather photographs that show the same, in the order of their first; lone ones are left out.

    A copy is alike whenever it was taken, a frame of a burst only close in time to the next.
    """
    limits = closeness or SimilarityLimits()
    leader = list(range(len(glimpses)))
    rough = np.array([each.rough for each in glimpses], dtype=np.uint64)
    for later in range(1, len(glimpses)):
        apart = np.bitwise_count(rough[:later] ^ rough[later])
        for earlier in np.flatnonzero(apart <= limits.burst_bits).tolist():
            if _same(glimpses[earlier], glimpses[later], limits):
                _join(leader, earlier, later)
    return _groups(leader, glimpses)


def _same(first: Fingerprints, second: Fingerprints, limits: SimilarityLimits) -> bool:
    """Tell whether two pictures, alike at a rough look, are a copy or of one burst."""
    copied = hamming_distance(first.fine, second.fine) <= limits.copy_bits
    return copied or _soon(first, second, limits.burst_gap)


def _soon(first: Fingerprints, second: Fingerprints, gap: timedelta) -> bool:
    if first.taken_at is None or second.taken_at is None:
        return False
    if (first.taken_at.tzinfo is None) != (second.taken_at.tzinfo is None):
        return False
    return abs(second.taken_at - first.taken_at) <= gap


def _join(leader: list[int], first: int, second: int) -> None:
    low, high = sorted((_led_by(leader, first), _led_by(leader, second)))
    leader[high] = low


def _led_by(leader: list[int], place: int) -> int:
    while leader[place] != place:
        leader[place] = leader[leader[place]]
        place = leader[place]
    return place


def _groups(leader: list[int], glimpses: Sequence[Fingerprints]) -> tuple[DuplicateGroup, ...]:
    members: dict[int, list[int]] = {}
    for place in range(len(leader)):
        members.setdefault(_led_by(leader, place), []).append(place)
    return tuple(
        DuplicateGroup(
            members=tuple(group), best=max(group, key=lambda place: _worth(glimpses[place]))
        )
        for group in members.values()
        if len(group) > 1
    )


def _worth(one: Fingerprints) -> tuple[int, float]:
    return one.pixels, one.sharpness
