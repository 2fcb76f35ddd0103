"""The dating chart's years: where the scale begins and ends, and how far each bar runs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain

from planebench.sheet.content import SheetDating, SheetEvidence, SheetEvidenceWeight

_STEPS = (1, 2, 5, 10, 20, 50, 100)
_MOST_LABELS = 8
_AROUND_OPEN = 10
"""Years shown beyond the last known one when a bar runs on without an end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YearScale:
    """Years from `start` to `end`, labelled every `step`."""

    start: int
    end: int
    step: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A sign's bar on the scale; years are edges, so 1913 to 1918 ends at 1919.

    `open_start` and `open_end` say that it runs on past the scale.
    """

    start: float
    end: float
    loose_start: float
    loose_end: float
    open_start: bool
    open_end: bool


def year_scale(dating: SheetDating) -> YearScale | None:
    """Give a scale that holds every year named; None when no sign names one."""
    signs = dating.signs
    known = [year for sign in signs for year in _years(sign)]
    if not known:
        return None
    known += [*chain.from_iterable(dating.bands), *_column_years(dating)]
    low = min(known) - _AROUND_OPEN * any(map(_opens_early, signs))
    high = max(known) + 1 + _AROUND_OPEN * any(map(_opens_late, signs))
    step = next((s for s in _STEPS if (high - low) / s <= _MOST_LABELS), _STEPS[-1])
    return YearScale(start=low - low % step, end=high + -high % step, step=step)


def chart_key(dating: SheetDating) -> str:
    """Say what the chart's marks mean, leaving out what it does not show."""
    signs = dating.signs
    trusts = {sign.trust for sign in signs}
    meanings = (
        (True, "Solid bars: the years each sign allows"),
        (any(s.loose_before or s.loose_after for s in signs), "dashes: how loosely"),
        (any(s.terminus or s.terminus_end for s in signs), "thick end: not beyond this year"),
        (SheetEvidenceWeight.HALF in trusts, "pale: half trusted"),
        (SheetEvidenceWeight.DISAGREES in trusts, "rust: does not agree"),
        (bool(dating.bands), f"shaded: {dating.band_words}"),
        (bool(dating.columns), "columns: how likely each year is"),
    )
    return "; ".join(words for is_shown, words in meanings if is_shown) + "."


def bar(sign: SheetEvidence, scale: YearScale) -> Bar | None:
    """Give the sign's bar within the scale; None when it names no year."""
    if sign.first is None and sign.last is None:
        return None
    start = scale.start if sign.first is None else sign.first
    end = scale.end if sign.last is None else sign.last + 1
    return Bar(
        start=start,
        end=end,
        loose_start=max(scale.start, start - sign.loose_before),
        loose_end=min(scale.end, end + sign.loose_after),
        open_start=_opens_early(sign),
        open_end=_opens_late(sign),
    )


def _years(sign: SheetEvidence) -> Iterable[int]:
    if sign.first is not None:
        yield sign.first - sign.loose_before
    if sign.last is not None:
        yield sign.last + 1 + sign.loose_after


def _column_years(dating: SheetDating) -> Iterable[int]:
    for columns in dating.columns:
        yield columns.first
        yield columns.first + len(columns.weights)


def _opens_early(sign: SheetEvidence) -> bool:
    return sign.first is None and sign.last is not None


def _opens_late(sign: SheetEvidence) -> bool:
    return sign.last is None and sign.first is not None
