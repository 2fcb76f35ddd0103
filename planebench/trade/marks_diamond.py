"""Decodes the UK diamond registration mark of 1842 to 1883 from its corners."""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from planebench.errors import InputError
from planebench.trade.days import MONTHS, format_day
from planebench.trade.marks import MarkReading, worst

FIRST, SECOND = "1842-1867", "1868-1883"
_FIRST_DAY, _LAST_DAY = date(1842, 9, 1), date(1883, 12, 31)


@dataclass(frozen=True, slots=True, kw_only=True)
class YearLetter:
    """A year letter of one series."""

    series: str
    letter: str
    year: int
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthLetter:
    """A month letter, the same in both series; `month` is 1 to 12."""

    month: int
    letter: str
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DiamondException:
    """Days on which other letters were used than the rule says, both ends included."""

    series: str
    year_letter: str
    month_letter: str
    first: date
    last: date
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DiamondPosition:
    """What each corner of the diamond holds in one series."""

    series: str
    top: str
    right: str
    bottom: str
    left: str
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DiamondTables:
    """All that is known of the mark. `classes` gives the material by class numeral."""

    years: tuple[YearLetter, ...]
    months: tuple[MonthLetter, ...]
    exceptions: tuple[DiamondException, ...]
    positions: tuple[DiamondPosition, ...]
    classes: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Diamond:
    """A diamond mark as seen; empty where a corner cannot be read."""

    class_: str = ""
    top: str
    right: str
    bottom: str
    left: str


@dataclass(frozen=True, slots=True)
class _Corners:
    series: str
    year_letter: str
    month_letter: str
    day: int
    field: str


def read_diamond(mark: Diamond, tables: DiamondTables, *, field: str = "diamond") -> MarkReading:
    """Decode the day of registration; it is a terminus post quem.

    A letter at the top is of 1842 to 1867, a number of 1868 to 1883. Raises InputError naming
    `field` and what would do for letters, days or classes that the mark never had.
    """
    material = _material(mark.class_, tables, field)
    corners = _corners(mark, tables, field)
    days = _days(corners, tables)
    if not days:
        raise _impossible(corners, tables)
    read = [f"registered {format_day(day)}" for day, _ in days]
    rows = [*_year_rows(corners, tables), *(row for _, row in days)]
    return MarkReading(
        kind="diamond_uk",
        read_as=", ".join(filter(None, (read[0], material.lower()))),
        not_before=days[0][0].year,
        alternatives=tuple(f"{other}, by a known exception" for other in read[1:]),
        source="; ".join(dict.fromkeys(row.source for row in rows)),
        status=worst(row.status for row in rows),
    )


def _days(
    corners: _Corners, tables: DiamondTables
) -> list[tuple[date, MonthLetter | DiamondException]]:
    """Return each day that the corners can mean, the earliest first, with the row it rests on."""
    days = _regular(corners, tables) + _exceptional(corners, tables)
    within = [found for found in days if _FIRST_DAY <= found[0] <= _LAST_DAY]
    return sorted(within, key=lambda found: found[0])


def _year_rows(corners: _Corners, tables: DiamondTables) -> list[YearLetter]:
    wanted = (corners.series, corners.year_letter)
    return [row for row in tables.years if (row.series, row.letter) == wanted]


def _material(numeral: str, tables: DiamondTables, field: str) -> str:
    """Read the class above the diamond; nothing where it cannot be read."""
    wanted = re.sub(r"\s", "", numeral).upper().replace("1", "I").replace("L", "I")
    if not wanted:
        return ""
    known = {name.upper(): material for name, material in tables.classes.items()}
    if wanted in known:
        return known[wanted]
    parts = [material for name, material in known.items() if name.startswith(f"{wanted}(")]
    if parts:
        return parts[0]
    raise InputError(
        f"{field}: there is no class {numeral.strip()}.",
        remedy="The classes are I (metal), II (wood) and so on to XIII.",
        subject=field,
    )


