"""Reads dates in EDTF (ISO 8601-2:2019, Annex A), levels 0 and 1, down to their years.

The grammar follows the Library of Congress specification of February 2019. Level 2 is refused by
name. Qualifiers are kept; what "approximately" is worth in years is decided elsewhere.
"""

from __future__ import annotations

import re
from calendar import monthrange
from dataclasses import dataclass

from planebench.errors import InputError
from planebench.trade.days import MONTHS

_QUALIFIED = r"(?P<qualifier>[?~%]?)"
_YEAR = r"(?P<year>-?\d{4}|-?\d{3}X|-?\d{2}XX)"
_DATE = re.compile(rf"{_YEAR}(?:-(?P<month>\d\d|XX)(?:-(?P<day>\d\d|XX))?)?{_QUALIFIED}")
_FAR = re.compile(rf"Y(?P<year>-?\d{{5,9}}){_QUALIFIED}")
_TIME = re.compile(
    r"(?P<date>-?\d{4}-\d\d-\d\d)T(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d(?:Z|[+-]\d\d(?::?\d\d)?)?"
)
_LEVEL_2 = re.compile(r"[\[{S]|Y.*E|X.*\dX|^-?X|[?~%].*[-\d]|-(?:2[5-9]|3\d|4[01])\b")

_FROM_THE_LEFT = re.compile(r"X-\d|\dXX?-XX")
"""Open digits are of level 1 only at the right end."""

_SEASONS = {21: "spring", 22: "summer", 23: "autumn", 24: "winter"}


@dataclass(frozen=True, slots=True, kw_only=True)
class EdtfMoment:
    """One date: the years it lies in, its words, and how it is qualified.

    `first` and `last` are equal unless digits are left open (192X). `order` sorts by day.
    """

    first: int
    last: int
    words: str
    approximate: bool
    uncertain: bool
    order: tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class EdtfSpan:
    """One date (`first` and `last` the same moment) or an interval; None where a side is open."""

    first: EdtfMoment | None
    last: EdtfMoment | None
    interval: bool


def read_edtf(text: str) -> EdtfSpan:
    """Read one EDTF string of level 0 or 1. Raises InputError for anything else, naming it."""
    if text.count("/") == 1 and not _is_level_2(text):
        return _interval(text)
    moment = _moment(text)
    return EdtfSpan(first=moment, last=moment, interval=False)


def edtf_words(span: EdtfSpan) -> str:
    """Return an EDTF date in words: "about 1915", "1913 to 1918", "1910 or before", "the 1920s"."""
    if span.first is None and span.last is None:
        return "not known"
    if span.first is None:
        return f"{span.last.words if span.last else ''} or before"
    if span.last is None:
        return f"{span.first.words} or later"
    return f"{span.first.words} to {span.last.words}" if span.interval else span.first.words


def _interval(text: str) -> EdtfSpan:
    begins, _, ends = text.partition("/")
    if begins in {"", ".."} and ends in {"", ".."}:
        raise _refuse(text, "has no years", "1913/1918")
    first = None if begins in {"", ".."} else _moment(begins)
    last = None if ends in {"", ".."} else _moment(ends)
    if first is not None and last is not None and first.order > last.order:
        raise _refuse(text, "ends before it begins", f"{ends}/{begins}")
    return EdtfSpan(first=first, last=last, interval=True)


def _moment(text: str) -> EdtfMoment:
    time = _TIME.fullmatch(text)
    found = _DATE.fullmatch(time["date"] if time else text)
    if found is not None:
        return _dated(found, text)
    far = _FAR.fullmatch(text)
    if far is not None:
        year = int(far["year"])
        return _qualified(year, year, f"the year {year}", far["qualifier"], (year, 1, 1))
    if _is_level_2(text):
        raise _refuse(text, "is EDTF level 2, which is not supported", "1913/1918")
    raise _refuse(text, "is not an EDTF date", "1913, 1913~, 191X or 1913/1918")


def _dated(found: re.Match[str], text: str) -> EdtfMoment:
    if found["year"] == "-0000":
        raise _refuse(text, "has no such year", "0000")
    if _FROM_THE_LEFT.search(text):
        raise _refuse(text, "is EDTF level 2, which is not supported", "1913/1918")
    first, last, words = _open_year(found["year"])
    month, day = found["month"], found["day"]
    order = (first, 1, 1)
    if month is not None and month != "XX":
        number = int(month)
        words = f"{_name(number, text)} {words}"
        order = (first, min(number, 12), 1)
        if day is not None and day != "XX":
            words = f"{_day(first, number, int(day), text)} {words}"
            order = (first, number, int(day))
    return _qualified(first, last, words, found["qualifier"], order)


def _open_year(year: str) -> tuple[int, int, str]:
    low, high = int(year.replace("X", "0")), int(year.replace("X", "9"))
    if "X" not in year:
        return low, low, str(low)
    first, last = min(low, high), max(low, high)
    if "XX" in year:
        return first, last, f"{first} to {last}"
    return first, last, f"the {low}s"


def _name(month: int, text: str) -> str:
    if month in _SEASONS:
        return _SEASONS[month]
    if not 1 <= month <= 12:  # noqa: PLR2004 - months of a year
        raise _refuse(text, f"has no month {month}", text.replace(f"-{month:02d}", "-12", 1))
    return MONTHS[month - 1]


def _day(year: int, month: int, day: int, text: str) -> str:
    if month in _SEASONS:
        raise _refuse(text, "has a day in a season", text[:7])
    days = monthrange(max(year, 1), month)[1]
    if not 1 <= day <= days:
        raise _refuse(text, f"has no day {day}", f"{year:04d}-{month:02d}-{days}")
    return str(day)


def _qualified(
    first: int, last: int, words: str, qualifier: str, order: tuple[int, int, int]
) -> EdtfMoment:
    approximate, uncertain = qualifier in {"~", "%"}, qualifier in {"?", "%"}
    doubt = "perhaps " if uncertain else ""
    near = "about " if approximate else ""
    return EdtfMoment(
        first=first,
        last=last,
        words=f"{doubt}{near}{words}",
        approximate=approximate,
        uncertain=uncertain,
        order=order,
    )


def _is_level_2(text: str) -> bool:
    return any(_LEVEL_2.search(side) for side in text.split("/")) or "," in text


def _refuse(text: str, why: str, example: str) -> InputError:
    return InputError(f"“{text[:60]}” {why}.", remedy=f"Try {example}.", subject="years")
