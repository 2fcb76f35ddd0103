"""Dates a tool from the evidence in its record, and finds what in it still wants an answer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from typing import TypeVar

from planebench.errors import InputError
from planebench.trade.date_estimate import NOT_DATED, format_short_estimate
from planebench.trade.dating import WHOLE, DatingResult, Evidence, date_tool
from planebench.trade.dating_ranges import YearRange
from planebench.trade.dating_span import PRODUCTION, Production
from planebench.trade.evidence_parsing import EvidenceTables, read_entry, read_production
from planebench.trade.records import DatedRecord, RecordedEvidence, RecordedPart
from planebench.trade.terms import PartStatus

TYPED_YEARS = ("years", "document", "word", "type_study")
"""Kinds of evidence whose years were typed as such; they differ in where the years come from."""

LEFT_OPEN = "left_open"
"""The key in the mark of evidence that does not agree and is left so, for the sheet to say."""

OWN_PART = "own"
"""The code of a part that a person added and no kind of plane knows."""

_EVEN_ODDS = Decimal("0.5")
"""Evidence trusted less than this was doubted by a person: it asks for no further answer."""

_MARKS_READ = 4096
"""Marks remembered once read, so that a list of a few thousand tools reads each once."""

_MARK_FIELDS = {
    **dict.fromkeys(("patent_us", "design_us", "reissue_us", "design_uk"), ("number",)),
    **dict.fromkeys(TYPED_YEARS, ("value",)),
    "patent_date": ("text",),
    "diamond_uk": ("class", "top", "right", "bottom", "left"),
    "clue": ("row",),
}
_FOREIGN = frozenset({PartStatus.NOT_ORIGINAL, PartStatus.REPLACED})


_AnyPart = TypeVar("_AnyPart", bound=RecordedPart)


class RecordDater:
    """Dates records by one set of tables; a mark that was read once is remembered."""

    def __init__(self, tables: EvidenceTables) -> None:
        self._tables = tables
        self._read = lru_cache(maxsize=_MARKS_READ)(self._read_mark)

    def date(
        self,
        tool: DatedRecord[_AnyPart],
        *,
        without: str = "",
        all_evidence: Sequence[Evidence] | None = None,
    ) -> DatingResult | None:
        """Date a tool; None while no evidence with years is entered and counted.

        `without` names a piece of evidence that is left out as if it had not been seen;
        `all_evidence` is that of `all_evidence` where it has been read already. Evidence on parts
        that a person has said not to be original dates those parts only.
        """
        read = self.all_evidence(tool) if all_evidence is None else all_evidence
        counted = [replace(one, counted=False) if one.id == without else one for one in read]
        production = self.production(tool, without=without)
        if production is None and not any(evidence.counts for evidence in counted):
            return None
        dating = date_tool(_by_part(counted), production, self._tables.settings)
        foreign = _foreign_parts(tool) - {dating.anchor}
        return (
            dating if foreign.isdisjoint(dating.parts) else _dated_without(dating, counted, foreign)
        )

    def all_evidence(self, tool: DatedRecord[_AnyPart]) -> tuple[Evidence, ...]:
        """Return a tool's evidence as the engine takes it; production years are no part of it."""
        return tuple(
            self.evidence(entry, tool.parts) for entry in tool.evidence if entry.kind != PRODUCTION
        )

    def production(self, tool: DatedRecord[_AnyPart], *, without: str = "") -> Production | None:
        """Return the years in which the model is known to have been made, by the latest entry."""
        entries = [entry for entry in _production_entries(tool) if entry.id != without]
        if not entries:
            return None
        entry = entries[-1]
        try:
            return read_production(str(entry.mark.get("value", "")), self._tables)
        except InputError:
            return _bounds(entry)

    def evidence(self, entry: RecordedEvidence, parts: Sequence[RecordedPart]) -> Evidence:
        """Return a recorded piece of evidence as the engine takes it; the part goes by its key.

        A mark that was kept as it was seen is read anew, by the tables and rules in force. Where
        that cannot be done, the years recorded with it hold.
        """
        part = next((part_key(part) for part in parts if part.id == entry.part), WHOLE)
        raw = tuple(
            (key, str(entry.mark[key]))
            for key in _MARK_FIELDS.get(entry.kind, ())
            if key in entry.mark
        )
        read = self._read(entry.kind, raw) if raw else None
        return self._as_recorded(entry, part) if read is None else _of_record(read, entry, part)

    def _read_mark(self, kind: str, raw: tuple[tuple[str, str], ...]) -> Evidence | None:
        """Read a mark as it was seen; None where the tables in force have nothing for it."""
        kind_read = "years" if kind in TYPED_YEARS else kind
        entry: dict[str, object] = {**dict(raw), "id": "", "kind": kind_read}
        try:
            return read_entry(WHOLE, entry, self._tables, kind)
        except InputError:
            return None

    def _as_recorded(self, entry: RecordedEvidence, part: str) -> Evidence:
        """Take the years as recorded, and how long a mark of its kind was usual."""
        low, high = _bounds(entry)
        rule = self._tables.rules.get(entry.kind)
        usual = None if rule is None or low is None or high is not None else rule.usual_use
        return Evidence(
            id=entry.id,
            part=part,
            kind=entry.kind,
            what=entry.seen,
            not_before=low,
            not_after=high,
            usual_until=None if usual is None or low is None else low + usual,
            never_before=entry.mark.get("never_before") is True,
            sure=float(entry.sure),
            looseness=float(entry.looseness),
            counted=entry.counted,
            group=str(entry.mark.get("group", "")),
            read_as=entry.years,
            source=entry.source,
            status=entry.source_status,
            basis=entry.basis.value,
        )


