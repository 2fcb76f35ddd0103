"""What a sheet says of when a tool was made: the range in words, its reasons, and the chart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from planebench.catalog.tool_dating import evidence_from_entry
from planebench.catalog.values import EvidenceEntry
from planebench.sheet.content import SheetDating, SheetEvidence, SheetEvidenceWeight, YearColumns
from planebench.sheet.phrases import lower_first
from planebench.sheet.sheet_source import SheetSource
from planebench.trade import dating as engine
from planebench.trade.date_estimate import format_short_estimate, format_sureness
from planebench.trade.record_dating import conflicts, evidence_against, is_left_open, part_key
from planebench.trade.wording import join_words

_HALF_TRUSTED = 0.6
"""Up to this sureness a bar is pale: no better than even odds, give or take."""
_LEAST_SHOWN = 0.05
"""Columns below this part of the tallest are left out; they would be a hair on the base line."""
_MOST_COLUMNS = 150
_MOST_SETS = 2
"""Sets of signs that contradict each other, each told by itself."""


def dating_of(source: SheetSource) -> SheetDating:
    """Tell the date in words; with signs that name years also the bars and columns."""
    dating = source.dating
    if dating is None:
        return SheetDating(
            in_words=_not_dated(source.tool.evidence),
            evidence=tuple(_evidence(source, evidence) for evidence in source.tool.evidence),
            sources=_sources(source.tool.evidence),
        )
    return SheetDating(
        in_words=_in_words(dating),
        reasons=_reasons(source, dating),
        disagreements=disagreements(source),
        evidence=tuple(_evidence(source, evidence) for evidence in source.tool.evidence),
        bands=_bands(dating.whole),
        band_words=_band_words(dating.whole),
        columns=tuple(_columns(source)),
        sources=_sources(source.tool.evidence),
    )


def made_words(source: SheetSource) -> str:
    """Return the summary's words: "Made between about 1913 and 1918, with a later cutter"."""
    if source.dating is None:
        return "Not dated"
    odd = [
        f"{'a later' if part.later else 'an older'} {lower_first(_name(source, part.part))}"
        for part in source.dating.odd_parts
    ]
    made = _made(source.dating.whole)
    made = f"{made}, with {join_words(odd)}" if odd else made
    return made if source.dating.whole.agreed else f"{made}; the evidence does not agree"


def disagreements(source: SheetSource) -> tuple[str, ...]:
    """Say in plain words which parts are of another date, and which signs cannot both be right."""
    dating = source.dating
    if dating is None:
        return ()
    odd = (
        f"{_name(source, part.part)}: {_years_of(dating.parts[part.part])}, "
        f"{'a later' if part.later else 'an older'} part{_left_open(source, part.part)}"
        for part in dating.odd_parts
    )
    return (*odd, *_contradictions(source, dating))


def _contradictions(source: SheetSource, dating: engine.DatingResult) -> Iterable[str]:
    """Say which signs contradict each other, but for those that an odd part explains.

    Many pairs are told as one: a list of them all says no more, and hides what matters.
    """
    numbers = _numbers(source)
    sets = [
        {numbers[one] for one in group if one in numbers}
        for group in conflicts(source.tool, dating)
    ]
    told = [group for group in sets if len(group) > 1]
    for group in told if len(told) <= _MOST_SETS else [set[int]().union(*told)]:
        yield f"Evidence {join_words([*map(str, sorted(group))])} cannot all be right."


def _left_open(source: SheetSource, key: str) -> str:
    """Say that nobody decided whether a part belongs, where that was left open."""
    part = next((part for part in source.tool.parts if part_key(part) == key), None)
    if part is None or not is_left_open(source.tool, part):
        return ""
    return "; whether it came with the tool is not decided"


def _numbers(source: SheetSource) -> dict[str, int]:
    return {evidence.id: evidence.number for evidence in source.tool.evidence}


def _years_of(part: engine.DateEstimate) -> str:
    """Return a part's years by its own signs: the span they firmly allow, else the 90% range."""
    if part.agreed and part.earliest is not None and part.latest is not None:
        return f"{part.earliest} to {part.latest}"
    return format_short_estimate(part)[0]


def _not_dated(all_evidence: Sequence[EvidenceEntry]) -> str:
    if not all_evidence:
        return "When it was made is not known: no evidence is recorded."
    return "When it was made is not known: none of the evidence below gives years that count."


def _in_words(dating: engine.DatingResult) -> str:
    if dating.whole.range90 is None:
        return "When it was made is not known: the evidence sets no limits."
    return _made(dating.whole)


def _made(whole: engine.DateEstimate) -> str:
    """Say the likeliest years, and how sure they are where it is less than usual."""
    doubt = f", {format_sureness(whole)}" if whole.falls_short else ""
    return f"Made {whole.in_words}{doubt}"


def _reasons(source: SheetSource, dating: engine.DatingResult) -> tuple[str, ...]:
    """Return the reasons in short: what told most, and the span on which all firm signs agree."""
    said = " ".join(words for words in (_told_most(source, dating), _span(dating.whole)) if words)
    return (said,) if said else ()


