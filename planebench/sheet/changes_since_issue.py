"""What changed in the record since a sheet was issued; the sheet itself stays as it is."""

from __future__ import annotations

from collections.abc import Mapping

from planebench.catalog.values import Json
from planebench.sheet.content import Paper, SheetChoices, SheetContent, SheetSection
from planebench.sheet.fingerprint import content_json
from planebench.sheet.former_content import former_facts, present_facts
from planebench.trade.units import LengthUnit

_WORDS = {
    "title": "what it is",
    "summary": "what it is",
    "price": "price",
    "photographs": "photographs",
    "finish": "finish",
    "problems": "problems",
    "not_checked": "what was not checked",
    "inspection": "inspection",
    "defects": "defects",
    "defects_left_off": "defects",
    "iron": "bare iron",
    "drawings": "finish",
    "dating": "when it was made",
    "parts": "parts",
    "measurements": "measurements",
    "cutter": "cutter",
    "cutter_note": "cutter",
    "work": "work done",
    "work_not_recorded": "work done",
    "cautions": "cautions",
    "promise": "guarantee",
    "address": "seller",
}


def choices_of_issued(issued: Json) -> SheetChoices:
    """Return the choices a sheet was issued with; what is not known is left at its default."""
    kept = issued.get("choices")
    said = kept if isinstance(kept, Mapping) else {}
    asked = said.get("sections")
    names = {str(one) for one in asked} if isinstance(asked, list) else set(SheetSection)
    return SheetChoices(
        paper=Paper.A4 if said.get("paper") == Paper.A4 else Paper.LETTER,
        first_unit=_unit(said.get("first_unit")),
        sections=frozenset(one for one in SheetSection if one.value in names),
        standard_ratings=said.get("standard_ratings") is True,
    )


def changed_since(issued: Json, now: SheetContent) -> tuple[str, ...]:
    """Return in words what `now` says differently, in the order of a sheet; empty for nothing.

    `now` is composed with choices_of_issued(issued). The heading, and which sheet it replaces, do
    not count.
    """
    if "form" not in issued:
        was, is_now = former_facts(issued), present_facts(now)
        return tuple(name for name, fact in is_now.items() if was.get(name) != fact)
    said = content_json(now)
    changed = [
        words
        for name, words in _WORDS.items()
        if _as_then(said[name], issued.get(name)) != issued.get(name)
    ]
    return tuple(dict.fromkeys(changed))


def _as_then(now: object, then: object) -> object:
    """Leave out what an older version did not say: that is no change of the record."""
    if isinstance(now, dict) and isinstance(then, Mapping):
        return {key: _as_then(part, then[key]) for key, part in now.items() if key in then}
    if isinstance(now, list) and isinstance(then, list):
        return [_as_then(*both) for both in zip(now, then, strict=False)] + now[len(then) :]
    return now


def _unit(kept: object) -> LengthUnit:
    millimeters = kept == LengthUnit.MILLIMETER.value
    return LengthUnit.MILLIMETER if millimeters else LengthUnit.INCH