def part_key(part: RecordedPart) -> str:
    """Return the name under which the engine knows a part: its code, or its id for an own part."""
    return part.id if part.code == OWN_PART else part.code


def odd_part_keys(dating: DatingResult) -> frozenset[str]:
    """Return the keys of the parts of another date than the tool."""
    return frozenset(odd.part for odd in dating.odd_parts)


def odd_parts_unanswered(tool: DatedRecord[_AnyPart], dating: DatingResult) -> tuple[_AnyPart, ...]:
    """Return the parts of another date than the tool that nobody has explained yet."""
    odd = odd_part_keys(dating)
    return tuple(
        part
        for part in tool.parts
        if part_key(part) in odd and part.status not in _FOREIGN and not _all_answered(tool, part)
    )


def is_left_open(tool: DatedRecord[_AnyPart], part: RecordedPart) -> bool:
    """Return whether it was left open if a part belongs, for the sheet to say so."""
    return any(
        evidence.part == part.id and evidence.mark.get(LEFT_OPEN) is True
        for evidence in tool.evidence
    )


def disagrees(tool: DatedRecord[_AnyPart], dating: DatingResult) -> bool:
    """Return whether something about the dates still wants an answer."""
    return bool(odd_parts_unanswered(tool, dating)) or bool(open_conflicts(tool, dating))


def conflicts(tool: DatedRecord[_AnyPart], dating: DatingResult) -> tuple[tuple[str, ...], ...]:
    """Return the pairs of evidence that contradict each other and that no odd part explains.

    Known production years go by the id of their entry.
    """
    odd = odd_part_keys(dating)
    explained = {evidence.id for evidence in dating.evidence if evidence.part in odd}
    entries = _production_entries(tool)
    ids = {PRODUCTION: entries[-1].id} if entries else {}
    named = (tuple(ids.get(one, one) for one in pair) for pair in dating.whole.conflicts)
    return tuple(pair for pair in named if explained.isdisjoint(pair))


def open_conflicts(
    tool: DatedRecord[_AnyPart], dating: DatingResult
) -> tuple[tuple[str, ...], ...]:
    """Return the contradictions that leave no year at all and that nobody has answered yet.

    To leave evidence open, or to trust it less than even odds, is an answer.
    """
    if dating.whole.agreed:
        return ()
    answered = {evidence.id for evidence in tool.evidence if _is_answered(evidence)}
    return tuple(pair for pair in conflicts(tool, dating) if answered.isdisjoint(pair))


