"""Dates a tool from the signs in its record, by the rules of the trade."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.values import EvidenceEntry, Json, Part, Tool
from planebench.errors import InputError
from planebench.trade.dating import WHOLE, DateEstimate, DatingResult, Evidence, date_tool
from planebench.trade.dating_ranges import YearRange
from planebench.trade.dating_span import PRODUCTION, Production
from planebench.trade.evidence_parsing import read_entry, read_production
from planebench.trade.terms import PartStatus

NOT_DATED = "not dated"
AS_YEARS = ("years", "document", "word", "type_study")
"""Kinds of sign whose years were written down; they differ in where the years come from."""
LEFT_OPEN = "left_open"
"""The key in a sign's mark that says: it does not agree, and the sheet is to say so."""
_EVEN_ODDS = Decimal("0.5")
"""A sign trusted less than this was doubted by a person: it asks for no further answer."""
_RAW = {
    **dict.fromkeys(("patent_us", "design_us", "reissue_us", "design_uk"), ("number",)),
    **dict.fromkeys(AS_YEARS, ("value",)),
    "patent_date": ("text",),
    "diamond_uk": ("class", "top", "right", "bottom", "left"),
    "clue": ("row",),
}
_SAID = frozenset({PartStatus.NOT_ORIGINAL, PartStatus.REPLACED})
_OWN = "own"


def date_of(
    tool: Tool, *, without: str = "", all_evidence: Sequence[Evidence] | None = None
) -> DatingResult | None:
    """Date a tool; None while nothing that names years is entered and counted.

    `without` names a sign that is left out, as if it had not been seen; `signs` are those of
    `signs_of` where they have been read already. Signs on parts that a
    person has said not to be original date their part only.
    """
    read = evidence_of_tool(tool) if all_evidence is None else all_evidence
    counted = [_left_out(evidence, without) for evidence in read]
    production = production_of(tool, without=without)
    if production is None and not any(evidence.counts for evidence in counted):
        return None
    dating = date_tool(_by_part(counted), production, dating_tables().settings)
    said = _said_not_original(tool) - {dating.anchor}
    return dating if said.isdisjoint(dating.parts) else _dated_without(dating, counted, said)


def evidence_of_tool(tool: Tool) -> tuple[Evidence, ...]:
    """Return the signs of a tool as the engine takes them; production years are none of them."""
    return tuple(
        evidence_from_entry(evidence, tool.parts)
        for evidence in tool.evidence
        if evidence.kind != PRODUCTION
    )


def production_of(tool: Tool, *, without: str = "") -> Production | None:
    """Return the years in which the model is known to have been made, by the latest such entry."""
    entries = [evidence for evidence in _production_entries(tool) if evidence.id != without]
    if not entries:
        return None
    entry = entries[-1]
    try:
        return read_production(str(entry.mark.get("value", "")), dating_tables())
    except InputError:
        return _bounds(entry)


def evidence_from_entry(evidence: EvidenceEntry, parts: tuple[Part, ...]) -> Evidence:
    """Return a recorded sign as the engine takes it; the part goes by its key.

    A mark that was kept as it was seen is read anew, by the tables and rules in force. Where that
    cannot be done, the years written down with it hold.
    """
    part = next((part_key(part) for part in parts if part.id == evidence.part), WHOLE)
    raw = tuple(
        (key, str(evidence.mark[key]))
        for key in _RAW.get(evidence.kind, ())
        if key in evidence.mark
    )
    read = _read_mark(evidence.kind, raw) if raw else None
    return _as_written(evidence, part) if read is None else _of_record(read, evidence, part)


def part_key(part: Part) -> str:
    """Return the name under which the engine knows a part: its code, or its id for an own part."""
    return part.id if part.code == _OWN else part.code


def odd_parts_not_said(tool: Tool, dating: DatingResult) -> tuple[Part, ...]:
    """Return the parts of another date than the tool that nobody has yet answered for."""
    odd = odd_keys(dating)
    return tuple(
        part
        for part in tool.parts
        if part_key(part) in odd and part.status not in _SAID and not _all_answered(tool, part)
    )


def is_left_open(tool: Tool, part: Part) -> bool:
    """Tell whether it was left open whether a part belongs, for the sheet to say so."""
    return any(
        evidence.part == part.id and evidence.mark.get(LEFT_OPEN) is True
        for evidence in tool.evidence
    )


def odd_keys(dating: DatingResult) -> frozenset[str]:
    """Return the keys of the parts of another date than the tool."""
    return frozenset(part.part for part in dating.odd_parts)


def _all_answered(tool: Tool, part: Part) -> bool:
    counted = [
        evidence for evidence in tool.evidence if evidence.part == part.id and evidence.counted
    ]
    return all(_is_answered(evidence) for evidence in counted)


def _is_answered(evidence: EvidenceEntry) -> bool:
    return evidence.sure < _EVEN_ODDS or evidence.mark.get(LEFT_OPEN) is True


def disagrees(tool: Tool, dating: DatingResult) -> bool:
    """Tell whether something about the dates still wants an answer."""
    return bool(odd_parts_not_said(tool, dating)) or bool(open_conflicts(tool, dating))


def conflicts(tool: Tool, dating: DatingResult) -> tuple[tuple[str, ...], ...]:
    """Return the pairs of signs that contradict each other, but for those an odd part explains.

    Known production years go by the id of their entry.
    """
    odd = odd_keys(dating)
    explained = {evidence.id for evidence in dating.evidence if evidence.part in odd}
    entries = _production_entries(tool)
    ids = {PRODUCTION: entries[-1].id} if entries else {}
    named = (tuple(ids.get(one, one) for one in pair) for pair in dating.whole.conflicts)
    return tuple(pair for pair in named if explained.isdisjoint(pair))


