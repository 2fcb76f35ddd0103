"""Measurements of the tool and of its cutter, each with ± and basis, and what is still missing."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Dimension
from planebench.sheet.content import SheetDimension
from planebench.sheet.length_words import (
    inches_margin,
    inches_words,
    millimeters_margin,
    millimeters_words,
)
from planebench.sheet.phrases import lower_first
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.record_dating import odd_part_keys, part_key
from planebench.trade.terms import BASIS_WORDS, SOLID_BASES, PartStatus

_ASKED = ("sole_length", "sole_width", "mouth_opening")
_ASKED_OF_CUTTER = ("cutter_width",)
"""What every sheet says, measured or not: a buyer of a plane asks this first.

Common practice, no source.
"""

_OF_CUTTER = frozenset(
    {"cutter_width", "cutter_length", "cutter_left", "cutter_thickness", "bevel_angle"}
)
_POUND_G = Decimal("453.59237")
"""Exactly: the international pound (NIST SP 811, appendix B)."""

_OUNCES = 16


def measurements_of(source: SheetSource) -> tuple[SheetDimension, ...]:
    """Return what was measured on the tool but its cutter, and what is asked but was not."""
    return _dimensions(source, _ASKED, cutter=False)


def cutter_of(source: SheetSource) -> tuple[SheetDimension, ...]:
    """Return what was measured on the cutter; empty if the tool has or should have none."""
    if not any(part.code == "cutter" for part in source.tool.parts):
        return ()
    return _dimensions(source, _ASKED_OF_CUTTER, cutter=True)


def cutter_note(source: SheetSource) -> str:
    """Return what is known of the cutter as a part: "replaced", "of another date", "missing"."""
    cutter = next((part for part in source.tool.parts if part.code == "cutter"), None)
    if cutter is None:
        return ""
    words = {
        PartStatus.MISSING: "missing",
        PartStatus.REPLACED: "replaced",
        PartStatus.NOT_ORIGINAL: "not original",
        PartStatus.NOT_SEEN: "not checked",
    }
    odd = source.dating is not None and part_key(cutter) in odd_part_keys(source.dating)
    return words.get(cutter.status, "its date does not match the rest" if odd else "")


def not_measured(source: SheetSource) -> tuple[str, ...]:
    """Return the names of what a buyer asks for but nobody measured."""
    known = {one.what for one in source.tool.dimensions}
    names = (_name(what) for what in (*_ASKED, *_ASKED_OF_CUTTER) if what not in known)
    return tuple(lower_first(name).replace(", ", " ") for name in names)


def _dimensions(
    source: SheetSource, asked: Sequence[str], *, cutter: bool
) -> tuple[SheetDimension, ...]:
    order = list(open_list("dimensions"))
    taken = [
        (one.what, _dimension(one))
        for one in source.tool.dimensions
        if (one.what in _OF_CUTTER) == cutter
    ]
    known = {what for what, _ in taken}
    lacking = [(what, SheetDimension(of=_name(what))) for what in asked if what not in known]
    both = sorted(
        taken + lacking, key=lambda pair: order.index(pair[0]) if pair[0] in order else len(order)
    )
    return tuple(line for _, line in both)


def _name(what: str) -> str:
    return name_of("dimensions", what)


def _dimension(one: Dimension) -> SheetDimension:
    row = open_list("dimensions").get(one.what)
    unit = str(row.more.get("unit", "mm")) if row is not None else "mm"
    about = "about " if one.basis not in SOLID_BASES else ""
    name, basis = _name(one.what), BASIS_WORDS[one.basis]
    if unit == "deg":
        margin = "" if one.plus_minus is None else f" ±{_plain(one.plus_minus)}°"
        return SheetDimension(of=name, words=f"{about}{_plain(one.value)}°{margin}", basis=basis)
    if unit == "g":
        return _weight(one, name, about)
    return SheetDimension(
        of=name,
        inches=about + inches_words(one.value) + inches_margin(one.value, one.plus_minus),
        millimeters=about + millimeters_words(one.value) + millimeters_margin(one.plus_minus),
        basis=basis,
    )


def _weight(one: Dimension, name: str, about: str) -> SheetDimension:
    """Return a weight in pounds and ounces, and in grams or kilograms."""
    ounces = int((one.value / _POUND_G * _OUNCES).to_integral_value())
    pounds, rest = divmod(ounces, _OUNCES)
    imperial = f"{pounds} lb {rest} oz" if pounds else f"{rest} oz"
    margin = ""
    if one.plus_minus is not None:
        margin = f" ±{_plain(one.plus_minus)} g"
    metric = f"{_plain(one.value)} g{margin}"
    return SheetDimension(
        of=name, inches=about + imperial, millimeters=about + metric, basis=BASIS_WORDS[one.basis]
    )


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"