def evidence_against(tool: DatedRecord[_AnyPart], dating: DatingResult) -> frozenset[str]:
    """Return the ids of evidence that contradicts other evidence and allows no likely year.

    Where each piece that contradicts another allows some likely years, all of them.
    """
    if dating.whole.agreed or not dating.whole.ranges:
        return frozenset()
    named = {evidence for pair in conflicts(tool, dating) for evidence in pair}
    runs = dating.whole.ranges
    outside = {evidence.id for evidence in dating.evidence if _lies_outside(evidence, runs)}
    return frozenset(named & outside or named)


def format_made(tool: DatedRecord[_AnyPart], dating: DatingResult | None) -> tuple[str, str]:
    """Return when a tool was made and what that rests on, short enough for a list row."""
    if dating is None:
        return NOT_DATED, ""
    made, basis = format_short_estimate(dating.whole)
    if disagrees(tool, dating):
        odd = odd_parts_unanswered(tool, dating)
        return made, "parts disagree" if odd else "evidence disagrees"
    counted = sum(evidence.counts for evidence in dating.evidence)
    if counted != 1 or made == NOT_DATED:
        return made, basis
    one = "one piece of evidence"
    return made, f"{one}, {basis}" if dating.whole.falls_short else one


def _all_answered(tool: DatedRecord[_AnyPart], part: RecordedPart) -> bool:
    counted = [one for one in tool.evidence if one.part == part.id and one.counted]
    return all(_is_answered(evidence) for evidence in counted)


def _is_answered(evidence: RecordedEvidence) -> bool:
    return evidence.sure < _EVEN_ODDS or evidence.mark.get(LEFT_OPEN) is True


def _lies_outside(evidence: Evidence, runs: Sequence[YearRange]) -> bool:
    """Return whether evidence allows none of the likeliest years."""
    return all(
        (evidence.not_before is not None and evidence.not_before > last)
        or (evidence.not_after is not None and evidence.not_after < first)
        for first, last in runs
    )


def _production_entries(tool: DatedRecord[_AnyPart]) -> list[RecordedEvidence]:
    """Return the counted entries that say when the model was made, the latest one last."""
    return [entry for entry in tool.evidence if entry.kind == PRODUCTION and entry.counted]


def _foreign_parts(tool: DatedRecord[_AnyPart]) -> frozenset[str]:
    """Return the keys of the parts that a person has said not to be original."""
    return frozenset(part_key(part) for part in tool.parts if part.status in _FOREIGN)


def _dated_without(
    dating: DatingResult, all_evidence: Sequence[Evidence], parts: frozenset[str]
) -> DatingResult:
    """Date the whole anew by the evidence on all other parts; that on `parts` weighs nothing."""
    others = _by_part(evidence for evidence in all_evidence if evidence.part not in parts)
    fitting = date_tool(others, dating.production, dating.settings)
    silent = dict.fromkeys(dating.whole.weights, 0.0)
    weights = {**silent, **fitting.whole.weights}
    return replace(dating, whole=replace(fitting.whole, weights=weights))


def _by_part(all_evidence: Iterable[Evidence]) -> dict[str, list[Evidence]]:
    parts: dict[str, list[Evidence]] = {}
    for evidence in all_evidence:
        parts.setdefault(evidence.part, []).append(evidence)
    return parts


def _of_record(read: Evidence, entry: RecordedEvidence, part: str) -> Evidence:
    """Put what a person said of evidence in place of what is usual for such a mark."""
    return replace(
        read,
        id=entry.id,
        part=part,
        what=entry.seen or read.what,
        sure=float(entry.sure),
        looseness=float(entry.looseness),
        counted=entry.counted,
        basis=entry.basis.value,
        source=entry.source or read.source,
        status=entry.source_status or read.status,
    )


def _bounds(entry: RecordedEvidence) -> Production:
    """Return the recorded years; none where they are the wrong way around."""
    low, high = entry.not_before, entry.not_after
    if low is not None and high is not None and low > high:
        return None, None
    return low, high
