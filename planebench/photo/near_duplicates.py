"""Finds near-duplicate photographs, copies and bursts, and the best of each group."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.fft import dctn

# Sides of the block of cosine frequencies that is kept: 64 bits for frames of a burst, 256 for
# copies.
_BURST_SIDE, _COPY_SIDE = 8, 16
# The picture is reduced to four pixels per kept frequency, as in the source of perceptual_hash.
_PX_PER_FREQUENCY = 4
# Sharpness is compared at this long side, so that a larger photograph has no advantage.
_SHARPNESS_PX = 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Fingerprints:
    """What is stored of a photograph to compare it with others.

    `rough` is a hash of 64 bits for frames of a burst, `fine` one of 256 for copies of a picture.
    `pixels` is width times height.
    """

    rough: int
    fine: int
    pixels: int
    sharpness: float
    taken_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DuplicateGroup:
    """Near-duplicates, as indices into the sequence; `best` is the largest, then the sharpest."""

    members: tuple[int, ...]
    best: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SimilarityLimits:
    """Limits for near-duplicates: bits that may differ, and time between frames of a burst.

    Measured on 141 photographs of known scenes: copies at other sizes and qualities differ in 6 of
    256 bits at most, other pictures in 34 and more. Frames a hundredth of a width apart differ in
    10 of 64 bits at most; so can other tools on the same bench, hence the time between them.
    """

    copy_bits: int = 12
    burst_bits: int = 10
    burst_gap: timedelta = timedelta(seconds=3)


def fingerprints_of(rgb: NDArray[np.uint8], taken_at: datetime | None = None) -> Fingerprints:
    """Return what is needed to compare an H x W x 3 picture, which may be reduced."""
    return Fingerprints(
        rough=perceptual_hash(rgb),
        fine=perceptual_hash(rgb, side=_COPY_SIDE),
        pixels=rgb.shape[0] * rgb.shape[1],
        sharpness=sharpness(rgb),
        taken_at=taken_at,
    )


def perceptual_hash(rgb: NDArray[np.uint8], *, side: int = _BURST_SIDE) -> int:
    """Return a hash that hardly changes when a picture is resized, saved again or brightened.

    Its bits are `side` x `side` low cosine frequencies against their median. Source: Zauner,
    "Implementation and Benchmarking of Perceptual Image Hash Functions", 2010, section 3.2.1.
    """
    size = side * _PX_PER_FREQUENCY
    gray = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY)
    small = cv2.resize(gray, (size, size), interpolation=cv2.INTER_AREA)
    low = np.asarray(dctn(small.astype(np.float64)))[:side, :side]
    return int.from_bytes(np.packbits(low > np.median(low)).tobytes(), "big")


def hamming_distance(first: int, second: int) -> int:
    """Return the number of bits in which two hashes differ."""
    return (first ^ second).bit_count()


def sharpness(rgb: NDArray[np.uint8]) -> float:
    """Return the amount of fine detail, from 0; comparable only for pictures of one scene.

    The variance of the Laplacian over that of the picture. Source: Pech-Pacheco and others,
    "Diatom autofocusing in brightfield microscopy", ICPR 2000.
    """
    gray = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY)
    longest = max(gray.shape)
    if longest > _SHARPNESS_PX:
        share = _SHARPNESS_PX / longest
        gray = cv2.resize(gray, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
    detail = cv2.Laplacian(gray, cv2.CV_32F, ksize=3)
    return float(detail.var() / max(1.0, float(np.var(gray))))


def group_near_duplicates(
    photographs: Sequence[Fingerprints], limits: SimilarityLimits | None = None
) -> tuple[DuplicateGroup, ...]:
    """Return the groups of near-duplicates, in the order of their first member.

    A copy may be of any time; frames of a burst must be close in time.
    """
    limits = limits or SimilarityLimits()
    parent = list(range(len(photographs)))
    rough = np.array([each.rough for each in photographs], dtype=np.uint64)
    for later in range(1, len(photographs)):
        apart = np.bitwise_count(rough[:later] ^ rough[later])
        for earlier in np.flatnonzero(apart <= limits.burst_bits).tolist():
            if _near_duplicates(photographs[earlier], photographs[later], limits):
                _join(parent, earlier, later)
    return _groups(parent, photographs)


def _near_duplicates(first: Fingerprints, second: Fingerprints, limits: SimilarityLimits) -> bool:
    """Return whether two pictures with like rough hashes are copies or of one burst."""
    copied = hamming_distance(first.fine, second.fine) <= limits.copy_bits
    return copied or _close_in_time(first, second, limits.burst_gap)


def _close_in_time(first: Fingerprints, second: Fingerprints, gap: timedelta) -> bool:
    if first.taken_at is None or second.taken_at is None:
        return False
    if (first.taken_at.tzinfo is None) != (second.taken_at.tzinfo is None):
        return False
    return abs(second.taken_at - first.taken_at) <= gap


def _join(parent: list[int], first: int, second: int) -> None:
    low, high = sorted((_root(parent, first), _root(parent, second)))
    parent[high] = low


def _root(parent: list[int], index: int) -> int:
    while parent[index] != index:
        parent[index] = parent[parent[index]]
        index = parent[index]
    return index


def _groups(parent: list[int], photographs: Sequence[Fingerprints]) -> tuple[DuplicateGroup, ...]:
    members: dict[int, list[int]] = {}
    for index in range(len(parent)):
        members.setdefault(_root(parent, index), []).append(index)
    return tuple(
        DuplicateGroup(
            members=tuple(group), best=max(group, key=lambda index: _rank(photographs[index]))
        )
        for group in members.values()
        if len(group) > 1
    )


def _rank(photograph: Fingerprints) -> tuple[int, float]:
    return photograph.pixels, photograph.sharpness
