"""The buyer's cautions: a few short lines that fit this tool. They cite nothing."""

from __future__ import annotations

from collections.abc import Iterator

from planebench.catalog.reference import open_list
from planebench.sheet.content import ListLine
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.terms import PartStatus

_LEAD = "old_finish_lead"
_ACIDS = frozenset({"rust_bath"})
_CAST = frozenset({"bench", "block"})
"""Side drawings of kinds with an iron body."""

_WOODS = {
    "rosewood": ("Rosewood:", "trade in it is controlled; check the rules that apply to you."),
    "lignum": ("Lignum vitae:", "trade in it is controlled; check the rules that apply to you."),
    "ivory": ("Ivory:", "many sales are forbidden; check the rules that apply to you."),
}


def cautions_of(source: SheetSource) -> tuple[ListLine, ...]:
    """Return the cautions that go with this tool, the most important first.

    The restorer's own warnings stay in the program: a buyer needs what stays true of the tool.
    """
    return tuple(_lines(source))


def _lines(source: SheetSource) -> Iterator[ListLine]:
    if _has_cutter(source):
        yield ListLine(
            lead="Sharp cutter:", words="keep fingers off its edge, and cover it to move the tool."
        )
    if _may_hold_lead(source):
        yield ListLine(
            lead="Old finish may hold lead:", words="do not sand or heat it, and wash your hands."
        )
    if any(work.kind in _ACIDS for work in source.tool.work):
        yield ListLine(
            lead="Acid was used:", words="keep the iron dry and oiled, for it rusts again easily."
        )
    if source.kind is not None and source.kind.drawing in _CAST:
        yield ListLine(lead="Cast iron is brittle:", words="do not drop it.")
    yield from _worm(source)
    yield from _woods(source)


def _has_cutter(source: SheetSource) -> bool:
    here = (part for part in source.tool.parts if part.status is not PartStatus.MISSING)
    return any("cutter" in part.code for part in here)


def _worm(source: SheetSource) -> Iterator[ListLine]:
    if any(defect.kind == "worm" for defect in source.tool.defects):
        yield ListLine(lead="Worm may be alive:", words="keep it apart from other wood.")


def _may_hold_lead(source: SheetSource) -> bool:
    rows = open_list("finishes")
    for surface in source.tool.surfaces:
        row = rows.get(surface.finish)
        hazards = row.more.get("hazards") if row is not None else None
        if isinstance(hazards, list) and _LEAD in hazards:
            return True
    return False


def _woods(source: SheetSource) -> Iterator[ListLine]:
    """Yield the cautions of woods and ivory that a note names; none is guessed."""
    notes = [source.tool.note, *(part.note for part in source.tool.parts)]
    words = " ".join(notes).casefold()
    for named, (lead, said) in _WOODS.items():
        if named in words:
            yield ListLine(lead=lead, words=said)
