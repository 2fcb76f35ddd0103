"""Names of what is seen on photographs: the photograph itself, and what its pins show."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planebench.catalog.ids import DefectId, EvidenceId
from planebench.catalog.reference import name_of
from planebench.catalog.values import Photograph, Tool
from planebench.trade.days import format_day
from planebench.trade.terms import STAGE_WORDS, PartStatus


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What a pin shows: a defect or a piece of evidence; `key` identifies it in lists."""

    key: str
    mark: str
    words: str
    defect: DefectId | None = None
    evidence: EvidenceId | None = None


def title_of(photograph: Photograph) -> str:
    """Return the title of a photograph: "Top, as found, March 14, 2026"."""
    parts = [name_of("views", photograph.view) if photograph.view else "view not named"]
    parts.append(STAGE_WORDS[photograph.stage])
    if photograph.taken_at is not None:
        parts.append(format_day(photograph.taken_at.date()))
    return capital(", ".join(parts))


def subjects_of(tool: Tool | None) -> tuple[Subject, ...]:
    """List what pins can show: defects by number, then evidence by letter."""
    if tool is None:
        return ()
    parts = {part.id: part.name for part in tool.parts}
    found = []
    for defect in tool.defects:
        where = f", {parts[defect.part].lower()}" if defect.part in parts else ""
        words = f"{capital(name_of('defects', defect.kind))}{where}"
        mark = str(defect.number)
        found.append(Subject(key=defect.id, mark=mark, words=words, defect=defect.id))
    for evidence in tool.evidence:
        words = evidence.seen or name_of("signs", evidence.kind)
        mark = letter_of(evidence.number)
        found.append(
            Subject(key=evidence.id, mark=mark, words=capital(words), evidence=evidence.id)
        )
    return tuple(found)


def format_parts_seen(asked: Sequence[PartStatus]) -> str:
    """Count the parts that are there and those that are not: "3 of 14 seen, 1 missing"."""
    missing = asked.count(PartStatus.MISSING)
    seen = len(asked) - asked.count(PartStatus.NOT_SEEN) - missing
    counted = f"{seen} of {len(asked)}"
    return f"{counted} seen, {missing} missing" if missing else f"{counted} parts seen"


def letter_of(number: int) -> str:
    """Return the letter of a piece of evidence: A to Z, then AA; defects have numbers."""
    rest, letters = number, ""
    while rest > 0:
        rest, place = divmod(rest - 1, 26)
        letters = chr(ord("A") + place) + letters
    return letters


def capital(words: str) -> str:
    """Return words with a capital first letter."""
    return words[:1].upper() + words[1:]
