"""Phrases of real records (Tate collection data, CC0 1.0) read beside the museum's own years.

The museum adds no years for circa and counts the second half of a century as late, so these are
set so here. Its catalogers give one phrase different years in many rows; those are left in.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from planebench.errors import InputError
from planebench.trade.years import YearConventions, YearSpan, parse_years

DATA = Path(__file__).parent / "data" / "museum_dates_cc0.tsv"
HOUSE = YearConventions(
    circa=0,
    decade={"early": (0, 5), "mid": (3, 6), "late": (7, 9)},
    century={"early": (0, 49), "mid": (34, 66), "late": (50, 99)},
)
LATER_EVENT = re.compile(
    r"[,;] \??(?:\w+ )*\w*(?:printed|cast|made|replica|published|exhibited|constructed|assembled"
    r"|annotated|reworked|dated)"
)


@dataclass
class Tally:
    """Phrases and records of one kind: how many, and how many with the museum's own years."""

    phrases: int = 0
    records: int = 0
    right_phrases: int = 0
    right_records: int = 0
    wrong: list[str] = field(default_factory=list)


def rows() -> list[tuple[str, int | None, int | None, int]]:
    lines = DATA.read_text("utf-8").splitlines()[2:]
    cells = [line.split("\t") for line in lines]
    return [(text, number(first), number(last), int(count)) for text, first, last, count in cells]


def number(cell: str) -> int | None:
    return int(cell) if cell.isdigit() else None


def read(text: str) -> YearSpan | None:
    try:
        return parse_years(text, HOUSE)
    except InputError:
        return None


def tallies() -> tuple[dict[str, Tally], list[str]]:
    kinds: dict[str, Tally] = defaultdict(Tally)
    unread: list[str] = []
    for text, first, last, count in rows():
        span = read(text)
        if span is None:
            unread.append(text)
            continue
        kind = "with a later event" if LATER_EVENT.search(text) else span.kind
        tally = kinds[kind]
        right = (span.not_before, span.not_after) == (first, last)
        tally.phrases += 1
        tally.records += count
        tally.right_phrases += right
        tally.right_records += count * right
        if not right:
            tally.wrong.append(text)
    return dict(kinds), unread


@pytest.fixture(scope="module")
def counted() -> tuple[dict[str, Tally], list[str]]:
    return tallies()


def test_all_but_three_broken_phrases_are_read(counted: tuple[dict[str, Tally], list[str]]) -> None:
    _, unread = counted

    assert sorted(unread) == ["1798–5", "?c\\.1826–8", "c.18799–1802"]


def test_most_are_read_with_the_years_of_the_museum(
    counted: tuple[dict[str, Tally], list[str]],
) -> None:
    kinds, unread = counted
    phrases = sum(tally.phrases for tally in kinds.values()) + len(unread)

    assert phrases == 2819
    assert sum(tally.right_phrases for tally in kinds.values()) / phrases > 0.91
    assert sum(t.right_records for t in kinds.values()) / sum(r[3] for r in rows()) > 0.97


@pytest.mark.parametrize(
    ("kind", "least"),
    [
        ("year", 0.93),
        ("years", 0.95),
        ("about year", 0.95),
        ("about years", 0.96),
        ("several", 0.97),
        ("decade", 0.60),
        ("about decade", 0.99),
        ("century", 0.99),
    ],
)
def test_each_kind_is_read_right_in_its_share_of_phrases(
    counted: tuple[dict[str, Tally], list[str]], kind: str, least: float
) -> None:
    tally = counted[0][kind]

    assert tally.right_phrases / tally.phrases > least, tally.wrong


def test_an_open_side_is_kept_open_where_the_museum_closes_it(
    counted: tuple[dict[str, Tally], list[str]],
) -> None:
    """The museum repeats the year or guesses an end ("after 1836": 1836 to 1836)."""
    kinds, _ = counted
    texts = kinds["before"].wrong + kinds["after"].wrong

    assert len(texts) == kinds["before"].phrases + kinds["after"].phrases
    for text in texts:
        span = read(text)
        assert span is not None
        assert (span.not_before is None) != (span.not_after is None)


def test_report_of_what_was_read(
    counted: tuple[dict[str, Tally], list[str]], record_property: pytest.FixtureRequest
) -> None:
    """Writes the shares by kind into the test report, the unread ones by name."""
    kinds, unread = counted

    for kind, tally in kinds.items():
        record_property(kind, f"{tally.right_phrases}/{tally.phrases}")  # type: ignore[operator]  # a plain function
    record_property("unread", "; ".join(unread))  # type: ignore[operator]  # a plain function

    assert set(kinds) >= {"year", "years", "about year", "about years", "with a later event"}
