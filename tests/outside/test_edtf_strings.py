"""EDTF strings of the standard against the independent edtf package (5.0.2, PyPI, MIT)."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from edtf import parse_edtf

from planebench.errors import InputError
from planebench.trade.years_edtf import edtf_words, read_edtf

DATA = Path(__file__).parent / "data" / "edtf_strings.csv"
ROWS = list(csv.DictReader(DATA.read_text("utf-8").splitlines()[1:]))
UP_TO_1 = [row["edtf"] for row in ROWS if row["level"] in {"0", "1"}]
ABOVE = [row["edtf"] for row in ROWS if row["level"] == "2" and row["edtf"][:7] != "2004-06"]
JOINED = [row["edtf"] for row in ROWS if row["level"] == "none"]
UNKNOWN_SIDE = {"/2006", "2004-06-01/", "1984-06-02?/"}
"""An unknown side is open here; the package puts ten years in its place by its own convention."""


def years_of(text: str) -> tuple[int | None, int | None]:
    span = read_edtf(text)
    first = None if span.first is None else span.first.first
    last = None if span.last is None else span.last.last
    return first, last


def independent_years(text: str) -> tuple[int | None, int | None]:
    parsed = parse_edtf(text)
    lower, upper = parsed.lower_strict(), parsed.upper_strict()
    first = None if lower == -float("inf") else year(lower)
    return first, None if upper == float("inf") else year(upper)


def year(moment: object) -> int:
    assert hasattr(moment, "tm_year")
    return int(moment.tm_year)


@pytest.mark.parametrize("text", [text for text in UP_TO_1 if text not in UNKNOWN_SIDE])
def test_years_agree_with_the_independent_package(text: str) -> None:
    assert independent_years(text) == years_of(text)


@pytest.mark.parametrize("text", sorted(UNKNOWN_SIDE))
def test_an_unknown_side_is_open(text: str) -> None:
    first, last = years_of(text)
    known = independent_years(text)

    assert None in (first, last)
    assert first in {None, known[0]}
    assert last in {None, known[1]}


def test_an_open_day_in_an_interval_is_read_though_validators_call_it_level_2() -> None:
    assert years_of("2004-06-XX/2004-07-03") == (2004, 2004)


@pytest.mark.parametrize("text", ABOVE)
def test_level_2_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_edtf(text)


def test_what_the_validators_disagree_on_is_read_where_it_has_a_sense() -> None:
    """16XX~ and its like: accepted by edtf 5.0.2, refused by edtf-validate 2.0.0; read here."""
    read = {text: years_of(text) for text in JOINED if not text.startswith("1XXX")}

    assert {"16XX~", "16XX%", "156X~", "-01XX~"} == read.keys()
    assert all(independent_years(text) == found for text, found in read.items())


@pytest.mark.parametrize("text", ["", "2016-13-08", "2016-02-39", "-0000-01-01", "(06)?"])
def test_what_the_standard_does_not_allow_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_edtf(text)


@pytest.mark.parametrize("text", [text for text in UP_TO_1 if text != "/2006"])
def test_every_string_has_words(text: str) -> None:
    assert edtf_words(read_edtf(text)).strip()
