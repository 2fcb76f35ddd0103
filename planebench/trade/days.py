"""Days typed as people write them, and said in words."""

from __future__ import annotations

import datetime as dt
import re

from planebench.errors import InputError

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_DAY_FIRST = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[ .]+([a-z]{3,12})\.?,?(?: +(\d{4}))?")
_MONTH_FIRST = re.compile(r"([a-z]{3,12})\.? +(\d{1,2})(?:st|nd|rd|th)?(?:,? +(\d{4}))?")
_FIGURES = re.compile(r"(\d{1,2})[/.](\d{1,2})[/.](\d{4})")
_BEFORE = {"today": 0, "yesterday": 1}
_EARLIEST = 1900


def format_day(day: dt.date) -> str:
    """Say a day in words: 14 March 2026."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def parse_day(text: str, *, field: str, today: dt.date) -> dt.date:
    """Read a day: 14 March 2026, Mar 14 2026, 2026-03-14, 14/3/2026, 14 March, today, yesterday.

    Without a year it is the last such day up to `today`. Raises InputError naming `field` for what
    is no day, lies outside 1900 to a year from today, or could be meant in two ways (3/4/2026).
    """
    plain = " ".join(text.casefold().split())
    if plain in _BEFORE:
        return today - dt.timedelta(days=_BEFORE[plain])
    year, month, day = _pieces(plain, field, today)
    try:
        found = dt.date(year or today.year, month, day)
        if not year and found > today:
            found = dt.date(today.year - 1, month, day)
    except ValueError as error:
        raise _refusal(field, f"“{text.strip()}” is not a day of the calendar.", today) from error
    if not _EARLIEST <= found.year <= today.year + 1:
        raise _refusal(field, f"{found.year} cannot be meant.", today)
    return found


def _pieces(plain: str, field: str, today: dt.date) -> tuple[int, int, int]:
    """Return year (0 when not given), month and day."""
    if match := _ISO.fullmatch(plain):
        return int(match[1]), int(match[2]), int(match[3])
    if match := _DAY_FIRST.fullmatch(plain):
        return int(match[3] or 0), _month(match[2], field, today), int(match[1])
    if match := _MONTH_FIRST.fullmatch(plain):
        return int(match[3] or 0), _month(match[1], field, today), int(match[2])
    if match := _FIGURES.fullmatch(plain):
        return _by_figures(int(match[1]), int(match[2]), int(match[3]), field)
    raise _refusal(field, f"“{plain}” is not a day.", today)


def _by_figures(first: int, second: int, year: int, field: str) -> tuple[int, int, int]:
    most = len(MONTHS)
    if first <= most and second <= most and first != second:
        one, other = f"{first} {MONTHS[second - 1]}", f"{second} {MONTHS[first - 1]}"
        raise InputError(
            f"{field}: {first}/{second} can be {one} or {other}.",
            remedy=f"Write the month as a word: {one} {year}.",
            subject=field,
        )
    return (year, second, first) if first > most else (year, first, second)


def _month(word: str, field: str, today: dt.date) -> int:
    for number, name in enumerate(MONTHS, start=1):
        if name.casefold().startswith(word):
            return number
    raise _refusal(field, f"“{word}” is not a month.", today)


def _refusal(field: str, reason: str, today: dt.date) -> InputError:
    return InputError(f"{field}: {reason}", remedy=f"Try {format_day(today)}.", subject=field)
