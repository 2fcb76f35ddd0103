"""Parts, work, seller, and which earlier sheet a new one replaces."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import cache

from planebench.catalog.reference import name_of, resources_folder
from planebench.catalog.values import Part, Work
from planebench.sheet.content import (
    Address,
    PartDrawing,
    PartGroup,
    PartShape,
    Ring,
    SheetParts,
    SheetWork,
)
from planebench.sheet.dating_section import years_of_part
from planebench.sheet.phrases import capitalize_first, lower_first
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.record_dating import odd_part_keys, part_key
from planebench.trade.terms import PartStatus, ToolStatus

_GROUPS = {
    PartDrawing.SEEN: "Original",
    PartDrawing.MISSING: "Missing",
    PartDrawing.NOT_ORIGINAL: "Replaced or not original",
    PartDrawing.NOT_CHECKED: "Not checked",
}
_DRAWN_AS = {
    PartStatus.PRESENT: PartDrawing.SEEN,
    PartStatus.MISSING: PartDrawing.MISSING,
    PartStatus.REPLACED: PartDrawing.NOT_ORIGINAL,
    PartStatus.NOT_ORIGINAL: PartDrawing.NOT_ORIGINAL,
    PartStatus.NOT_SEEN: PartDrawing.NOT_CHECKED,
}
_WARNS = frozenset({PartDrawing.MISSING, PartDrawing.NOT_ORIGINAL})


def parts_of(source: SheetSource) -> SheetParts:
    """Return the parts by what is known of them, and the kind's side drawing inked to match.

    A part whose evidence is of another date is no plain original, whatever its status says.
    """
    odd = _odd_years(source)
    asked = [part for part in source.tool.parts if not part.unasked]
    groups = (_group(asked, drawing, odd) for drawing in _GROUPS)
    return SheetParts(
        groups=tuple(group for group in groups if group.names),
        shapes=_shapes(source, {part.code: _drawn_as(part, odd) for part in asked}),
    )


def _group(parts: Sequence[Part], drawing: PartDrawing, odd: Mapping[str, str]) -> PartGroup:
    alike = (part for part in parts if _drawn_as(part, odd) is drawing)
    names = ", ".join(_part_words(part, odd) for part in alike)
    judged = "; judged by form and finish" if names and drawing is PartDrawing.SEEN else ""
    return PartGroup(label=_GROUPS[drawing], names=names + judged, warns=drawing in _WARNS)


def _shapes(source: SheetSource, drawn: Mapping[str, PartDrawing]) -> tuple[PartShape, ...]:
    name = source.kind.drawing if source.kind is not None else "other"
    rings = ((code, ring) for code, ring in _side_drawing(name) if code in drawn)
    return tuple(PartShape(name=code, ring=ring, seen=drawn[code]) for code, ring in rings)


def work_of(source: SheetSource) -> tuple[SheetWork, ...]:
    """Return the bench log, work that changes the tool first, each group in order of days."""
    entries = sorted(
        source.tool.work,
        key=lambda work: (not work.disclosed, work.done_on is not None, str(work.done_on)),
    )
    return tuple(
        SheetWork(
            day="no date" if work.done_on is None else source.short_day(work.done_on),
            what=_what(work),
            materials=lower_first(work.materials.rstrip(".")),
            changes_tool=work.disclosed,
        )
        for work in entries
    )


def work_not_recorded(source: SheetSource) -> str:
    """Return what the sheet says where no work is recorded: never that none was done."""
    return "" if source.tool.work else "Work: not recorded."


def status_words(source: SheetSource) -> str:
    """Return how far the work is: recorded work counts for more than the status that was set."""
    tool = source.tool
    if tool.status is ToolStatus.AS_FOUND:
        return "Worked on since it was found." if tool.work else "As found."
    if tool.work_finished:
        return ""
    return "Work on it is not finished." if tool.status is ToolStatus.ON_BENCH else ""


def address_of(source: SheetSource) -> Address:
    """Return the seller as recorded in the catalog's settings."""
    settings = source.settings
    lines = [line.strip() for line in settings.address.splitlines() if line.strip()]
    contact = [line.strip() for line in settings.contact.splitlines() if line.strip()]
    return Address(name=settings.workshop, person=settings.person, lines=(*lines, *contact))


def _odd_years(source: SheetSource) -> dict[str, str]:
    if source.dating is None:
        return {}
    odd = odd_part_keys(source.dating)
    parts = [part for part in source.tool.parts if part_key(part) in odd]
    return {part.id: years_of_part(source.dating.parts[part_key(part)]) for part in parts}


def _drawn_as(part: Part, odd: Mapping[str, str]) -> PartDrawing:
    drawn = _DRAWN_AS[part.status]
    return PartDrawing.NOT_ORIGINAL if drawn is PartDrawing.SEEN and part.id in odd else drawn


def _part_words(part: Part, odd: Mapping[str, str]) -> str:
    said: list[str] = []
    if part.status is PartStatus.REPLACED:
        said.append("replaced")
    if part.id in odd:
        said.append(odd[part.id])
    if part.note and part.status is not PartStatus.PRESENT:
        said.append(lower_first(part.note.rstrip(".")))
    name = lower_first(part.name)
    return f"{name} ({'; '.join(said)})" if said else name


def _what(work: Work) -> str:
    """Return what was done, led by the treatment's name if a buyer must know and it is not said."""
    said = capitalize_first(work.what.rstrip("."))
    name = name_of("treatments", work.kind)
    unnamed = work.kind != "other" and name.casefold() not in work.what.casefold()
    if work.disclosed and unnamed:
        return f"{name}: {lower_first(said)}" if said else name
    return said


@cache
def _side_drawing(name: str) -> Sequence[tuple[str, Ring]]:
    """Return the part codes and rings of a kind's side drawing; none where there is no drawing."""
    path = resources_folder() / "drawings" / f"{name}.toml"
    if not path.is_file():
        return ()
    table = tomllib.loads(path.read_text("utf-8"))
    return tuple(
        (str(shape["part"]), tuple((float(x), float(y)) for x, y in shape["ring"]))
        for shape in table["shapes"]
    )