def _told_most(source: SheetSource, dating: engine.DatingResult) -> str:
    number = _numbers(source).get(next(iter(dating.most_telling), ""))
    alone = len(dating.most_telling) < 2  # noqa: PLR2004 -- one sign has nothing to outweigh
    return "" if number is None or alone else f"Evidence {number} narrows the date most."


def _span(whole: engine.DateEstimate) -> str:
    if not whole.agreed:
        return "The evidence does not agree: no year fits all of it."
    if whole.earliest is None or whole.latest is None:
        return ""
    rest = (
        "; a little more is allowed because old parts were used up and evidence can be misread"
        if whole.is_wider
        else ""
    )
    return f"Together the evidence points to {whole.earliest} to {whole.latest}{rest}."


def _evidence(source: SheetSource, evidence: EvidenceEntry) -> SheetEvidence:
    part = source.part_name(evidence.part)
    taken = evidence_from_entry(evidence, source.tool.parts)
    first, last = taken.not_before, taken.not_after
    drawn_last = taken.usual_until if last is None else last
    loose = round(taken.looseness)
    return SheetEvidence(
        number=evidence.number,
        what=evidence.seen
        if lower_first(part) in evidence.seen.casefold()
        else f"{evidence.seen} ({lower_first(part)})",
        words=_years(evidence, first, last),
        first=first,
        last=drawn_last,
        loose_before=0 if taken.never_before or first is None else loose,
        loose_after=0 if drawn_last is None else loose,
        terminus=taken.never_before,
        trust=_trust(source, evidence),
    )


def _years(evidence: EvidenceEntry, first: int | None, last: int | None) -> str:
    if not evidence.counted:
        return "not counted"
    if first is None and last is None:
        return "no years"
    if last is None:
        return f"{first} or later"
    if first is None:
        return f"{last} or earlier"
    return str(first) if first == last else f"{first} to {last}"


def _trust(source: SheetSource, evidence: EvidenceEntry) -> SheetEvidenceWeight:
    if (
        evidence.counted
        and source.dating is not None
        and _does_not_agree(source, source.dating, evidence)
    ):
        return SheetEvidenceWeight.DISAGREES
    return (
        SheetEvidenceWeight.HALF
        if not evidence.counted or evidence.sure <= _HALF_TRUSTED
        else SheetEvidenceWeight.FULL
    )


def _does_not_agree(
    source: SheetSource, dating: engine.DatingResult, evidence: EvidenceEntry
) -> bool:
    key = next((part_key(part) for part in source.tool.parts if part.id == evidence.part), "")
    if key in {odd.part for odd in dating.odd_parts}:
        return True
    return evidence.id in evidence_against(source.tool, dating)


def _bands(whole: engine.DateEstimate) -> tuple[tuple[int, int], ...]:
    """Return the likeliest years where both their ends are bounded."""
    return () if whole.open_start or whole.open_end else whole.ranges


def _band_words(whole: engine.DateEstimate) -> str:
    if not _bands(whole):
        return ""
    return (
        f"the likeliest years, {format_sureness(whole)}" if whole.falls_short else "the 90% range"
    )


def _columns(source: SheetSource) -> list[YearColumns]:
    dating = source.dating
    if dating is None or not _bands(dating.whole):
        return []
    odd = [dating.parts[part.part] for part in dating.odd_parts]
    groups = [(dating.whole, True), *((part, False) for part in odd)]
    made = [_group(dated, agrees=agrees) for dated, agrees in groups]
    return [columns for columns in made if columns is not None]


def _group(dated: engine.DateEstimate, *, agrees: bool) -> YearColumns | None:
    tallest = max(dated.shares, default=0.0)
    shown = [i for i, share in enumerate(dated.shares) if share > tallest * _LEAST_SHOWN]
    if not shown or shown[-1] - shown[0] > _MOST_COLUMNS:
        return None
    weights = tuple(round(share, 4) for share in dated.shares[shown[0] : shown[-1] + 1])
    return YearColumns(first=dated.years[shown[0]], weights=weights, agrees=agrees)


def _sources(all_evidence: Sequence[EvidenceEntry]) -> str:
    """Name each source once, with the numbers of its signs; say which are from memory."""
    named = [(_source(evidence), evidence.number) for evidence in all_evidence]
    named.sort(key=lambda pair: pair[0])
    said = [
        (numbers, f"{', '.join(map(str, numbers))} {name}")
        for name, group in groupby(named, key=lambda pair: pair[0])
        if (numbers := sorted(number for _, number in group))
    ]
    if not said:
        return ""
    return f"Sources: {'; '.join(words for _, words in sorted(said))}."


def _source(evidence: EvidenceEntry) -> str:
    source = evidence.source.strip().rstrip(".") or "no source written down"
    return f"{source}, from memory" if "memory" in evidence.source_status.casefold() else source


def _name(source: SheetSource, code: str) -> str:
    return next((part.name for part in source.tool.parts if part_key(part) == code), code)
