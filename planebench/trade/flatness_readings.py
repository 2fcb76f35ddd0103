"""Parses flatness readings from CSV text: heights at places, or gaps under a straightedge."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from io import StringIO

import numpy as np

from planebench.errors import InputError
from planebench.trade.flatness import SolePoints
from planebench.trade.straightedge import GapReading

_COLUMNS = ("x_mm", "y_mm", "z_mm")
_GAP_COLUMNS = ("line", "x_mm", "y_mm", "goes_mm", "stops_mm")
_IN_INCHES = ("x_in", "y_in", "z_in")
_MM_PER_INCH = 25.4
_LONGEST_MM = 1000.0
"""Soles of the longest jointers are under a meter; a place beyond is a slip or another unit."""

_HIGHEST_MM = 5.0
"""No sole in use is out by more; a larger height is in another unit, or a length."""


def parse_readings(text: str) -> SolePoints:
    """Return readings as N x 3 in mm: x along the sole, y across, z height with the sole up.

    Lines that begin with # are comments. Raises InputError naming the line for a missing column,
    units that are mixed, a value that is no number, or a place off any sole.
    """
    header, kept = _table(text)
    columns, factor = _columns(header)
    rows = [_row(line, number, header, columns) for number, line in kept]
    points = np.array(rows, dtype=np.float64).reshape(-1, 3) * factor
    _check_places(points, [number for number, _ in kept])
    return points


def has_gaps(text: str) -> bool:
    """Return whether a file holds gaps under a straightedge rather than heights."""
    return "goes_mm" in _table(text)[0]


def parse_gaps(text: str) -> dict[str, list[GapReading]]:
    """Return gaps by line: columns line, x_mm, y_mm, goes_mm, stops_mm.

    `goes_mm` is the thickest leaf that goes under the straightedge, `stops_mm` the thinnest that
    does not. Raises InputError naming the line of the file.
    """
    header, kept = _table(text)
    if not set(_GAP_COLUMNS) <= set(header):
        raise _refusal(
            f"The columns are {', '.join(header)}.", f"Use {','.join(_GAP_COLUMNS)}.", "columns"
        )
    lines: dict[str, list[GapReading]] = {}
    columns = [header.index(name) for name in _GAP_COLUMNS[1:]]
    for number, line in kept:
        x, y, goes, stops = _row(line, number, header, columns)
        name = next(csv.reader([line]))[header.index("line")].strip()
        gap = GapReading(place=(x, y), goes_mm=goes, stops_mm=stops)
        lines.setdefault(name, []).append(gap)
    return lines


def _table(text: str) -> tuple[list[str], list[tuple[int, str]]]:
    """Return the header and the numbered lines below it, without comments and empty lines."""
    lines = text.lstrip("\ufeff").splitlines()
    kept = [(n, line) for n, line in enumerate(lines, 1) if line.strip() and line[:1] != "#"]
    if not kept:
        raise _refusal("The file is empty.", f"Begin with {','.join(_COLUMNS)}.", "readings")
    return [cell.strip().lower() for cell in next(csv.reader([kept[0][1]]))], kept[1:]


def _columns(header: Sequence[str]) -> tuple[list[int], float]:
    for names, factor in ((_COLUMNS, 1.0), (_IN_INCHES, _MM_PER_INCH)):
        if all(name in header for name in names):
            return [header.index(name) for name in names], factor
    units = {name.rpartition("_")[2] for name in header if name[:2] in {"x_", "y_", "z_"}}
    if len(units) > 1:
        raise _refusal(
            f"The columns mix units: {', '.join(header)}.",
            f"Use {','.join(_COLUMNS)} or {','.join(_IN_INCHES)}, not both.",
            "columns",
        )
    raise _refusal(
        f"The columns are {', '.join(header)}.", f"Begin with {','.join(_COLUMNS)}.", "columns"
    )


def _row(line: str, number: int, header: Sequence[str], columns: Sequence[int]) -> list[float]:
    cells = next(csv.reader(StringIO(line)))
    if len(cells) != len(header):
        commas = " If these are decimal commas, write points." if len(cells) > len(header) else ""
        raise _refusal(
            f"Line {number} has {len(cells)} values, the header {len(header)}.",
            f"Write one value per column.{commas}",
            f"line {number}",
        )
    return [_number(cells[column], number) for column in columns]


def _number(cell: str, line: int) -> float:
    text = cell.strip()
    try:
        return float(text)
    except ValueError as error:
        unit = text.lower().rstrip(".").endswith(("mm", "in", '"', "”"))
        remedy = (
            "Write the number alone; the unit is in the column’s name."
            if unit
            else f"Try {text.replace(',', '.')}."
            if "," in text
            else "Write a number, such as 0.05."
        )
        raise _refusal(
            f"Line {line}: “{text[:40]}” is not a number.", remedy, f"line {line}"
        ) from error


def _check_places(points: SolePoints, numbers: Sequence[int]) -> None:
    for (x, y, z), number in zip(points.tolist(), numbers, strict=True):
        if not np.isfinite((x, y, z)).all():
            raise _refusal(f"Line {number} is not a number.", "Write a number.", f"line {number}")
        if max(abs(x), abs(y)) > _LONGEST_MM:
            raise _refusal(
                f"Line {number}: {max(abs(x), abs(y)):g} mm is off any sole.",
                "Check the place and the unit.",
                f"line {number}",
            )
        if abs(z) > _HIGHEST_MM:
            raise _refusal(
                f"Line {number}: a height of {z:g} mm is more than any sole is out.",
                "Check the height and the unit.",
                f"line {number}",
            )


def _refusal(happened: str, remedy: str, subject: str) -> InputError:
    return InputError(happened, remedy=remedy, subject=subject)
