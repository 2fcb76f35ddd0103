"""Patterns of stock numbers."""

from __future__ import annotations

from itertools import islice

import pytest

from planebench.errors import InputError
from planebench.trade.stock import StockPattern, check_pattern, split_pattern, stock_numbers


@pytest.mark.parametrize(
    ("pattern", "parts"),
    [
        ("{batch}-{n:03}", StockPattern(with_batch=True, text="-", digits=3)),
        ("{batch}{n}", StockPattern(with_batch=True, text="", digits=1)),
        ("PL {n:05}", StockPattern(with_batch=False, text="PL ", digits=5)),
    ],
)
def test_a_simple_pattern_is_split_into_parts_and_put_together_again(
    pattern: str, parts: StockPattern
) -> None:
    assert split_pattern(pattern) == parts
    assert parts.pattern == pattern


@pytest.mark.parametrize("pattern", ["{n}/{batch}", "{batch}", "A{n}B{n}"])
def test_a_pattern_of_another_form_has_no_parts(pattern: str) -> None:
    assert split_pattern(pattern) is None


def test_numbers_begin_where_a_ledger_left_off_and_skip_those_that_are_taken() -> None:
    numbers = stock_numbers("PL-{n:03}", "LOT1", {"pl-041"}, start=40)

    assert list(islice(numbers, 3)) == ["PL-040", "PL-042", "PL-043"]


def test_a_pattern_without_a_number_is_refused() -> None:
    with pytest.raises(InputError, match="stock number pattern"):
        check_pattern("LOT")
