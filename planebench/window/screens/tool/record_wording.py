"""Wording of the record: parts, defects, dimensions, counts, days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from decimal import Decimal

from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Defect, Dimension, Part, Photograph
from planebench.trade.days import DayOrder, format_day
from planebench.trade.terms import SOLID_BASES, STAGE_WORDS
from planebench.trade.units import LengthUnit, format_inches, format_length, format_millimeters

Choices = tuple[tuple[str, str], ...]
_LEADS_ON = ("at ", "on ", "in ", "under ", "near ", "along ", "over ", "behind ", "by ", "to ")


def lower_first(text: str) -> str:
    """Return the text with a lower-case first letter, for the middle of a sentence."""
    return f"{text[:1].lower()}{text[1:]}"


def upper_first(text: str) -> str:
    """Return the text with an upper-case first letter."""
    return f"{text[:1].upper()}{text[1:]}"


def counted(count: int, one: str, many: str = "") -> str:
    """Return a count with its noun: "3 comparables", "1 comparable"."""
    return f"{count} {one if count == 1 else many or f'{one}s'}"


def list_choices(name: str, first: str = "") -> Choices:
    """Return an open list as choices; `first`, if set, is an empty choice before them."""
    rows = tuple((row.code, row.name) for row in open_list(name).values())
    return (("", first), *rows) if first else rows


def part_choices(parts: Iterable[Part], first: str) -> Choices:
    """Return the parts of a tool as choices after `first`, the choice for none."""
    return (("", first), *((part.id, part.name) for part in parts))


def defect_words(defect: Defect, part: Part | None) -> str:
    """Return a defect on one line: "Chip at the mouth, body"."""
    what = name_of("defects", defect.kind)
    if defect.place:
        joint = " " if defect.place.lower().startswith(_LEADS_ON) else ", "
        what = f"{what}{joint}{defect.place}"
    if part is not None and lower_first(part.name) not in what.lower():
        what = f"{what}, {lower_first(part.name)}"
    return what


def format_dimension(one: Dimension, unit: LengthUnit) -> str:
    """Return a dimension, the reader's unit first: "9 11/32 in (237.3 mm, ±0.5)"."""
    about = "about " if one.basis not in SOLID_BASES else ""
    kind = dimension_unit(one.what)
    margin = "" if one.plus_minus is None else f", ±{_plain(one.plus_minus)}"
    if kind != "mm":
        unit_sign = "°" if kind == "deg" else f" {kind}"
        return f"{about}{_plain(one.value)}{unit_sign}{margin}"
    said = format_length(one.value, unit)
    return f"{about}{said[:-1]}{margin})" if margin else f"{about}{said}"


def format_short_dimension(one: Dimension, unit: LengthUnit) -> str:
    """Return a dimension in the reader's unit alone: "9 11/32 in, ±0.5 mm"."""
    if dimension_unit(one.what) != "mm":
        return format_dimension(one, unit)
    about = "about " if one.basis not in SOLID_BASES else ""
    inches = unit is LengthUnit.INCH
    said = format_inches(one.value) if inches else format_millimeters(one.value)
    margin = "" if one.plus_minus is None else f", ±{format_tolerance(one.plus_minus)}"
    return f"{about}{said}{margin}"


def dimension_unit(what: str) -> str:
    """Return the unit of a dimension: mm, deg or g."""
    row = open_list("dimensions").get(what)
    return "mm" if row is None else str(row.more.get("unit", "mm"))


def format_tolerance(value: Decimal | None) -> str:
    """Return a tolerance as it could be typed."""
    return "" if value is None else format_millimeters(value)


def format_short_day(day: dt.date | None, today: dt.date, order: DayOrder) -> str:
    """Return a day, without the year if it is the current one; empty for None."""
    if day is None:
        return ""
    return format_day(day, order, with_year=day.year != today.year)


def photograph_words(photograph: Photograph, order: DayOrder) -> str:
    """Return view, stage and day of a photograph: "Top, finished, May 2, 2026"."""
    view = name_of("views", photograph.view) if photograph.view else "view not named"
    when = (
        "" if photograph.taken_at is None else f", {format_day(photograph.taken_at.date(), order)}"
    )
    return f"{upper_first(view)}, {STAGE_WORDS[photograph.stage]}{when}"


def _plain(value: Decimal) -> str:
    figure = f"{value.quantize(Decimal('0.01')):f}"
    return figure.rstrip("0").rstrip(".")