def open_conflicts(tool: Tool, dating: DatingResult) -> tuple[tuple[str, ...], ...]:
    """Return the contradictions that leave no year at all and that nobody has yet answered.

    To leave a sign open or to trust it less than even odds is an answer.
    """
    if dating.whole.agreed:
        return ()
    answered = {evidence.id for evidence in tool.evidence if _is_answered(evidence)}
    return tuple(pair for pair in conflicts(tool, dating) if answered.isdisjoint(pair))


def standing_against(tool: Tool, dating: DatingResult) -> frozenset[str]:
    """Return the ids of signs that contradict others and allow none of the likeliest years.

    Where each of those that contradict each other allows some, all of them.
    """
    if dating.whole.agreed or not dating.whole.ranges:
        return frozenset()
    named = {evidence for pair in conflicts(tool, dating) for evidence in pair}
    runs = dating.whole.ranges
    outside = {evidence.id for evidence in dating.evidence if _lies_outside(evidence, runs)}
    return frozenset(named & outside or named)


def years_in_short(dated: DateEstimate) -> tuple[str, str]:
    """Return the likeliest years for a list row and what they are: ("1913 to 1918", "90% range").

    Where they hold less than that, the doubt is told: ("1902 or later", "87% sure").
    """
    if dated.range90 is None or (dated.open_start and dated.open_end):
        return NOT_DATED, ""
    years = " or ".join(_run_in_short(dated, run) for run in dated.ranges)
    if dated.falls_short:
        return years, how_sure(dated)
    return years, "one side open" if dated.open_start or dated.open_end else "90% range"


def how_sure(dated: DateEstimate) -> str:
    """Tell the doubt about a date: "87% sure"."""
    return f"{dated.percent}% sure"


def _run_in_short(dated: DateEstimate, run: YearRange) -> str:
    first, last = run
    if dated.open_end and run == dated.ranges[-1]:
        return f"{first} or later"
    if dated.open_start and run == dated.ranges[0]:
        return f"{last} or earlier"
    return f"{first}" if first == last else f"{first} to {last}"


def _lies_outside(evidence: Evidence, runs: Sequence[YearRange]) -> bool:
    """Whether a sign allows none of the likeliest years."""
    return all(
        (evidence.not_before is not None and evidence.not_before > last)
        or (evidence.not_after is not None and evidence.not_after < first)
        for first, last in runs
    )


def _production_entries(tool: Tool) -> list[EvidenceEntry]:
    """Return the counted signs that say when the model was made, the latest entry last."""
    return [
        evidence for evidence in tool.evidence if evidence.kind == PRODUCTION and evidence.counted
    ]


def _said_not_original(tool: Tool) -> frozenset[str]:
    """Return the keys of the parts that a person has said not to be original."""
    return frozenset(part_key(part) for part in tool.parts if part.status in _SAID)


def _dated_without(
    dating: DatingResult, all_evidence: Sequence[Evidence], parts: frozenset[str]
) -> DatingResult:
    """Date the whole anew by the signs on all other parts; those on `parts` weigh nothing."""
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


def _left_out(evidence: Evidence, without: str) -> Evidence:
    return replace(evidence, counted=False) if evidence.id == without else evidence


@lru_cache(maxsize=4096)
def _read_mark(kind: str, raw: tuple[tuple[str, str], ...]) -> Evidence | None:
    """Read a mark as it was seen; None where the tables in force have nothing for it."""
    entry: Json = {**dict(raw), "id": "", "kind": "years" if kind in AS_YEARS else kind}
    try:
        return read_entry(WHOLE, entry, dating_tables(), kind)
    except InputError:
        return None


def _of_record(read: Evidence, evidence: EvidenceEntry, part: str) -> Evidence:
    """Put what a person said of a sign in place of what is usual for such a mark."""
    return replace(
        read,
        id=evidence.id,
        part=part,
        what=evidence.seen or read.what,
        sure=float(evidence.sure),
        looseness=float(evidence.looseness),
        counted=evidence.counted,
        basis=evidence.basis.value,
        source=evidence.source or read.source,
        status=evidence.source_status or read.status,
    )


def _as_written(evidence: EvidenceEntry, part: str) -> Evidence:
    """Take the years as they were written down, and what a mark of its kind means beside them."""
    low, high = _bounds(evidence)
    rule = dating_tables().rules.get(evidence.kind)
    usual = None if rule is None or low is None or high is not None else rule.usual_use
    return Evidence(
        id=evidence.id,
        part=part,
        kind=evidence.kind,
        what=evidence.seen,
        not_before=low,
        not_after=high,
        usual_until=None if usual is None or low is None else low + usual,
        never_before=evidence.mark.get("never_before") is True,
        sure=float(evidence.sure),
        looseness=float(evidence.looseness),
        counted=evidence.counted,
        group=str(evidence.mark.get("group", "")),
        read_as=evidence.years,
        source=evidence.source,
        status=evidence.source_status,
        basis=evidence.basis.value,
    )


def _bounds(evidence: EvidenceEntry) -> Production:
    """Return the years written down; none where they are the wrong way around."""
    low, high = evidence.not_before, evidence.not_after
    if low is not None and high is not None and low > high:
        return None, None
    return low, high
