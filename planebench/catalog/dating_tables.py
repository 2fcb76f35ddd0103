"""Reads the tables and constants for dating: the only reader of resources/dating."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any, TypeVar

from planebench.catalog.reference import open_list, resources_folder
from planebench.errors import FileError, InputError
from planebench.trade.days import MONTHS
from planebench.trade.evidence import DatingSettings
from planebench.trade.evidence_parsing import EvidenceKindRule, EvidenceTables, KnownFeature
from planebench.trade.marks import IssueRow, IssueTable, NumberKind
from planebench.trade.marks_diamond import (
    DiamondException,
    DiamondPosition,
    DiamondTables,
    MonthLetter,
    YearLetter,
)
from planebench.trade.marks_patent_date import PatentDateRules
from planebench.trade.years import YearConventions
from planebench.trade.years_edtf import read_edtf

_NUMBERS = {
    NumberKind.PATENT_US: ("us_utility.csv", "highest_us_utility"),
    NumberKind.DESIGN_US: ("us_design.csv", "highest_us_design"),
    NumberKind.REISSUE_US: ("us_reissue.csv", "highest_us_reissue"),
    NumberKind.DESIGN_UK: ("uk_design.csv", "highest_uk_design"),
}
CLUES_FILE = "clues.csv"
_T = TypeVar("_T")
_Row = Mapping[str, str]


@cache
def dating_tables(own: Path | None = None) -> EvidenceTables:
    """Return all tables for dating, read once.

    `own` is a folder with the user's own `clues.csv` of the same form: a row with a known id
    replaces that row, a new id is added. FileError names the file and the row that is wrong.
    """
    folder = resources_folder() / "dating"
    constants = _Constants(folder / "constants.toml")
    clues = _clues(folder / CLUES_FILE)
    if own is not None and (own / CLUES_FILE).is_file():
        clues = {**clues, **_clues(own / CLUES_FILE)}
    return EvidenceTables(
        numbers={
            kind: _numbers(kind, folder / file, constants.whole("marks", highest))
            for kind, (file, highest) in _NUMBERS.items()
        },
        diamond=_diamond(folder),
        clues=clues,
        rules=constants.rules(),
        sureness={
            code: float(str(row.more["weight"])) for code, row in open_list("sureness").items()
        },
        conventions=constants.conventions(),
        patent_dates=constants.patent_dates(),
        not_tuesday_sure=constants.figure("marks", "not_tuesday_sure"),
        settings=constants.settings(),
    )


class _Constants:
    """The constants file, value by value; each must be there."""

    def __init__(self, path: Path) -> None:
        self._path = path
        try:
            self._tables: dict[str, Any] = tomllib.loads(path.read_text("utf-8"))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
            raise _trouble(path, f"it cannot be read ({error})") from error

    def figure(self, table: str, name: str) -> float:
        return float(self._value(table, name))

    def whole(self, table: str, name: str) -> int:
        return int(self._value(table, name))

    def settings(self) -> DatingSettings:
        engine = "engine"
        return DatingSettings(
            first_year=self.whole(engine, "first_year"),
            last_year=self.whole(engine, "last_year"),
            margin=self.whole(engine, "margin"),
            surest=self.figure(engine, "surest"),
            range_share=self.figure(engine, "range_share"),
            not_original=self.figure(engine, "not_original"),
            odd_at=self.figure(engine, "odd_at"),
            odd_apart_at=self.figure(engine, "odd_apart_at"),
            agree_at=self.figure(engine, "agree_at"),
            most_conflicts=self.whole(engine, "most_conflicts"),
            flat_from=self.whole(engine, "flat_from"),
            least_held=self.figure(engine, "least_held"),
            gap_told=self.whole(engine, "gap_told"),
            most_runs=self.whole(engine, "most_runs"),
            anchors=tuple(str(name) for name in self._value(engine, "anchors")),
        )

    def conventions(self) -> YearConventions:
        return YearConventions(
            circa=self.whole("years", "circa"),
            decade=self._thirds("decade"),
            century=self._thirds("century"),
            first_year=self.whole("years", "first_year"),
            last_year=self.whole("years", "last_year"),
        )

    def patent_dates(self) -> PatentDateRules:
        return PatentDateRules(
            tuesday_since=self.whole("marks", "tuesday_since"),
            earliest=self.whole("marks", "earliest_patent_date"),
            latest=self.whole("marks", "latest_patent_date"),
            usual_until=self.whole("marks", "date_marks_usual_until"),
        )

    def rules(self) -> dict[str, EvidenceKindRule]:
        return {kind: self._rule(table) for kind, table in self._tables["kinds"].items()}

    def _rule(self, table: Mapping[str, Any]) -> EvidenceKindRule:
        use = table.get("usual_use")
        return EvidenceKindRule(
            sure=float(table["sure"]),
            looseness=float(table["looseness"]),
            usual_use=None if use is None else int(use),
            reason=str(table["reason"]),
        )

    def _thirds(self, name: str) -> dict[str, tuple[int, int]]:
        return {part: (int(a), int(b)) for part, (a, b) in self._value("years", name).items()}

    def _value(self, table: str, name: str) -> Any:  # noqa: ANN401 - what TOML holds is any value
        try:
            return self._tables[table][name]
        except KeyError as error:
            raise _trouble(self._path, f"{table}.{name} is missing") from error


def _numbers(kind: NumberKind, path: Path, highest: int) -> IssueTable:
    rows = _read(path, _issue_row)
    for earlier, later in pairwise(rows):
        if not (earlier.year < later.year and earlier.first_number < later.first_number):
            raise _trouble(path, f"the row of {later.year} is out of order")
    return IssueTable(kind=kind, rows=rows, highest=highest)


def _issue_row(row: _Row) -> IssueRow:
    rival = row.get("first_known") or ""
    return IssueRow(
        year=int(row["year"]),
        first_number=int(row["first_number"]),
        first_known=int(rival) if rival else None,
        source=row["source"],
        status=row["status"],
    )


def _diamond(folder: Path) -> DiamondTables:
    classes = _read(folder / "uk_diamond_classes.csv", lambda row: (row["class"], row["material"]))
    return DiamondTables(
        years=_read(folder / "uk_diamond_years.csv", _year_letter),
        months=_read(folder / "uk_diamond_months.csv", _month_letter),
        exceptions=_read(folder / "uk_diamond_exceptions.csv", _exception),
        positions=_read(folder / "uk_diamond_positions.csv", lambda row: DiamondPosition(**row)),
        classes=dict(classes),
    )


def _year_letter(row: _Row) -> YearLetter:
    return YearLetter(
        series=row["series"],
        letter=row["letter"],
        year=int(row["year"]),
        source=row["source"],
        status=row["status"],
    )


def _month_letter(row: _Row) -> MonthLetter:
    return MonthLetter(
        month=MONTHS.index(row["month"]) + 1,
        letter=row["letter"],
        source=row["source"],
        status=row["status"],
    )


def _exception(row: _Row) -> DiamondException:
    return DiamondException(
        series=row["series"],
        year_letter=row["year_letter"],
        month_letter=row["month_letter"],
        first=date.fromisoformat(row["first_day"]),
        last=date.fromisoformat(row["last_day"]),
        source=row["source"],
        status=row["status"],
    )


def _clues(path: Path) -> dict[str, KnownFeature]:
    return {clue.id: clue for clue in _read(path, known_feature_from)}


def known_feature_from(row: _Row) -> KnownFeature:
    """Return the known feature of a row. Raise KeyError, ValueError or InputError for a bad one."""
    return KnownFeature(
        id=row["id"],
        clue=row["clue"],
        wording=row["wording"],
        family=row["family"],
        bounds=row["bounds"],
        market=row["market"],
        not_before=_year(row["not_before"]),
        not_after=_year(row["not_after"]),
        never_before={"yes": True, "no": False}[row["never_before"]],
        sure=float(row["sure"]),
        looseness=float(row["looseness"]),
        source=row["source"],
        status=row["status"],
        use=row["use"],
    )


def _year(edtf: str) -> int | None:
    first = read_edtf(edtf).first if edtf else None
    return None if first is None else first.first


def _read(path: Path, make: Callable[[_Row], _T]) -> tuple[_T, ...]:
    made: list[_T] = []
    for number, row in enumerate(_rows(path), start=2):
        try:
            made.append(make(row))
        except (KeyError, ValueError, TypeError, InputError) as error:
            raise _trouble(path, f"line {number} cannot be used ({error})") from error
    return tuple(made)


def _rows(path: Path) -> Iterable[_Row]:
    try:
        lines = path.read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise _trouble(path, "it cannot be read") from error
    return csv.DictReader(lines, strict=True)


def _trouble(path: Path, reason: str) -> FileError:
    return FileError(
        f"The dating table {path.name} was not used: {reason}.",
        remedy="Reinstall the table that came with the program, or correct the row.",
        subject=str(path),
    )
