"""What the record says otherwise since a sheet was issued; the sheet itself stays as it is."""

from __future__ import annotations

from collections.abc import Mapping

from planebench.catalog.values import Json
from planebench.sheet.content import Paper, SheetChoices, SheetContent, SheetSection
from planebench.sheet.fingerprint import to_json
from planebench.trade.units import LengthUnit

_WORDS = {
    "title": "what it is",
    "summary": "what it is",
    "price": "price",
    "photographs": "photographs",
    "figures": "main figures",
    "know_first": "what a buyer must know first",
    "unknown": "what is not known",
    "defects": "defects",
    "no_defects": "defects",
    "finish": "finish",
    "drawings": "finish",
    "dating": "when it was made",
    "parts": "parts",
    "measurements": "measurements",
    "work": "work done",
    "cautions": "cautions",
    "promise": "promise",
    "address": "address",
}


def choices_of_issued(issued: Json) -> SheetChoices:
    """Return the choices with which a sheet was issued, from its kept content.

    What this version does not know is left at its default.
    """
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
    """Name in words what `now` says otherwise, in the order of a sheet; empty for nothing.

    `now` is composed with choices_of(issued). The heading and what it replaces do not count.
    """
    said = to_json(now)
    if not isinstance(said, dict):
        return ()
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
