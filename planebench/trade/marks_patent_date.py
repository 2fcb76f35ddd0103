"""Reads US patent dates as they are cast and stamped: PAT. APR. 19. 92, Pat'd Mar-25-02."""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import chain

from planebench.errors import InputError
from planebench.trade.days import MONTHS, WEEKDAYS, format_day
from planebench.trade.marks import MarkReading

_CAST_OTHERWISE = (
    *(("mch", 3), ("mr", 3), ("apl", 4), ("ap'l", 4), ("apl'", 4), ("aprl", 4), ("je", 6)),
    *(("jne", 6), ("jy", 7), ("jly", 7), ("agt", 8), ("sp", 9), ("spt", 9), ("oc", 10)),
    *(("octr", 10), ("nv", 11), ("dc", 12), ("dcr", 12)),
)
_MONTHS_A_YEAR = 12
_SHORT, _FULL = 2, 4
"""Digits of a day or a shortened year, and of a full year."""
_LEAST = 3
"""Letters that are enough to tell a month."""
_TOKEN = re.compile(r"[A-Za-z0-9|!'’]+")
_AS_DIGITS = str.maketrans(dict.fromkeys("lIi|!", "1") | dict.fromkeys("OoQ", "0"))
_AS_ONE_SHAPE = str.maketrans(
    {"l": "i", "1": "i", "|": "i", "!": "i", "0": "o", "5": "s", "6": "g", "8": "b"}
)
_ORDINAL = re.compile(r"(?<=[0-9lIiOo|])(?:st|nd|rd|th)$", re.IGNORECASE)
_TUESDAY = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class PatentDateRules:
    """What is known of patent dates; the values stand in dating/constants.toml.

    US patents have been issued on Tuesdays since `tuesday_since`. Dates lie between `earliest` and
    `latest`; date marks were usual until `usual_until`.
    """

    tuesday_since: int = 1848
    earliest: int = 1836
    latest: int = 1990
    usual_until: int = 1930


@dataclass(frozen=True, slots=True, kw_only=True)
class PatentDate:
    """One date of a mark, with the other days it could mean, each with what speaks against it."""

    day: date
    tuesday: bool | None
    others: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Written:
    """Month, day and year as they stand; `swapped` where 3-4-02 could be day first."""

    month: int
    day: int
    year: str
    swapped: bool = False


_RULES = PatentDateRules()


def read_patent_date(
    text: str, rules: PatentDateRules = _RULES, *, field: str = "patent date"
) -> MarkReading:
    """Read the dates of a mark; the latest of them is the terminus post quem.

    A year of two digits is resolved by the weekday, then by when dates were marked; what else it
    could mean is told. A mark without any date ("Pat. pending") has no years. Raises InputError
    naming `field` for a day that no calendar has, with the nearest one.
    """
    dates = patent_dates(text, rules, field=field)
    if not dates:
        return _without_date(text, field)
    odd = [one for one in dates if one.tuesday is False]
    return MarkReading(
        kind="patent_date",
        read_as="; ".join(_said(one) for one in dates),
        not_before=max(one.day for one in dates).year,
        alternatives=tuple(chain.from_iterable(one.others for one in dates)),
        source="the mark itself",
        status="found",
        note=" ".join(_doubt(one) for one in odd),
        doubtful=bool(odd),
    )


def patent_dates(
    text: str, rules: PatentDateRules = _RULES, *, field: str = "patent date"
) -> tuple[PatentDate, ...]:
    """Return each date of a mark. Raises InputError as `read_patent_date` does."""
    return tuple(_resolve(one, rules, field) for one in _written(text))


def _without_date(text: str, field: str) -> MarkReading:
    numbers = re.search(r"\d", text)
    if numbers is None and re.search(r"[A-Za-z]{2}", text):
        return MarkReading(
            kind="patent_date", read_as="no date in it", not_before=None, source="the mark itself"
        )
    raise InputError(
        f"{field}: no month, day and year can be read in “{text.strip()[:60]}”.",
        remedy="Type what is stamped, such as Pat. Apr 19 92. "
        "For a number, choose US patent number.",
        subject=field,
    )


def _written(text: str) -> Iterator[_Written]:
    """Find month, day, year in a row; or day, month, year; or three numbers, month first."""
    tokens = [token.strip("'") or token for token in _TOKEN.findall(text.replace("’", "'"))]
    at = 0
    while at + 2 < len(tokens):
        found = _three(*tokens[at : at + 3])
        if found is not None:
            yield found
        at += 1 if found is None else 3


def _three(one: str, two: str, three: str) -> _Written | None:
    if not _is_year(three):
        return None
    named = _named(one, two) or _named(two, one)
    if named is not None:
        return _Written(*named, _year_digits(three))
    return _numeric(one, two, three) if _plain(one) and _plain(two) else None


def _named(month: str, day: str) -> tuple[int, int] | None:
    """Read a month by its name and a day."""
    number, digits = _month(month), _number(day)
    return None if number is None or digits is None else (number, digits)


def _numeric(one: str, two: str, three: str) -> _Written | None:
    """Read three numbers, month first; where the first is no month, the day stands there."""
    first, second = _number(one), _number(two)
    if first is None or second is None:
        return None
    if first > _MONTHS_A_YEAR:
        return _Written(second, first, _year_digits(three))
    return _Written(first, second, _year_digits(three), swapped=second <= _MONTHS_A_YEAR)