def _corners(mark: Diamond, tables: DiamondTables, field: str) -> _Corners:
    """Tell the series by what stands at the top, then read each corner by its place."""
    seen = {"top": mark.top, "right": mark.right, "bottom": mark.bottom, "left": mark.left}
    top = mark.top.strip()
    series = FIRST if top.isalpha() and top not in {"l", "|"} else SECOND
    place = next(p for p in tables.positions if p.series == series)
    holds = {getattr(place, corner): corner for corner in seen}
    return _Corners(
        series=series,
        year_letter=_letter(seen[holds["year letter"]], "year", field),
        month_letter=_letter(seen[holds["month letter"]], "month", field),
        day=_day(seen[holds["day of month"]], field),
        field=field,
    )


def _letter(text: str, what: str, field: str) -> str:
    letter = text.strip(" .").upper().replace("0", "O").replace("1", "I").replace("|", "I")
    if len(letter) == 1 and letter.isascii() and letter.isalpha():
        return letter
    raise InputError(
        f"{field}: the {what} letter reads “{text.strip()[:20]}”.",
        remedy="Type one letter, A to Z. A letter at the top means 1842-1867, a number 1868-1883.",
        subject=field,
    )


def _day(text: str, field: str) -> int:
    digits = (
        text.strip(" .").replace("l", "1").replace("I", "1").replace("O", "0").replace("o", "0")
    )
    if digits.isascii() and digits.isdigit() and 1 <= int(digits) <= 31:  # noqa: PLR2004 - days
        return int(digits)
    raise InputError(
        f"{field}: the day of the month reads “{text.strip()[:20]}”.",
        remedy="Type a number from 1 to 31.",
        subject=field,
    )


def _regular(
    corners: _Corners, tables: DiamondTables
) -> list[tuple[date, MonthLetter | DiamondException]]:
    return [
        (date(year.year, month.month, corners.day), month)
        for year in tables.years
        if (year.series, year.letter) == (corners.series, corners.year_letter)
        for month in tables.months
        if month.letter == corners.month_letter
        and corners.day <= monthrange(year.year, month.month)[1]
    ]


def _exceptional(
    corners: _Corners, tables: DiamondTables
) -> list[tuple[date, MonthLetter | DiamondException]]:
    wanted = (corners.series, corners.year_letter, corners.month_letter)
    return [
        (row.first.replace(day=corners.day), row)
        for row in tables.exceptions
        if (row.series, row.year_letter, row.month_letter) == wanted
        and row.first.day <= corners.day <= row.last.day
    ]


def _impossible(corners: _Corners, tables: DiamondTables) -> InputError:
    """Return an error that names the corner that is wrong, and what could stand there."""
    letters = [row.letter for row in tables.years if row.series == corners.series]
    months = [row.letter for row in tables.months]
    odd = [row.year_letter for row in tables.exceptions if row.series == corners.series]
    if corners.year_letter not in letters + odd:
        return _refuse(corners, f"{corners.year_letter} was not a year letter", letters)
    if corners.month_letter not in months:
        return _refuse(corners, f"{corners.month_letter} was not a month letter", months)
    nearest = _nearest_days(corners, tables)
    return InputError(
        f"{corners.field}: no design was registered on day {corners.day} with month letter"
        f" {corners.month_letter} and year letter {corners.year_letter}.",
        remedy=f"The nearest possible day is {nearest}; look at the mark again.",
        subject=corners.field,
    )


def _nearest_days(corners: _Corners, tables: DiamondTables) -> str:
    """Name the nearest day that the letters can mean; the mark ran from 1 September 1842."""
    years = _year_rows(corners, tables)
    if not years:
        by_exception = (r for r in tables.exceptions if r.year_letter == corners.year_letter)
        return _days_of(next(by_exception))
    month = next(row.month for row in tables.months if row.letter == corners.month_letter)
    year = years[0].year
    nearest = date(year, month, min(corners.day, monthrange(year, month)[1]))
    return format_day(min(max(nearest, _FIRST_DAY), _LAST_DAY))


def _days_of(row: DiamondException) -> str:
    month = MONTHS[row.first.month - 1]
    return f"{row.first.day} to {row.last.day} {month} {row.first.year}"


def _refuse(corners: _Corners, what: str, possible: Sequence[str]) -> InputError:
    near = min(possible, key=lambda letter: abs(ord(letter) - ord(what[0])))
    return InputError(
        f"{corners.field}: {what} in {corners.series}.",
        remedy=f"It can be {', '.join(sorted(set(possible)))}; the nearest is {near}.",
        subject=corners.field,
    )
