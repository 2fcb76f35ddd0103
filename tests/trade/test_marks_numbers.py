"""Numbers as marked: every row of every table, letters cast badly, and what is refused."""

from __future__ import annotations

import pytest

from planebench.catalog.dating_tables import dating_tables
from planebench.errors import InputError
from planebench.trade.marks import IssueRow, NumberKind, read_number

TABLES = dating_tables().numbers
ROWS = [(kind, row) for kind, table in TABLES.items() for row in table.rows]
US = (NumberKind.PATENT_US, NumberKind.DESIGN_US, NumberKind.REISSUE_US)


@pytest.mark.parametrize("kind", US)
def test_each_row_of_a_us_table_begins_its_year_and_ends_the_one_before(kind: NumberKind) -> None:
    table = TABLES[kind]

    for row in table.rows:
        assert read_number(str(row.first_number), table).not_before == row.year
        if row.first_number > 1:
            before = read_number(str(row.first_number - 1), table)
            assert before.not_before == row.year - 1


def test_each_row_of_the_uk_list_begins_its_year_or_the_one_before_by_the_rival_list() -> None:
    table = TABLES[NumberKind.DESIGN_UK]

    for row in table.rows:
        reading = read_number(str(row.first_number), table)
        assert reading.not_before == row.year or any(
            other.startswith(str(row.year)) or "earlier" in other for other in reading.alternatives
        )
        assert f"registered in about {row.year}" in reading.read_as


def test_each_rival_number_lies_within_two_years_of_the_other_list() -> None:
    table = TABLES[NumberKind.DESIGN_UK]
    rivals = [row for row in table.rows if row.first_known is not None]

    assert len(rivals) == 49
    for row in rivals:
        reading = read_number(str(row.first_known), table)
        assert reading.not_before is not None
        assert abs(reading.not_before - row.year) <= 2


@pytest.mark.parametrize(
    ("text", "kind", "year"),
    [
        ("1,234,567", NumberKind.PATENT_US, 1917),
        ("Pat. No. 1.234.567", NumberKind.PATENT_US, 1917),
        ("U.S. PATENT NO 1 234 567", NumberKind.PATENT_US, 1917),
        ("No. l,234,567", NumberKind.PATENT_US, 1917),
        ("I234567", NumberKind.PATENT_US, 1917),
        ("PAT. 6O8,845", NumberKind.PATENT_US, 1898),
        ("D101090", NumberKind.DESIGN_US, 1936),
        ("DES. PAT. NO. lO1,O90", NumberKind.DESIGN_US, 1936),
        ("Design 101090", NumberKind.DESIGN_US, 1936),
        ("RE 11,960", NumberKind.REISSUE_US, 1902),
        ("Reissue No. 100", NumberKind.REISSUE_US, 1847),
        ("Rd. No. 529,l23", NumberKind.DESIGN_UK, 1908),
        ("REGD. NO. 529123", NumberKind.DESIGN_UK, 1908),
        ("Reg\N{RIGHT SINGLE QUOTATION MARK}d. Design No 529123", NumberKind.DESIGN_UK, 1908),
    ],
)
def test_numbers_are_read_as_cast_and_stamped(text: str, kind: NumberKind, year: int) -> None:
    assert read_number(text, TABLES[kind]).not_before == year


def test_a_number_is_shown_back_as_it_was_understood() -> None:
    reading = read_number("No. l,234,S67".replace("S", "5"), TABLES[NumberKind.PATENT_US])

    assert reading.read_as == "US patent 1,234,567, issued in 1917"


def test_both_years_are_told_where_two_published_lists_differ() -> None:
    """546,084 begins 1910 by one list; by the other 1910 begins at 552,000."""
    reading = read_number("548000", TABLES[NumberKind.DESIGN_UK])

    assert reading.not_before == 1909
    assert reading.read_as.endswith("registered in about 1909")
    assert reading.alternatives == ("1910 by the list of first known registrations (later)",)


def test_a_row_written_from_memory_says_so() -> None:
    found = read_number("400,000", TABLES[NumberKind.PATENT_US])
    memory = read_number("1,000,000", TABLES[NumberKind.PATENT_US])
    edge = read_number("730,000", TABLES[NumberKind.PATENT_US])

    assert found.status == "found"
    assert memory.status == "memory"
    assert edge.status in {"found", "found and memory"}


def test_a_number_beyond_the_table_is_of_its_last_year_or_later() -> None:
    reading = read_number("13,500", TABLES[NumberKind.REISSUE_US])

    assert reading.not_before == 1902
    assert "1902 or later" in reading.note


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("0", "nearest possible number is 1;"),
        ("99,999,999", "nearest possible number is 13,000,000;"),
        ("12S4567", "Try 1254567"),
        ("No.", "Type the digits"),
        ("", "Type the digits"),
        ("X1234", "before July 1836"),
        ("9" * 400, "Try 99999999"),
        ("\N{SUPERSCRIPT TWO}345", "Try"),
    ],
)
def test_an_impossible_number_is_refused_with_the_nearest_possible(text: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        read_number(text, TABLES[NumberKind.PATENT_US], field="body-1")


@pytest.mark.parametrize("kind", list(TABLES))
def test_every_row_names_its_source_and_whether_it_was_found(kind: NumberKind) -> None:
    rows: tuple[IssueRow, ...] = TABLES[kind].rows

    assert all(row.source for row in rows)
    assert {row.status for row in rows} <= {"found", "memory"}