def _month(token: str) -> int | None:
    letters = [evidence for evidence in token if evidence.isalpha()]
    return _month_of(_shape(token)) if len(letters) >= _SHORT else None


def _month_of(shape: str) -> int | None:
    for name, number in _CAST_OTHERWISE:
        if shape == _shape(name):
            return number
    if len(shape) < _LEAST:
        return None
    names = enumerate(map(_shape, MONTHS), start=1)
    return next((number for number, name in names if _is_short_for(shape, name)), None)


def _is_short_for(shape: str, name: str) -> bool:
    return name.startswith(shape) or shape[:-1] == name[:_LEAST]


def _shape(name: str) -> str:
    return name.lower().translate(_AS_ONE_SHAPE)


def _number(token: str) -> int | None:
    digits = _ORDINAL.sub("", token).translate(_AS_DIGITS)
    return int(digits) if digits.isascii() and digits.isdigit() and len(digits) <= _SHORT else None


def _plain(token: str) -> bool:
    """Whether it holds a true digit, so that "ll" in a name is not taken for eleven."""
    return any(evidence.isdigit() for evidence in token)


def _is_year(token: str) -> bool:
    return (
        _year_digits(token).isdigit()
        and len(_year_digits(token)) in {_SHORT, _FULL}
        and _plain(token)
    )


def _year_digits(token: str) -> str:
    return token.translate(_AS_DIGITS)


def _resolve(written: _Written, rules: PatentDateRules, field: str) -> PatentDate:
    """Choose the likeliest century, and for two small numbers the likeliest order."""
    years = [y for y in _centuries(written.year) if rules.earliest <= y <= rules.latest]
    if not years:
        raise InputError(
            f"{field}: no US patent is dated {written.year}.",
            remedy=f"Look at the mark again; dates run from {rules.earliest} to {rules.latest}.",
            subject=field,
        )
    days = _possible_days(written, years)
    if not days:
        raise _no_such_day(written, field)
    days.sort(key=lambda choice: _rank(choice[1], choice[0], rules))
    chosen = days[0][1]
    others = [_against(other, rules) for _, other in days[1:]]
    return PatentDate(
        day=chosen,
        tuesday=_is_tuesday(chosen, rules),
        others=(*others, *_out_of_time(written, rules)),
    )


def _possible_days(written: _Written, years: Sequence[int]) -> list[tuple[int, date]]:
    """Return each day that can be meant, with 0 for month first and 1 for day first."""
    orders = [(0, written.month, written.day)]
    if written.swapped and written.month != written.day:
        orders.append((1, written.day, written.month))
    return [
        (order, date(year, month, day))
        for order, month, day in orders
        for year in years
        if _exists(year, month, day)
    ]


def _out_of_time(written: _Written, rules: PatentDateRules) -> list[str]:
    """Name the century of a shortened year in which goods bore no dates of US patents."""
    known = f"goods were marked with US patent dates from {rules.earliest} to {rules.latest}"
    years = _centuries(written.year)
    return [f"{year}: {known}" for year in years if not rules.earliest <= year <= rules.latest]


def _centuries(digits: str) -> tuple[int, ...]:
    return (int(digits),) if len(digits) == _FULL else (1800 + int(digits), 1900 + int(digits))


def _rank(day: date, order: int, rules: PatentDateRules) -> tuple[int, bool, int, int]:
    tuesday = _is_tuesday(day, rules)
    doubt = 1 if tuesday is None else 2 * (not tuesday)
    return doubt, day.year > rules.usual_until, order, day.year


def _is_tuesday(day: date, rules: PatentDateRules) -> bool | None:
    """Whether it is a Tuesday; None before the years in which that must be so."""
    return day.weekday() == _TUESDAY if day.year >= rules.tuesday_since else None


def _exists(year: int, month: int, day: int) -> bool:
    return 1 <= month <= _MONTHS_A_YEAR and 1 <= day <= monthrange(year, month)[1]


def _no_such_day(written: _Written, field: str) -> InputError:
    month = min(max(written.month, 1), _MONTHS_A_YEAR)
    longest = max(monthrange(year, month)[1] for year in _centuries(written.year))
    day = min(max(written.day, 1), longest)
    return InputError(
        f"{field}: there is no day {written.day} of month {written.month} in {written.year}.",
        remedy=f"The nearest is {MONTHS[month - 1]} {day}, {written.year}; look at the mark again.",
        subject=field,
    )


def _said(one: PatentDate) -> str:
    if one.tuesday:
        return f"{format_day(one.day)} (a Tuesday, as it must be)"
    return format_day(one.day)


def _against(day: date, rules: PatentDateRules) -> str:
    if _is_tuesday(day, rules) is False:
        return f"{format_day(day)}, a {WEEKDAYS[day.weekday()]}: patents were issued on Tuesdays"
    if day.year > rules.usual_until:
        return f"{format_day(day)}: dates were rarely marked after {rules.usual_until}"
    return format_day(day)


def _doubt(one: PatentDate) -> str:
    name = WEEKDAYS[one.day.weekday()]
    return (
        f"{format_day(one.day)} was a {name}, but US patents were issued on Tuesdays: it was "
        "misread,"
        " or is not a US patent."
    )
