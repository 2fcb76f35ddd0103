"""Days of the calendar: read as people type them, written in words; the only list of months."""

from __future__ import annotations

import datetime as dt
import re
from enum import StrEnum

from planebench.errors import InputError

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_DAY_FIRST = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[ .]+([a-z]{3,12})\.?,?(?: +(\d{4}))?")
_MONTH_FIRST = re.compile(r"([a-z]{3,12})\.? +(\d{1,2})(?:st|nd|rd|th)?(?:,? +(\d{4}))?")
_FIGURES = re.compile(r"(\d{1,2})([/.-])(\d{1,2})\2(\d{4}|\d{2})")
_DAYS_AGO = {"today": 0, "yesterday": 1}
_EARLIEST = 1900
"""Nobody who keeps this catalog bought or sold anything before; an earlier year is a slip."""
_SHORT_YEAR = 100
_ELSEWHERE = dt.timedelta(days=1)
"""Where the day began earlier it may be tomorrow already."""


class DayOrder(StrEnum):
    """Which comes first where a day is written: the month (September 3) or the day."""

    MONTH_FIRST = "month_first"
    DAY_FIRST = "day_first"


def order_for_paper(paper: str) -> DayOrder:
    """Return the order usual where a paper is used: month first with "letter", else day first."""
    return DayOrder.MONTH_FIRST if paper == "letter" else DayOrder.DAY_FIRST


def format_day(
    day: dt.date, order: DayOrder = DayOrder.DAY_FIRST, *, with_year: bool = True
) -> str:
    """Return a day in words: "September 3, 2026", or "3 September 2026" with the day first."""
    month = MONTHS[day.month - 1]
    if order is DayOrder.MONTH_FIRST:
        return f"{month} {day.day}, {day.year}" if with_year else f"{month} {day.day}"
    return f"{day.day} {month} {day.year}" if with_year else f"{day.day} {month}"


def month_number(word: str) -> int | None:
    """Return the month, 1 to 12, that a word of three or more letters begins: "sept", "mar"."""
    plain = word.casefold().rstrip(".")
    if len(plain) < 3:  # noqa: PLR2004 -- two letters begin several months
        return None
    names = enumerate(MONTHS, start=1)
    return next((n for n, name in names if name.casefold().startswith(plain)), None)


def parse_day(text: str, *, field: str, today: dt.date, order: DayOrder | None = None) -> dt.date:
    """Read a day: 14 March 2026, Mar 14 2026, 2026-03-14, 11/20/26, 20.11.2026, 14 March, today.

    Figures between points are day first (common practice where points are written); between
    slashes or hyphens they follow `order`, and without it a day that could be meant in two ways
    (3/4/2026) is refused. A year of two digits is the latest that is not in the future. Without
    a year it is the last such day up to `today`. Raises InputError naming `field` for what is no
    day, lies before 1900, or in the future: what is recorded has happened.
    """
    plain = " ".join(text.casefold().split())
    if plain in _DAYS_AGO:
        return today - dt.timedelta(days=_DAYS_AGO[plain])
    year, month, day = _pieces(plain, field, today, order)
    try:
        found = dt.date(year or today.year, month, day)
        if not year and found > today:
            found = dt.date(today.year - 1, month, day)
    except ValueError as error:
        raise _refusal(field, f"“{text.strip()}” is not a day of the calendar.", today) from error
    if found.year < _EARLIEST:
        raise _refusal(field, f"the year {found.year} cannot be right here.", today)
    if found > today + _ELSEWHERE:
        raise _refusal(field, f"{format_day(found)} is in the future.", today)
    return found


def _pieces(plain: str, field: str, today: dt.date, order: DayOrder | None) -> tuple[int, int, int]:
    """Return year (0 when not typed), month and day."""
    if match := _ISO.fullmatch(plain):
        return int(match[1]), int(match[2]), int(match[3])
    if match := _DAY_FIRST.fullmatch(plain):
        return int(match[3] or 0), _month(match[2], field, today), int(match[1])
    if match := _MONTH_FIRST.fullmatch(plain):
        return int(match[3] or 0), _month(match[1], field, today), int(match[2])
    if match := _FIGURES.fullmatch(plain):
        points = DayOrder.DAY_FIRST if match[2] == "." else order
        year = _full_year(match[4], today)
        return (year, *_by_figures((int(match[1]), int(match[3])), year, points, field))
    raise _refusal(field, f"“{plain}” is not a day.", today)


def _full_year(digits: str, today: dt.date) -> int:
    year = int(digits)
    if len(digits) > 2:  # noqa: PLR2004 -- a year of two digits is filled up
        return year
    century = today.year // _SHORT_YEAR * _SHORT_YEAR
    return century + year if century + year <= today.year else century - _SHORT_YEAR + year


def _by_figures(
    figures: tuple[int, int], year: int, order: DayOrder | None, field: str
) -> tuple[int, int]:
    """Return month and day of two figures; one that is no month tells itself which is which."""
    first, second = figures
    most = len(MONTHS)
    if first > most or second > most or first == second:
        return (second, first) if first > most else (first, second)
    if order is None:
        one, other = f"{first} {MONTHS[second - 1]}", f"{second} {MONTHS[first - 1]}"
        raise InputError(
            f"{field}: {first}/{second} can be {one} or {other}.",
            remedy=f"Write the month as a word: {one} {year}.",
            subject=field,
        )
    return (first, second) if order is DayOrder.MONTH_FIRST else (second, first)


def _month(word: str, field: str, today: dt.date) -> int:
    number = month_number(word)
    if number is None:
        raise _refusal(field, f"“{word}” is not a month.", today)
    return number


def _refusal(field: str, reason: str, today: dt.date) -> InputError:
    return InputError(f"{field}: {reason}", remedy=f"Try {format_day(today)}.", subject=field)
