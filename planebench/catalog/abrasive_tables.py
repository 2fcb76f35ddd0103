"""Reads the grades of abrasives in resources/abrasives."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

from planebench.catalog.reference import resources_folder
from planebench.errors import FileError
from planebench.trade.abrasives import GritRow, GritSystem, GritTable

_FROM_MEMORY = {"found": False, "memory": True}


@cache
def grit_table() -> GritTable:
    """Return all grades known. Raises FileError naming the row that is wrong."""
    path = resources_folder() / "abrasives" / "grits.csv"
    lines = path.read_text("utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return GritTable(rows=tuple(_row(row, path) for row in rows))


def _row(row: dict[str, str], path: Path) -> GritRow:
    try:
        return GritRow(
            system=GritSystem(row["system"]),
            grade=row["grade"],
            um=float(row["um"]),
            source=row["source"],
            from_memory=_FROM_MEMORY[row["status"]],
        )
    except (KeyError, ValueError) as error:
        raise FileError(
            f"The table {path.name} was not used: the row {row} is not a grade.",
            remedy="Mend the row or restore the file.",
            subject=str(path),
        ) from error
