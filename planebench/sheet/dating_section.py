"""When a tool was made: the range in words, the reasons, and the data of the chart."""

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
from planebench.trade.terms import Basis
from planebench.trade.wording import join_words

_HALF_TRUSTED = 0.6
"""Up to this sureness evidence counts about half and its bar is pale: little better than even."""
_LEAST_SHOWN = 0.05
"""Columns below this part of the tallest are left out: they would be a hair on the base line."""
_MOST_COLUMNS = 150
"""More years than this would be columns thinner than a printed line."""
_MOST_SETS = 2
"""Up to this many contradictions get a sentence each; more are named in one."""
_UNCITED = ("memory", "no source", "not checked", "practice")
"""Words in a source or its status that say it was not checked; a buyer is not shown it."""
_BASIS_WORDS = {
    Basis.READ_OFF: "read",
    Basis.MEASURED: "measured",
    Basis.COUNTED: "counted",
    Basis.BY_EYE: "by eye",
    Basis.TOLD: "told",
}


def dating_of(source: SheetSource) -> SheetDating:
    """Return the date in words and, where evidence has years, its bars and columns."""
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
        disagreements=tuple(": ".join(filter(None, pair)) for pair in disagreements(source)),
        evidence=tuple(_evidence(source, evidence) for evidence in source.tool.evidence),
        bands=_bands(dating.whole),
        band_words=_band_words(dating.whole),
        columns=tuple(_columns(source)),
        sources=_sources(source.tool.evidence),
    )


def made_words(source: SheetSource) -> str:
    """Return the summary's words: "Made between about 1913 and 1918, with a later cutter"."""
    if source.dating is None:
        return "When it was made is not known"
    odd = [
        f"{'a later' if part.later else 'an older'} {lower_first(_name(source, part.part))}"
        for part in source.dating.odd_parts
    ]
    made = _made(source.dating.whole)
    made = f"{made}, with {join_words(odd)}" if odd else made
    return made if source.dating.whole.agreed else f"{made}; the evidence does not agree"


def disagreements(source: SheetSource) -> tuple[tuple[str, str], ...]:
    """Return pairs of a part and why it is of another date, and contradictions without a part."""
    dating = source.dating
    if dating is None:
        return ()
    odd = (
        (
            _name(source, part.part),
            (
                f"{years_of_part(dating.parts[part.part])}, "
                f"{'a later' if part.later else 'an older'} part{_left_open(source, part.part)}"
            ),
        )
        for part in dating.odd_parts
    )
    return (*odd, *(("", words) for words in _contradictions(source, dating)))


def _contradictions(source: SheetSource, dating: engine.DatingResult) -> Iterable[str]:
    """Yield which evidence contradicts other evidence, unless an odd part explains it.

    Many pairs become one sentence, because a list of them all would hide what matters.
    """
    numbers = _numbers(source)
    sets = [
        {numbers[one] for one in group if one in numbers}
        for group in conflicts(source.tool, dating)
    ]
    contradictory = [group for group in sets if len(group) > 1]
    if len(contradictory) > _MOST_SETS:
        contradictory = [set[int]().union(*contradictory)]
    for group in contradictory:
        yield f"Evidence {join_words([*map(str, sorted(group))])} cannot all be right."


def _left_open(source: SheetSource, key: str) -> str:
    """Return that it is not decided whether a part belongs; empty if it is."""
    part = next((part for part in source.tool.parts if part_key(part) == key), None)
    if part is None or not is_left_open(source.tool, part):
        return ""
    return "; whether it came with the tool is not decided"


def _numbers(source: SheetSource) -> dict[str, int]:
    return {evidence.id: evidence.number for evidence in source.tool.evidence}


def years_of_part(part: engine.DateEstimate) -> str:
    """Return a part's years by its own evidence: the span it firmly allows, else the 90% range."""
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
    """Return the likeliest years, and how sure they are if less than usual."""
    doubt = f", {format_sureness(whole)}" if whole.falls_short else ""
    return f"Made {whole.in_words}{doubt}"


def _reasons(source: SheetSource, dating: engine.DatingResult) -> tuple[str, ...]:
    """Return the reasons in short: what narrows most, the common span, and what is assumed."""
    said = (_narrows_most(source, dating), _span(dating.whole), _assumed_maker(source))
    words = " ".join(filter(None, said))
    return (words,) if words else ()


def _assumed_maker(source: SheetSource) -> str:
    """Say which evidence rests on one maker's type study while the tool's maker is not known."""
    if source.tool.maker:
        return ""
    rests = [
        str(one.number)
        for one in source.tool.evidence
        if one.counted and (one.kind == "type_study" or "type study" in one.source.casefold())
    ]
    if not rests:
        return ""
    verb = "rests" if len(rests) == 1 else "rest"
    return (
        f"The maker is not known: evidence {join_words(rests)} {verb} on one maker’s type study "
        "and holds only if this tool is that maker’s."
    )


def _narrows_most(source: SheetSource, dating: engine.DatingResult) -> str:
    number = _numbers(source).get(next(iter(dating.most_telling), ""))
    alone = len(dating.most_telling) < 2  # noqa: PLR2004 -- one piece has nothing to outweigh
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
        basis=_basis(evidence),
        first=first,
        last=drawn_last,
        loose_before=0 if taken.never_before or first is None else loose,
        loose_after=0 if drawn_last is None else loose,
        terminus=taken.never_before,
        trust=_trust(source, evidence),
    )


def _basis(evidence: EvidenceEntry) -> str:
    words = _BASIS_WORDS[evidence.basis]
    half = evidence.counted and evidence.sure <= _HALF_TRUSTED
    return f"{words}, counts half" if half else words


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
    """Return each checked source once, with the numbers of its evidence."""
    named = sorted((_source(one), one.number) for one in all_evidence if _is_cited(one))
    said = [
        (numbers, f"{join_words([*map(str, numbers)])}: {name}")
        for name, group in groupby(named, key=lambda pair: pair[0])
        if (numbers := sorted(number for _, number in group))
    ]
    return f"Source of {'; of '.join(words for _, words in sorted(said))}." if said else ""


def _source(evidence: EvidenceEntry) -> str:
    return evidence.source.strip().rstrip(".")


def _is_cited(evidence: EvidenceEntry) -> bool:
    words = f"{evidence.source} {evidence.source_status}".casefold()
    return bool(_source(evidence)) and not any(word in words for word in _UNCITED)


def _name(source: SheetSource, code: str) -> str:
    return next((part.name for part in source.tool.parts if part_key(part) == code), code)
