"""The table of issue years against patents whose day of issue is known apart from it.

The table is the USPTO's "Table of Issue Years and Patent Numbers"; the days are told row by row
in data/us_patents_known_dates.csv, each as found in a public copy or from memory.
"""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from planebench.catalog.dating_tables import dating_tables
from planebench.trade.evidence_parsing import read_entry
from planebench.trade.marks_patent_date import MONTHS, patent_dates

DATA = Path(__file__).parent / "data" / "us_patents_known_dates.csv"
KNOWN = list(csv.DictReader(DATA.read_text("utf-8").splitlines()[1:]))


@pytest.mark.parametrize("row", KNOWN, ids=lambda row: row["number"])
def test_the_year_of_a_known_patent_is_right(row: dict[str, str]) -> None:
    entry = {"kind": "patent_us", "number": row["number"]}

    evidence = read_entry("body", entry, dating_tables(), "body-1")

    assert date.fromisoformat(row["issue_date"]).year == evidence.not_before


@pytest.mark.parametrize("row", KNOWN, ids=lambda row: row["number"])
def test_a_known_day_stamped_in_full_reads_back_and_is_a_tuesday(row: dict[str, str]) -> None:
    """Tuesdays since 1848: patentlyo.com, "173 Years of (Almost) Uninterrupted Tuesdays", 2021."""
    day = date.fromisoformat(row["issue_date"])

    read = patent_dates(f"PAT. {MONTHS[day.month - 1][:3].upper()}. {day.day}. {day.year}")[0]

    assert read.day == day
    assert read.tuesday is (True if day.year >= 1848 else None)


@pytest.mark.parametrize(
    "row", [row for row in KNOWN if row["issue_date"] > "1848"], ids=lambda row: row["number"]
)
def test_a_known_day_stamped_with_two_digits_finds_its_century(row: dict[str, str]) -> None:
    day = date.fromisoformat(row["issue_date"])

    read = patent_dates(f"PAT'D {MONTHS[day.month - 1][:3]} {day.day} {day.year % 100:02d}")[0]

    assert read.day == day or any(str(day.year) in other for other in read.others)
    assert read.tuesday
