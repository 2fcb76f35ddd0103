"""The UK diamond mark, decoded from its corners in both series."""

from __future__ import annotations

from datetime import date

import pytest

from planebench.catalog.dating_tables import dating_tables
from planebench.errors import InputError
from planebench.trade.marks import MarkReading
from planebench.trade.marks_diamond import FIRST, Diamond, MonthLetter, YearLetter, read_diamond

TABLES = dating_tables().diamond


def read(top: str, right: str, bottom: str, left: str, class_: str = "I") -> MarkReading:
    mark = Diamond(class_=class_, top=top, right=right, bottom=bottom, left=left)
    return read_diamond(mark, TABLES, field="body-1")


@pytest.mark.parametrize("row", TABLES.years, ids=lambda row: f"{row.series} {row.letter}")
def test_each_year_letter_gives_its_year(row: YearLetter) -> None:
    first = row.series == FIRST

    reading = read(row.letter, "12", "3", "D") if first else read("12", row.letter, "D", "3")

    assert reading.not_before == row.year
    assert f"12 September {row.year}" in reading.read_as


@pytest.mark.parametrize("row", TABLES.months, ids=lambda row: row.letter)
def test_each_month_letter_gives_its_month_in_both_series(row: MonthLetter) -> None:
    names = ("", "January", "February", "March", "April", "May", "June", "July", "August")
    name = (*names, "September", "October", "November", "December")[row.month]

    assert f"registered 5 {name} 1852" in read("D", "5", "3", row.letter).read_as
    assert f"registered 5 {name} 1871" in read("5", "A", row.letter, "3").read_as


@pytest.mark.parametrize(
    ("corners", "exceptional"),
    [
        (("K", "12", "3", "R"), date(1857, 9, 12)),
        (("Z", "12", "3", "K"), date(1860, 12, 12)),
        (("3", "W", "G", "3"), date(1878, 3, 3)),
    ],
)
def test_each_known_exception_is_told(
    corners: tuple[str, str, str, str], exceptional: date
) -> None:
    reading = read(*corners)
    told = (reading.read_as, *reading.alternatives)

    assert any(f"{exceptional.day} {exceptional:%B %Y}" in one for one in told)
    assert reading.not_before == exceptional.year


def test_outside_the_days_of_the_exception_the_rule_holds() -> None:
    reading = read("K", "25", "3", "R")

    assert reading.read_as.startswith("registered 25 August 1857")
    assert reading.alternatives == ()


@pytest.mark.parametrize(("numeral", "material"), TABLES.classes.items())
def test_each_class_names_its_material(numeral: str, material: str) -> None:
    assert material.lower() in read("D", "5", "3", "C", class_=numeral).read_as


def test_letters_that_look_like_digits_are_read_by_their_place() -> None:
    assert "registered 11 January 1846" in read("I", "ll", "3", "0").read_as


@pytest.mark.parametrize(
    ("corners", "class_", "message"),
    [
        (("31", "A", "G", "3"), "I", "nearest possible day is 28 February 1871"),
        (("8", "W", "G", "3"), "I", "nearest possible day is 1 to 6 March 1878"),
        (("3", "W", "A", "3"), "I", "nearest possible day is 1 to 6 March 1878"),
        (("X", "3", "1", "C"), "I", "nearest possible day is 1 September 1842"),
        (("12", "B", "C", "3"), "I", "B was not a year letter in 1868-1883"),
        (("D", "12", "4", "Z"), "I", "Z was not a month letter"),
        (("D", "32", "4", "C"), "I", "number from 1 to 31"),
        (("D", "", "4", "C"), "I", "number from 1 to 31"),
        (("12", "", "C", "3"), "I", "one letter, A to Z"),
        (("D", "12", "4", "C"), "XIV", "no class XIV"),
    ],
)
def test_an_impossible_mark_is_refused_with_what_could_be(
    corners: tuple[str, str, str, str], class_: str, message: str
) -> None:
    with pytest.raises(InputError, match=message):
        read(*corners, class_=class_)


def test_a_mark_rests_on_rows_found_or_from_memory() -> None:
    assert read("12", "A", "D", "3").status == "found"
    assert read("3", "W", "G", "3").status == "memory"
