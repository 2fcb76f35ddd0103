"""How the record says things: parts, defects, lengths, counts, days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from decimal import Decimal

from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Defect, Dimension, Part, Photograph
from planebench.trade.days import format_day
from planebench.trade.terms import SOLID_BASES, STAGE_WORDS
from planebench.trade.units import LengthUnit, format_inches, format_length, format_millimeters
from planebench.trade.wording import number_word

Choices = tuple[tuple[str, str], ...]
_LEADS_ON = ("at ", "on ", "in ", "under ", "near ", "along ", "over ", "behind ", "by ", "to ")


def lower(text: str) -> str:
    """Begin in lower case, for the middle of a sentence."""
    return f"{text[:1].lower()}{text[1:]}"


def capital(text: str) -> str:
    """Begin with a capital."""
    return f"{text[:1].upper()}{text[1:]}"


def counted(count: int, one: str, many: str = "") -> str:
    """Count things: "three comparables", "one sign"."""
    return f"{number_word(count)} {one if count == 1 else many or f'{one}s'}"


def list_choices(name: str, first: str = "") -> Choices:
    """Return an open list as choices; `first` is offered before it for "not said"."""
    rows = tuple((row.code, row.name) for row in open_list(name).values())
    return (("", first), *rows) if first else rows


def part_choices(parts: Iterable[Part], first: str) -> Choices:
    """Return the parts of a tool as choices, after the words for none of them."""
    return (("", first), *((part.id, part.name) for part in parts))


def defect_words(defect: Defect, part: Part | None) -> str:
    """Say a defect on one line: "Chip at the mouth, body"."""
    what = name_of("defects", defect.kind)
    if defect.place:
        joint = " " if defect.place.lower().startswith(_LEADS_ON) else ", "
        what = f"{what}{joint}{defect.place}"
    if part is not None and lower(part.name) not in what.lower():
        what = f"{what}, {lower(part.name)}"
    return what


def measure_words(one: Dimension, unit: LengthUnit) -> str:
    """Say a measurement in the reader's unit: "9 11/32 in (237.3 mm, ± 0.5)"."""
    about = "about " if one.basis not in SOLID_BASES else ""
    kind = measure_unit(one.what)
    margin = "" if one.plus_minus is None else f", ± {_plain(one.plus_minus)}"
    if kind != "mm":
        evidence = "°" if kind == "deg" else f" {kind}"
        return f"{about}{_plain(one.value)}{evidence}{margin}"
    said = format_length(one.value, unit)
    return f"{about}{said[:-1]}{margin})" if margin else f"{about}{said}"


def short_measure(one: Dimension, unit: LengthUnit) -> str:
    """Say a measurement in the reader's unit alone: "9 11/32 in, ± 0.5 mm"."""
    if measure_unit(one.what) != "mm":
        return measure_words(one, unit)
    about = "about " if one.basis not in SOLID_BASES else ""
    inches = unit is LengthUnit.INCH
    said = format_inches(one.value) if inches else format_millimeters(one.value)
    margin = "" if one.plus_minus is None else f", ± {plus_minus_words(one.plus_minus)}"
    return f"{about}{said}{margin}"


def measure_unit(what: str) -> str:
    """Return the unit in which a thing is measured: mm, deg or g."""
    row = open_list("dimensions").get(what)
    return "mm" if row is None else str(row.more.get("unit", "mm"))


def plus_minus_words(value: Decimal | None) -> str:
    """Write a give-or-take as it could be typed."""
    return "" if value is None else format_millimeters(value)


def short_day(day: dt.date | None, today: dt.date) -> str:
    """Say a day, without the year if it is this one; empty for none."""
    if day is None:
        return ""
    said = format_day(day)
    return said.removesuffix(f" {day.year}") if day.year == today.year else said


def photograph_words(photograph: Photograph) -> str:
    """Say what a photograph is: "Top, finished, 2 May 2026"."""
    view = name_of("views", photograph.view) if photograph.view else "view not named"
    when = "" if photograph.taken_at is None else f", {format_day(photograph.taken_at.date())}"
    return f"{capital(view)}, {STAGE_WORDS[photograph.stage]}{when}"


def _plain(value: Decimal) -> str:
    figure = f"{value.quantize(Decimal('0.01')):f}"
    return figure.rstrip("0").rstrip(".")
