"""Photographs fill the first page's width and keep their shape."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.sheet.photograph_layout import GAP, lay_out_first_page, size_further

WIDTH = 540.0
ASPECT = st.floats(min_value=0.3, max_value=4)


@given(st.lists(ASPECT, min_size=1, max_size=3))
def test_no_photograph_is_stretched_or_wider_than_the_page(aspects: list[float]) -> None:
    placing = lay_out_first_page(aspects, WIDTH)

    assert len(placing.sizes) == len(aspects)
    for (width, height), aspect in zip(placing.sizes, aspects, strict=True):
        assert width / height == pytest.approx(aspect)
        assert width <= WIDTH + 1e-6
        assert height <= 300


def test_three_photographs_of_a_camera_s_usual_shape_fill_the_width_side_by_side() -> None:
    placing = lay_out_first_page([1.5, 1.5, 1.5], WIDTH)
    main, *column = placing.sizes

    assert placing.beside
    assert main[0] + GAP + column[0][0] == pytest.approx(WIDTH)
    assert column[0][0] == pytest.approx(column[1][0])


def test_a_wide_photograph_has_the_others_beside_it_too() -> None:
    placing = lay_out_first_page([2.2, 2.3, 2.3], WIDTH)

    assert placing.beside
    assert placing.sizes[0][0] + GAP + placing.sizes[1][0] == pytest.approx(WIDTH)


def test_a_wide_photograph_with_one_other_stands_beside_it_at_the_same_height() -> None:
    placing = lay_out_first_page([2.2, 1.8], WIDTH)

    assert placing.beside
    assert placing.sizes[0][1] == pytest.approx(placing.sizes[1][1])


def test_where_room_is_short_photographs_are_lower() -> None:
    roomy, tight = (lay_out_first_page([1.5, 1.5], WIDTH, tight=tight) for tight in (False, True))

    assert tight.sizes[0][1] < roomy.sizes[0][1]


def test_photographs_at_the_end_stand_three_across() -> None:
    sizes = size_further([1.5, 1.5, 1.5, 0.7], WIDTH)

    assert sum(width for width, _ in sizes[:3]) + 2 * GAP == pytest.approx(WIDTH)
    assert sizes[3][0] < sizes[0][0]


def test_no_photograph_takes_no_room() -> None:
    assert lay_out_first_page([], WIDTH).sizes == ()
