"""Turns numbers read off a tool into years: US patents, designs and reissues, UK designs."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from planebench.errors import InputError

__all__ = ["IssueRow", "IssueTable", "MarkReading", "NumberKind", "read_number", "split_number"]

BOTH = "found and memory"
"""The status of rows that were partly read in a public copy of their source, partly written from
memory; shown wherever they are used."""


class NumberKind(StrEnum):
    """The series that a number belongs to."""

    PATENT_US = "patent_us"
    DESIGN_US = "design_us"
    REISSUE_US = "reissue_us"
    DESIGN_UK = "design_uk"


NUMBER_WORDS = {
    NumberKind.PATENT_US: "US patent",
    NumberKind.DESIGN_US: "US design patent",
    NumberKind.REISSUE_US: "US reissued patent",
    NumberKind.DESIGN_UK: "UK registered design",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueRow:
    """The first number of a year; `first_known` is that of a rival list, None if silent."""

    year: int
    first_number: int
    first_known: int | None
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueTable:
    """First numbers by year, rising; `highest` is the largest number that can be meant."""

    kind: NumberKind
    rows: tuple[IssueRow, ...]
    highest: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkReading:
    """What a mark says: how it was read, the year it bounds, and other ways to read it.

    `not_before` is a terminus post quem, None where the mark holds no year. `alternatives` are
    other readings, each with its reason. `status` says whether the rows it rests on were found in
    a public copy of the source or written from memory. `doubtful` marks a reading that goes
    against a rule, told in `note`.
    """

    kind: str
    read_as: str
    not_before: int | None
    alternatives: tuple[str, ...] = ()
    source: str = ""
    status: str = ""
    note: str = ""
    doubtful: bool = False


_LIKE_DIGITS = str.maketrans(
    {"l": "1", "I": "1", "|": "1", "i": "1", "!": "1"} | dict.fromkeys("OoQ", "0")
)
_ALMOST = {"S": "5", "s": "5", "B": "8", "Z": "2", "z": "2", "G": "6", "b": "6", "g": "9", "T": "7"}
_BREAKS = re.compile(r"[\s.,'’`·\-]+")
_PREFIX = re.compile(
    r"(?:(?P<design>design|des|d(?=[\s.,]*\d))|(?P<reissue>reissued?|reiss|re(?![a-z])|r\.e)"
    r"|(?P<old>x(?=[\s.,]*\d))"
    r"|u\.? ?s\.?(?: ?a\.?)?(?![a-z])|united states|british|brit|u\.? ?k\.?(?![a-z])"
    r"|patente?d?s?|pat'?[ds]?|letters|registered|regist|reg'?n?d?|r\.? ?d"
    r"|numbers?|n[o0]s?(?![a-z])|n[°º]|№|#)[\s.:,]*",
    re.IGNORECASE,
)


def split_number(text: str) -> tuple[frozenset[str], str]:
    """Part a number as marked into what its words say (design, reissue, old) and the rest."""
    rest, said = text.strip().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'"), set[str]()
    while True:
        found = _PREFIX.match(rest)
        if found is None:
            return frozenset(said), rest
        said |= {name for name, value in found.groupdict().items() if value}
        rest = rest[found.end() :]


def read_number(text: str, table: IssueTable, *, field: str = "number") -> MarkReading:
    """Look up the year of a number as marked: "No. 1,234,567", "Rd. 529l23", "DES. 101 O90".

    Letters cast badly are read as digits (l, I as 1; O, Q as 0). The year is the first in which
    the number can have been issued: where two lists differ, the earlier one. Raises InputError
    naming `field` and the nearest number that would do.
    """
    said, rest = split_number(text)
    if "old" in said:
        raise InputError(
            f"{field}: {text.strip()} belongs to the series before July 1836, "
            "for which there is no table.",
            remedy="Enter its years instead: until 1836.",
            subject=field,
        )
    number = _digits(rest, text, field)
    words = NUMBER_WORDS[table.kind]
    if not table.rows[0].first_number <= number <= table.highest:
        near = table.rows[0].first_number if number < 1 else table.highest
        raise InputError(
            f"{field}: there is no {words} {number:,}.",
            remedy=f"The nearest possible number is {near:,}; look at the mark again.",
            subject=field,
        )
    return _looked_up(number, table)


def _digits(rest: str, text: str, field: str) -> int:
    bare = _BREAKS.sub("", rest).translate(_LIKE_DIGITS)
    if bare.isascii() and bare.isdigit() and len(bare) < 16:  # noqa: PLR2004 - far above any number
        return int(bare)
    digits = "".join(_ALMOST.get(evidence, evidence) for evidence in bare)
    likely = digits if digits.isascii() and digits.isdigit() else re.sub(r"\D", "", bare)
    remedy = f"Try {likely[:8]}." if likely else "Type the digits, for example 1,234,567."
    shown = text.strip()[:40]
    raise InputError(f"{field}: “{shown}” is not a number.", remedy=remedy, subject=field)


def _looked_up(number: int, table: IssueTable) -> MarkReading:
    at = bisect_right([row.first_number for row in table.rows], number) - 1
    rows = table.rows[at : at + 2]
    year = table.rows[at].year
    last = _rival_year(number, table.rows)
    alternatives: tuple[str, ...] = ()
    if last is not None and last != year:
        other = "later" if last > year else "earlier"
        alternatives = (f"{last} by the list of first known registrations ({other})",)
    first = year if last is None else min(year, last)
    note = ""
    if at == len(table.rows) - 1:
        note = f"The table ends with {year}: this number is from {year} or later."
    return MarkReading(
        kind=table.kind.value,
        read_as=f"{NUMBER_WORDS[table.kind]} {number:,}, {_verb(table.kind)} {year}",
        not_before=first,
        alternatives=alternatives,
        source=table.rows[at].source,
        status=worst(row.status for row in rows),
        note=note,
    )


def worst(statuses: Iterable[str]) -> str:
    """Join the status of several rows: found only where all were found."""
    seen = set(statuses)
    return seen.pop() if len(seen) == 1 else BOTH


def _verb(kind: NumberKind) -> str:
    return "registered in about" if kind is NumberKind.DESIGN_UK else "issued in"


def _rival_year(number: int, rows: Sequence[IssueRow]) -> int | None:
    """Return the year by the rival list, within the years that it covers; it need not rise."""
    covered = [row for row in rows if row.first_known is not None]
    if not covered or number >= _first_after(covered[-1].year, rows):
        return None
    return max((r.year for r in covered if (r.first_known or 0) <= number), default=None)


def _first_after(year: int, rows: Sequence[IssueRow]) -> int:
    return min((row.first_number for row in rows if row.year > year), default=0)
