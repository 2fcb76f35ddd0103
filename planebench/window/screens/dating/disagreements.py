"""Disagreements in the evidence for a tool's date, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planebench.catalog.ids import EvidenceId
from planebench.catalog.tool_dating import date_of
from planebench.catalog.values import EvidenceEntry, Part, Tool
from planebench.trade.date_estimate import format_short_estimate, format_sureness
from planebench.trade.dating import DateEstimate, DatingResult
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.record_dating import (
    LEFT_OPEN,
    evidence_against,
    is_left_open,
    odd_parts_unanswered,
    open_conflicts,
    part_key,
)
from planebench.window.screens.dating.dating_model import DatingModel, join_names

_MOST_NAMED = 6
_OR = {True: "or later", False: "or earlier"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Disagreement:
    """One disagreement. `part` may be set to not original, each of `evidence` to doubtful.

    `left_open` is True once the person chose to leave it open; then it is shown as advice.
    """

    title: str
    text: str
    part: Part | None
    evidence: tuple[EvidenceEntry, ...]
    left_open: bool = False


def disagreement_of(shown: DatingModel) -> Disagreement | None:
    """Return the first unresolved disagreement, else the first that was left open."""
    tool, dating = shown.tool, shown.dating
    if dating is None:
        return None
    unanswered = odd_parts_unanswered(tool, dating)
    if unanswered:
        return _odd_part(shown, dating, unanswered[0], left_open=False)
    pairs = open_conflicts(tool, dating)
    if pairs:
        return _contradiction(tool, dating, pairs[0])
    left = next(_left_open(tool, dating), None)
    return None if left is None else _odd_part(shown, dating, left, left_open=True)


def numbers_in_words(entries: Sequence[EvidenceEntry]) -> str:
    """Return evidence by number: "evidence 7", "evidence 1 to 4", "evidence 2, 5 and 6"."""
    numbers = sorted(evidence.number for evidence in entries)
    if len(numbers) == 1:
        return f"evidence {numbers[0]}"
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:  # noqa: PLR2004 -- a run
        return f"evidence {numbers[0]} to {numbers[-1]}"
    if len(numbers) > _MOST_NAMED:
        return f"{len(numbers)} pieces of evidence"
    return f"evidence {join_names([str(number) for number in numbers])}"


def without_in_words(tool: Tool, evidence: EvidenceId, anchor: str) -> str:
    """Return what the date would be without one piece of evidence; run it in a job."""
    dating = date_of(tool, without=evidence)
    of = f"the {anchor}" if anchor and anchor != "whole tool" else "the tool"
    if dating is None:
        return f"Without this evidence {of} would not be dated."
    made = format_short_estimate(dating.whole)[0]
    if dating.whole.falls_short:
        made = f"{made}, {format_sureness(dating.whole)}"
    return f"Without this evidence {of} would be dated {made}."


def left_open_mark(evidence: EvidenceEntry, *, left_open: bool) -> dict[str, object]:
    """Return the mark of evidence with the left-open flag set or removed."""
    mark = {key: value for key, value in evidence.mark.items() if key != LEFT_OPEN}
    return {**mark, LEFT_OPEN: True} if left_open else mark


def _left_open(tool: Tool, dating: DatingResult) -> Iterator[Part]:
    """Return the parts of another date that were left open."""
    odd = {part.part for part in dating.odd_parts}
    return (part for part in tool.parts if part_key(part) in odd and is_left_open(tool, part))


def _odd_part(
    shown: DatingModel, dating: DatingResult, part: Part, *, left_open: bool
) -> Disagreement:
    later = part_key(part) in dating.later_parts
    entries = tuple(_counted_on(shown, part))
    bound, side = _nearer(dating.parts[part_key(part)], later=later), _OR[later]
    first = f"{_put(entries)} the {part.name.lower()} at {bound} {side}."
    others = _others(shown, _fitting(shown, dating), later=later)
    return Disagreement(
        title="Left open, stated on the sheet" if left_open else "Parts of different dates",
        text=f"{first} {others}".strip(),
        part=part,
        evidence=entries,
        left_open=left_open,
    )


def _counted_on(shown: DatingModel, part: Part) -> Iterator[EvidenceEntry]:
    """Return the counted evidence on a part."""
    entries = (line.evidence for line in shown.lines)
    return (evidence for evidence in entries if evidence.part == part.id and evidence.counted)


def _fitting(shown: DatingModel, dating: DatingResult) -> list[EvidenceEntry]:
    """Return the counted evidence on the parts that belong together."""
    odd = {one.part for one in dating.odd_parts}
    on_parts = [line for line in shown.lines if line.evidence.part is not None]
    return [
        line.evidence for line in on_parts if line.evidence.counted and line.read.part not in odd
    ]


def _others(shown: DatingModel, entries: list[EvidenceEntry], *, later: bool) -> str:
    if shown.band is None or not entries:
        return ""
    held = {evidence.part for evidence in entries}
    names = [part.name.lower() for part in shown.tool.parts if part.id in held]
    side = f"before {shown.band[1] + 1}" if later else f"after {shown.band[0] - 1}"
    return f"{_put(entries)} the {join_names(names)} {side}. They cannot all belong together."


def _nearer(part: DateEstimate, *, later: bool) -> str:
    """Return the end of a part's years nearer to those of the tool."""
    firm = part.earliest if later else part.latest
    if firm is not None:
        return str(firm)
    return "an unknown year" if part.range90 is None else str(part.range90[0 if later else 1])


def _contradiction(tool: Tool, dating: DatingResult, pair: tuple[str, ...]) -> Disagreement:
    entries = tuple(evidence for name in pair for evidence in tool.evidence if evidence.id == name)
    early, late = entries[0], entries[-1]
    against = evidence_against(tool, dating)
    ends = "the latest" if early.not_after is None else str(early.not_after)
    begins = "the earliest" if late.not_before is None else str(late.not_before)
    return Disagreement(
        title="Evidence that contradicts itself",
        text=f"Evidence {early.number} ends in {ends}, evidence {late.number} begins in {begins}: "
        "no year fits both.",
        part=None,
        evidence=tuple(
            sorted(
                (evidence for evidence in entries if evidence.kind != PRODUCTION),
                key=lambda evidence: evidence.id not in against,
            )
        ),
    )


def _put(entries: Sequence[EvidenceEntry]) -> str:
    """Return the start of a sentence: "Evidence 7 puts", "Evidence 1 to 4 puts"."""
    who = numbers_in_words(entries)
    return f"{who[:1].upper()}{who[1:]} puts"
