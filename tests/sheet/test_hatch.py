"""Hatch lines cover an outline evenly and stay out of its holes."""

from __future__ import annotations

from math import dist

import pytest

from planebench.sheet.hatch import hatch_lines, hatch_lines_inside

SQUARE = ((0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0))
HOLE = ((20.0, 20.0), (40.0, 20.0), (40.0, 40.0), (20.0, 40.0))


def _length(lines: tuple[tuple[float, float, float, float], ...]) -> float:
    return sum(dist(line[:2], line[2:]) for line in lines)


@pytest.mark.parametrize("degrees", [0.0, 30.0, 45.0, -45.0, 90.0])
def test_lines_one_step_apart_add_up_to_the_area(degrees: float) -> None:
    lines = hatch_lines([SQUARE], degrees=degrees, step=0.5)

    assert _length(lines) * 0.5 == pytest.approx(3600, rel=0.02)


def test_a_hole_stays_empty() -> None:
    lines = hatch_lines([SQUARE, HOLE], degrees=45.0, step=0.5)

    assert _length(lines) * 0.5 == pytest.approx(3600 - 400, rel=0.02)
    for x1, y1, x2, y2 in lines:
        middle = ((x1 + x2) / 2, (y1 + y2) / 2)
        assert not (20.1 < middle[0] < 39.9 and 20.1 < middle[1] < 39.9)


def test_nothing_is_hatched_without_an_outline() -> None:
    assert hatch_lines([], degrees=45.0, step=2.0) == ()


def test_what_was_cut_out_of_an_outline_is_not_hatched_as_lost() -> None:
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    knob = ((40.0, 40.0), (60.0, 40.0), (60.0, 60.0), (40.0, 60.0))
    lines = hatch_lines_inside((square,), (square, knob), degrees=0, step=5)
    middles = [((x1 + x2) / 2, (y1 + y2) / 2) for x1, y1, x2, y2 in lines]
    beside = [y for _, y in middles if 41 < y < 59]

    assert not [1 for x, y in middles if 41 < x < 59 and 41 < y < 59]
    assert len(beside) == 2 * len(set(beside))
