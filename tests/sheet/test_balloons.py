"""Balloons stand clear of each other and inside the print."""

from __future__ import annotations

from itertools import combinations
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planebench.sheet.balloons import RADIUS, place_balloons
from planebench.sheet.content import Crop, SheetPin

SHARE = st.floats(min_value=0, max_value=1)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(SHARE, SHARE), min_size=1, max_size=10))
def test_every_balloon_stands_wholly_on_the_print(spots: list[tuple[float, float]]) -> None:
    pins = [SheetPin(number=n, x=x, y=y) for n, (x, y) in enumerate(spots, start=1)]
    placed = place_balloons(pins, Crop(), (360.0, 240.0))

    assert [ball.number for ball in placed] == [pin.number for pin in pins]
    for ball in placed:
        assert RADIUS <= ball.at[0] <= 360 - RADIUS
        assert RADIUS <= ball.at[1] <= 240 - RADIUS


def test_eight_pins_close_together_get_balloons_that_do_not_overlap() -> None:
    pins = [SheetPin(number=n, x=0.45 + 0.02 * (n % 3), y=0.45 + 0.02 * (n // 3)) for n in range(8)]
    placed = place_balloons(pins, Crop(), (540.0, 250.0))

    for one, other in combinations(placed, 2):
        assert dist(one.at, other.at) >= 2 * RADIUS


def test_a_balloon_that_a_person_placed_stays_there() -> None:
    pin = SheetPin(number=4, x=0.5, y=0.5, balloon=(0.25, 0.75))

    assert place_balloons([pin], Crop(), (400.0, 200.0))[0].at == (100.0, 150.0)


def test_on_a_print_too_small_for_two_placed_balloons_the_second_moves_off() -> None:
    pins = [SheetPin(number=n, x=0.5, y=0.4 + n / 10, balloon=(0.5, 0.2)) for n in (1, 2)]
    first, second = place_balloons(pins, Crop(), (100.0, 66.0))

    assert first.at == (50.0, pytest.approx(13.2))
    assert dist(first.at, second.at) >= 2 * RADIUS


def test_a_pin_outside_the_crop_is_not_drawn_and_one_inside_keeps_its_spot() -> None:
    crop = Crop(left=0.5, right=1.0, bottom=0.5)
    pins = [SheetPin(number=1, x=0.2, y=0.2), SheetPin(number=2, x=0.75, y=0.25)]
    placed = place_balloons(pins, crop, (200.0, 100.0))

    assert [(ball.number, ball.spot) for ball in placed] == [(2, (100.0, 50.0))]
