"""The years of the dating chart: where the scale starts and ends, and how far each bar runs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain

from planebench.sheet.content import SheetDating, SheetEvidence, SheetEvidenceWeight

_STEPS = (1, 2, 5, 10, 20, 50, 100)
_MOST_LABELS = 8
_AROUND_OPEN = 10
"""Years shown beyond the last known one where a bar has no end: enough to see the arrow."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YearScale:
    """Years from `start` to `end`, labeled every `step`."""

    start: int
    end: int
    step: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """The bar of a piece of evidence; years are edges, so 1913 to 1918 ends at 1919.

    `open_start` and `open_end` mean that it runs on past the scale.
    """

    start: float
    end: float
    loose_start: float
    loose_end: float
    open_start: bool
    open_end: bool


def year_scale(dating: SheetDating) -> YearScale | None:
    """Return a scale that holds every year named; None if no evidence names one."""
    all_evidence = dating.evidence
    known = [year for evidence in all_evidence for year in _years(evidence)]
    if not known:
        return None
    known += [*chain.from_iterable(dating.bands), *_column_years(dating)]
    low = min(known) - _AROUND_OPEN * any(map(_opens_early, all_evidence))
    high = max(known) + 1 + _AROUND_OPEN * any(map(_opens_late, all_evidence))
    step = next((s for s in _STEPS if (high - low) / s <= _MOST_LABELS), _STEPS[-1])
    return YearScale(start=low - low % step, end=high + -high % step, step=step)


def chart_key(dating: SheetDating) -> str:
    """Return what the chart's marks mean, leaving out what it does not show."""
    all_evidence = dating.evidence
    trusts = {evidence.trust for evidence in all_evidence}
    meanings = (
        (True, "Solid bars: the years each piece of evidence allows"),
        (
            any(s.loose_before or s.loose_after for s in all_evidence),
            "dashes: the evidence may stretch that far",
        ),
        (
            any(s.terminus or s.terminus_end for s in all_evidence),
            "thick end: never beyond this year",
        ),
        (SheetEvidenceWeight.HALF in trusts, "pale: counts half"),
        (SheetEvidenceWeight.DISAGREES in trusts, "rust: does not agree"),
        (bool(dating.bands), f"shaded: {dating.band_words}"),
        (bool(dating.columns), "columns: how likely each year is"),
    )
    return "; ".join(words for is_shown, words in meanings if is_shown) + "."


def evidence_bar(evidence: SheetEvidence, scale: YearScale) -> Bar | None:
    """Return the bar of a piece of evidence on the scale; None if it names no year."""
    if evidence.first is None and evidence.last is None:
        return None
    start = scale.start if evidence.first is None else evidence.first
    end = scale.end if evidence.last is None else evidence.last + 1
    return Bar(
        start=start,
        end=end,
        loose_start=max(scale.start, start - evidence.loose_before),
        loose_end=min(scale.end, end + evidence.loose_after),
        open_start=_opens_early(evidence),
        open_end=_opens_late(evidence),
    )


def _years(evidence: SheetEvidence) -> Iterable[int]:
    if evidence.first is not None:
        yield evidence.first - evidence.loose_before
    if evidence.last is not None:
        yield evidence.last + 1 + evidence.loose_after


def _column_years(dating: SheetDating) -> Iterable[int]:
    for columns in dating.columns:
        yield columns.first
        yield columns.first + len(columns.weights)


def _opens_early(evidence: SheetEvidence) -> bool:
    return evidence.first is None and evidence.last is not None


def _opens_late(evidence: SheetEvidence) -> bool:
    return evidence.last is None and evidence.first is not None
