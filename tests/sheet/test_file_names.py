"""Stock numbers become file names that never meet."""

from __future__ import annotations

import pytest

from planebench.sheet.file_names import safe_file_name


def test_a_plain_stock_number_is_its_own_file_name() -> None:
    assert safe_file_name("LOT7-003") == "LOT7-003"


@pytest.mark.parametrize(
    ("one", "other"), [("A/1", "A:1"), ("A-1", "A/1"), ("x" * 90, "x" * 91), ("..", "...")]
)
def test_two_stock_numbers_never_make_one_file_name(one: str, other: str) -> None:
    assert safe_file_name(one) != safe_file_name(other)


def test_a_file_name_holds_no_character_that_a_file_system_refuses() -> None:
    name = safe_file_name('a/b\\c:d*e?f"g<h>i|j')

    assert not set(name) & set('/\\:*?"<>|')
