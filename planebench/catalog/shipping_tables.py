"""Reads the rules of dimensional weight in resources/money."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache

from planebench.catalog.reference import resources_folder
from planebench.errors import FileError
from planebench.trade.shipping import DimensionalRule, ParcelUnit


@cache
def dimensional_rules() -> Mapping[str, DimensionalRule]:
    """Return the rules by code. Raises FileError naming the row that is wrong."""
    path = resources_folder() / "money" / "dimensional_weight.csv"
    lines = path.read_text("utf-8").splitlines()
    rules: dict[str, DimensionalRule] = {}
    for row in csv.DictReader(line for line in lines if not line.startswith("#")):
        try:
            rules[row["code"]] = DimensionalRule(
                code=row["code"],
                name=row["name"],
                divisor=int(row["divisor"]),
                unit=ParcelUnit(row["unit"]),
            )
        except (KeyError, ValueError) as error:
            raise FileError(
                f"The table {path.name} was not used: the row {row} is not a rule.",
                remedy="Mend the row or restore the file.",
                subject=str(path),
            ) from error
    return rules
