"""Rows of measurements with the unit chosen first in the first column."""

from __future__ import annotations

from collections.abc import Sequence

from planebench.sheet.content import SheetContent, SheetDimension
from planebench.trade.units import LengthUnit

Data = dict[str, object]


def units_in_order(content: SheetContent) -> list[str]:
    """Return the headings of the two columns of lengths."""
    return ["inches", "mm"] if _inches_first(content) else ["mm", "inches"]


def dimension_rows(dimensions: Sequence[SheetDimension], content: SheetContent) -> list[Data]:
    """Return one row for each dimension; `across` is set for what has no two units."""
    return [_row(one, inches_first=_inches_first(content)) for one in dimensions]


def _inches_first(content: SheetContent) -> bool:
    return content.choices.first_unit is LengthUnit.INCH


def _row(one: SheetDimension, *, inches_first: bool) -> Data:
    both = (one.inches, one.millimeters)
    first, second = both if inches_first else both[::-1]
    known = bool(one.words or first or second)
    return {
        "of": one.of,
        "first": first,
        "second": second,
        "across": one.words if known else "not measured",
        "basis": one.basis,
        "known": known,
    }
