"""Bursts and copies are grouped, other pictures of the bench are not; the best one is chosen."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.near_duplicates import (
    Fingerprints,
    fingerprints_of,
    group_near_duplicates,
    hamming_distance,
)
from tests.photo.card_scene import View, drawn_card, photograph

NOON = datetime(2026, 3, 14, 12, tzinfo=UTC)


def frame(stock: str = "LOT7-003", at: tuple[float, float] = (600, 420)) -> NDArray[np.uint8]:
    return photograph((drawn_card(f"PB:{stock}"), View(at_px=at).mm_to_px()))


def test_copies_are_grouped_whenever_they_were_taken_and_the_larger_is_best() -> None:
    picture = frame()
    smaller = cv2.resize(picture, (600, 400), interpolation=cv2.INTER_AREA).astype(np.uint8)
    groups = group_near_duplicates(
        [fingerprints_of(smaller, NOON), fingerprints_of(picture, NOON + timedelta(days=9))]
    )

    assert [group.members for group in groups] == [(0, 1)]
    assert groups[0].best == 1


def test_a_burst_is_grouped_and_its_sharpest_frame_is_best() -> None:
    frames = [frame(at=(600 + 2 * number, 420)) for number in range(3)]
    frames[0] = cv2.GaussianBlur(frames[0], (0, 0), 3).astype(np.uint8)
    frames[2] = cv2.GaussianBlur(frames[2], (0, 0), 2).astype(np.uint8)
    shots = [fingerprints_of(f, NOON + timedelta(seconds=n)) for n, f in enumerate(frames)]
    groups = group_near_duplicates(shots)

    assert [group.members for group in groups] == [(0, 1, 2)]
    assert groups[0].best == 1


def test_like_pictures_minutes_apart_are_no_burst() -> None:
    shots = [
        fingerprints_of(frame(at=(600 + 9 * n, 420)), NOON + timedelta(minutes=n)) for n in range(2)
    ]

    assert group_near_duplicates(shots) == ()


def test_unlike_pictures_at_the_same_second_are_no_burst() -> None:
    shots = [
        fingerprints_of(frame(at=(600, 420)), NOON),
        fingerprints_of(frame(at=(350, 300)), NOON),
    ]

    assert hamming_distance(shots[0].rough, shots[1].rough) > 10
    assert group_near_duplicates(shots) == ()


def test_a_time_with_offset_is_not_compared_with_one_without() -> None:
    plain = Fingerprints(
        rough=1, fine=0, pixels=1, sharpness=1.0, taken_at=NOON.replace(tzinfo=None)
    )
    aware = Fingerprints(rough=1, fine=2**200 - 1, pixels=1, sharpness=1.0, taken_at=NOON)

    assert group_near_duplicates([plain, aware]) == ()


def test_groups_come_in_the_order_of_their_first_and_chains_hang_together() -> None:
    def shot(bits: int, seconds: int) -> Fingerprints:
        return Fingerprints(
            rough=bits,
            fine=bits << 64,
            pixels=1,
            sharpness=1.0,
            taken_at=NOON + timedelta(seconds=seconds),
        )

    chain = [shot(0, 0), shot(2**63 - 1, 0), shot(0xFF, 2), shot(0xFFFF, 4), shot(2**62 - 1, 1)]
    groups = group_near_duplicates(chain)

    assert [group.members for group in groups] == [(0, 2, 3), (1, 4)]
