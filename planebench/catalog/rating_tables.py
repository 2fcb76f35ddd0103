"""Reads the rating tables and the currencies of resources/; each row names its source."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from pathlib import Path

from planebench.errors import FileError
from planebench.trade.money import Currency
from planebench.trade.ratings import Grade, GradeTable, RatingTables

_STATUS = {"found": False, "memory": True}


def load_rating_tables(folder: Path) -> RatingTables:
    """Read the four tables of `resources/ratings`; FileError names the file and the row."""
    return RatingTables(
        flaking=_grades(folder / "iso4628_5_flaking.csv"),
        protection=_grades(folder / "iso10289_protection.csv"),
        rust_degree=_grades(folder / "iso4628_3_rust.csv"),
        rust_grade=_grades(folder / "astm_d610_rust.csv"),
    )


def load_currencies(path: Path) -> Mapping[str, Currency]:
    """Read `resources/money/iso4217.csv` by code; FileError names the file and the row."""
    return {row["code"]: _currency(row, path) for row in _rows(path)}


def _grades(path: Path) -> GradeTable:
    rows = tuple(_grade(row, path) for row in _rows(path))
    try:
        return GradeTable(rows)
    except ValueError as error:
        raise _trouble(path, f"its {error}") from error


def _grade(row: Mapping[str, str], path: Path) -> Grade:
    try:
        return Grade(
            grade=int(row["grade"]),
            up_to_percent=Decimal(row["up_to_percent"]),
            from_memory=_STATUS[row["status"]],
            source=row["source"],
        )
    except (KeyError, ValueError, InvalidOperation) as error:
        raise _trouble(path, f"the row {dict(row)} is not a grade") from error


def _currency(row: Mapping[str, str], path: Path) -> Currency:
    try:
        return Currency(code=row["code"], digits=int(row["digits"]), name=row["name"])
    except (KeyError, ValueError) as error:
        raise _trouble(path, f"the row {dict(row)} is not a currency") from error


def _rows(path: Path) -> list[dict[str, str]]:
    """Read the rows below the header; lines that begin with # are remarks."""
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise _trouble(path, "it cannot be read") from error
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def _trouble(path: Path, reason: str) -> FileError:
    return FileError(
        f"The reference table {path.name} was not used: {reason}.",
        remedy="Reinstall the table that came with the program.",
        subject=str(path),
    )
