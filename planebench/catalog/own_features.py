"""Parses a user's own table of known features, in the form of the program's table."""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from dataclasses import fields

from planebench.catalog.dating_tables import known_feature_from
from planebench.errors import InputError
from planebench.trade.evidence_parsing import KnownFeature
from planebench.trade.years_edtf import read_edtf

COLUMNS = tuple(field.name for field in fields(KnownFeature))


def parse_known_features(text: str) -> dict[str, KnownFeature]:
    """Return known features by id. Raise InputError naming the row and the bad column."""
    rows = csv.DictReader(text.lstrip("\ufeff").splitlines(), restkey="more")
    _refuse_missing(rows.fieldnames or ())
    found: dict[str, KnownFeature] = {}
    for row in rows:
        feature = known_feature_from(_cells(row, rows.line_num))
        if feature.id in found:
            what = f"repeats “{feature.id}”"
            raise _wrong(rows.line_num, "id", what, "Give each row an id of its own.")
        found[feature.id] = feature
    return found


def _cells(row: Mapping[str, str | None], line: int) -> dict[str, str]:
    """Return a row's cells by column. Raises InputError for the first that cannot be used."""
    if "more" in row:
        raise _wrong(
            line,
            "the last",
            "has more cells than the header",
            "Put cells that contain commas in quotes.",
        )
    cells = {name: (row.get(name) or "").strip() for name in COLUMNS}
    for column, (fits, remedy) in _CELLS.items():
        if not fits(cells[column]):
            raise _wrong(line, column, f"is “{cells[column]}”", remedy)
    return cells


def _refuse_missing(header: object) -> None:
    names = list(header) if isinstance(header, list | tuple) else []
    missing = [name for name in COLUMNS if name not in names]
    if missing:
        raise InputError(
            f"Row 1 has no column {missing[0]}.",
            remedy=f"The header must be {','.join(COLUMNS)}.",
            subject=missing[0],
        )


def _wrong(line: int, column: str, what: str, remedy: str) -> InputError:
    return InputError(
        f"Row {line}, column {column}: it {what}.", remedy=remedy, subject=f"row {line}, {column}"
    )


def _is_share(cell: str) -> bool:
    return _is_figure(cell) and float(cell) <= 1


def _is_figure(cell: str) -> bool:
    try:
        return 0 <= float(cell) < float("inf")
    except ValueError:
        return False


def _is_year(cell: str) -> bool:
    try:
        return not cell or read_edtf(cell).first is not None
    except InputError:
        return False


_YEAR = (_is_year, "Write a year such as 1891, or nothing.")
_CELLS: Mapping[str, tuple[Callable[[str], bool], str]] = {
    "id": (bool, "Give each row an id of its own."),
    "clue": (bool, "Describe what is seen."),
    "family": (bool, "Name what it is a kind of, such as fastener."),
    "not_before": _YEAR,
    "not_after": _YEAR,
    "never_before": (lambda cell: cell in {"yes", "no"}, "Write yes or no."),
    "sure": (_is_share, "Write a share from 0 to 1."),
    "looseness": (_is_figure, "Write years, 0 or more."),
    "source": (bool, "Name where it is known from."),
    "status": (bool, "Write found, memory, or how else it is known."),
}
