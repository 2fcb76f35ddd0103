"""The buyer's cautions: a few short lines that fit this tool. They cite nothing."""

from __future__ import annotations

from collections.abc import Iterator

from planebench.catalog.reference import open_list
from planebench.sheet.content import ListLine
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.terms import PartStatus

_LEAD = "old_finish_lead"
_ACIDS = frozenset({"rust_bath"})
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
    tool = source.tool
    here = {part.code for part in tool.parts if part.status is not PartStatus.MISSING}
    if any("cutter" in code for code in here):
        yield ListLine(
            lead="Sharp cutter:", words="keep fingers off its edge, and cover it to move the tool."
        )
    if _may_hold_lead(source):
        yield ListLine(
            lead="Old finish may hold lead:", words="do not sand or heat it, and wash your hands."
        )
    if any(work.kind in _ACIDS for work in tool.work):
        yield ListLine(
            lead="Acid was used:", words="keep the iron dry and oiled, for it rusts again easily."
        )
    if source.kind is not None and source.kind.drawing in {"bench", "block"}:
        yield ListLine(lead="Cast iron is brittle:", words="do not drop it.")
    if any(defect.kind == "worm" for defect in tool.defects):
        yield ListLine(lead="Worm may be alive:", words="keep it apart from other wood.")
    yield from _woods(source)


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
