"""What a buyer must know first, what is not known, and where to take care."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Defect, Part
from planebench.sheet.content import Caution
from planebench.sheet.dating_section import disagreements
from planebench.sheet.finish_section import new_finish_told, surfaces_not_judged
from planebench.sheet.photograph_choice import views_not_photographed
from planebench.sheet.phrases import capitalize_first, lower_first, sentence
from planebench.sheet.record_sections import asked_parts, not_measured
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.terms import PartStatus, Stage
from planebench.trade.wording import join_words

_TOLD_PARTS = {
    PartStatus.MISSING: "missing",
    PartStatus.REPLACED: "replaced",
    PartStatus.NOT_ORIGINAL: "not original to it",
}
_BUYERS_HAZARDS = frozenset({"old_finish_lead", "plating_dust"})
"""Hazards of a finish that stay with the tool; the others are the restorer's."""

_WOODS = {"rosewood": "rosewood", "lignum": "lignum_vitae", "ivory": "ivory"}
_STATUS_WORDS = {
    "memory": "not checked against its text",
    "found and memory": "in part not checked against its text",
}


def know_first(source: SheetSource) -> tuple[str, ...]:
    """Return the sentences that stand in the box on the first page, the gravest kinds of thing.

    New finish, treatments, parts that are missing or not its own, signs that disagree, and
    defects in the worst of their severities. Never empty.
    """
    said = [
        *new_finish_told(source),
        *_treatments(source),
        *_parts(source),
        *_dates(source),
        *_worst_defects(source),
    ]
    return tuple(said) or ("No problem is recorded.",)


def unknown(source: SheetSource) -> tuple[str, ...]:
    """Say what was not seen, judged, looked for or photographed."""
    tool = source.tool
    finished = any(one.stage is Stage.FINISHED for one in tool.photographs)
    said = [
        _parts_not_seen(source),
        _list("Finish not measured", surfaces_not_judged(source)),
        _list("Not measured", not_measured(source)),
        "" if tool.defects_inspected else _defects_open(tool.defects),
        views_not_photographed(source),
        "" if finished or not tool.photographs else "No photograph of it finished.",
    ]
    return tuple(words for words in said if words)


def cautions_of(source: SheetSource) -> tuple[Caution, ...]:
    """Return the cautions that go with this tool, each with its source as the list names it."""
    rows = open_list("cautions")
    return tuple(
        Caution(
            name=row.name,
            words=str(row.more.get("text", "")),
            source=_sourced(row.source, row.more.get("status")),
        )
        for code in dict.fromkeys(_codes(source))
        if (row := rows.get(code)) is not None
    )


def _treatments(source: SheetSource) -> Iterable[str]:
    names = dict.fromkeys(
        lower_first(name_of("treatments", work.kind)) for work in source.tool.work if work.disclosed
    )
    if names:
        yield f"Work that changes the tool: {'; '.join(names)}."


def _parts(source: SheetSource) -> Iterable[str]:
    for status, words in _TOLD_PARTS.items():
        names = [_the(part) for part in source.tool.parts if part.status is status]
        if names:
            yield f"{capitalize_first(join_words(names))} {_is(names)} {words}."


def _dates(source: SheetSource) -> Iterable[str]:
    for words in disagreements(source):
        yield sentence(words)


def _worst_defects(source: SheetSource) -> Iterable[str]:
    for defect in source.tool.defects:
        if defect.disclosed and _is_worst(defect):
            part = lower_first(source.part_name(defect.part))
            place = ", ".join(words for words in (part, defect.place) if words)
            where = f" ({place})" if place else ""
            name = name_of("defects", defect.kind)
            yield f"Defect {defect.number}: {lower_first(name)}, {defect.severity}{where}."


def _is_worst(defect: Defect) -> bool:
    """Return whether the severity is the last of those that the list offers for this defect."""
    row = open_list("defects").get(defect.kind)
    offered = row.more.get("severities") if row is not None else None
    return isinstance(offered, list) and len(offered) > 1 and defect.severity == offered[-1]


def _parts_not_seen(source: SheetSource) -> str:
    asked = asked_parts(source)
    unseen = [part for part in asked if part.status is PartStatus.NOT_SEEN]
    if unseen and len(unseen) == len(asked):
        return "Parts: not checked one by one."
    return _list("Not seen", tuple(lower_first(part.name) for part in unseen))


def _defects_open(found: Sequence[Defect]) -> str:
    if found:
        return "Inspection not complete; expect further defects."
    return "Not inspected for defects; expect some."


def _list(what: str, names: tuple[str, ...]) -> str:
    return f"{what}: {join_words(names)}." if names else ""


def _the(part: Part) -> str:
    return f"the {lower_first(part.name)}"


def _is(names: list[str]) -> str:
    return "are" if len(names) > 1 or _is_plural(names[0]) else "is"


def _is_plural(name: str) -> bool:
    """Return whether a part's name stands for several things: "frog screws and washers"."""
    head = name.split(" with ", maxsplit=1)[0]
    return " and " in head or (head.endswith("s") and not head.endswith("ss"))


def _codes(source: SheetSource) -> Iterable[str]:
    """Go through the codes of cautions: sharp edges first, then finishes, woods, worm."""
    tool = source.tool
    if any("cutter" in part.code for part in tool.parts if part.status is not PartStatus.MISSING):
        yield "sharp_iron"
    for surface in tool.surfaces:
        yield from _hazards(surface.finish)
    yield from _materials(source)
    if any(defect.kind == "worm" for defect in tool.defects):
        yield "worm_alive"


def _materials(source: SheetSource) -> list[str]:
    """Return the cautions of woods and ivory that someone wrote down; none is guessed."""
    notes = [source.tool.note, *(part.note for part in source.tool.parts)]
    words = " ".join(notes).casefold()
    return [code for named, code in _WOODS.items() if named in words]


def _hazards(finish: str) -> Iterable[str]:
    """Return what stays dangerous in a finish after the tool is sold."""
    row = open_list("finishes").get(finish)
    hazards = row.more.get("hazards") if row is not None else None
    return (
        [str(code) for code in hazards if code in _BUYERS_HAZARDS]
        if isinstance(hazards, list)
        else []
    )


def _sourced(source: str, status: object) -> str:
    words = _STATUS_WORDS.get(str(status), "")
    if source == "common practice, no source":
        return ""
    return f"(Source: {source}{', ' + words if words else ''}.)"
