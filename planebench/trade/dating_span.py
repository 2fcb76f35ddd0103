"""Spans of years: the span on which all termini agree, and evidence that contradicts other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor, inf, log, sqrt

from planebench.trade.evidence import DatingSettings, Evidence

PRODUCTION = "production"
"""The id under which the known production years stand among contradictions."""


Production = tuple[int | None, int | None]
"""First and last year in which a model is known to have been made; None where not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HardSpan:
    """Years `earliest` to `latest`, inclusive; None where nothing bounds that side.

    `agreed` is False where pieces of evidence contradict each other: then both ends are None.
    """

    earliest: int | None
    latest: int | None
    agreed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bar:
    id: str
    low: float
    high: float


def hard_span(
    all_evidence: Sequence[Evidence], production: Production | None, settings: DatingSettings
) -> HardSpan:
    """Return the span on which all termini agree; production years, where known, count as one.

    A give-or-take widens its years. Where the years themselves leave none but no two pieces
    contradict each other, their looseness is drawn on, as far as `settings.agree_at` allows.
    """
    plain = _meet(_bars(all_evidence, production, None))
    if plain.agreed:
        return plain
    return _meet(_bars(all_evidence, production, settings.agree_at))


def lie_apart(one: Sequence[Evidence], other: Sequence[Evidence], settings: DatingSettings) -> bool:
    """Return whether the termini of two parts, each consistent by itself, leave no year in common.

    As much of each looseness is drawn on as `settings.agree_at` allows.
    """
    a = _meet(_bars(one, None, settings.agree_at))
    b = _meet(_bars(other, None, settings.agree_at))
    return a.agreed and b.agreed and (_ends_before(a, b) or _ends_before(b, a))


def _ends_before(one: HardSpan, other: HardSpan) -> bool:
    return one.latest is not None and other.earliest is not None and one.latest < other.earliest


def contradictions(
    all_evidence: Sequence[Evidence], production: Production | None, settings: DatingSettings
) -> tuple[tuple[str, ...], ...]:
    """Return the smallest sets of evidence that no year satisfies, the widest apart first.

    Years lie on a line, so such a set is always a pair (Helly's theorem in one dimension). Evidence
    allows a year while its weight there is at least `settings.agree_at`. At most
    `settings.most_conflicts` pairs are listed. The earlier piece comes first.
    """
    bars = _bars(all_evidence, production, settings.agree_at)
    most = settings.most_conflicts
    early = sorted(bars, key=lambda bar: bar.high)[:most]
    late = sorted(bars, key=lambda bar: -bar.low)[:most]
    pairs = [(b.low - a.high, a.id, b.id) for a in early for b in late if a.high < b.low]
    pairs.sort(key=lambda pair: -pair[0])
    return tuple((a, b) for _, a, b in pairs[:most])


def _bars(
    all_evidence: Iterable[Evidence], production: Production | None, weight: float | None
) -> list[_Bar]:
    bars = [_bar(evidence, weight) for evidence in all_evidence if evidence.counts]
    if production is not None:
        low, high = _open_ends(*production)
        bars.append(_Bar(id=PRODUCTION, low=low, high=high))
    return bars


def _open_ends(first: int | None, last: int | None) -> tuple[float, float]:
    return -inf if first is None else first, inf if last is None else last


def _bar(evidence: Evidence, weight: float | None) -> _Bar:
    reach = 0 if weight is None else _reach(evidence, weight)
    low, high = _open_ends(evidence.not_before, evidence.not_after)
    if evidence.give_or_take:
        reach = max(reach, floor(evidence.looseness))
    return _Bar(
        id=evidence.id, low=low - (0 if evidence.never_before else reach), high=high + reach
    )


def _reach(evidence: Evidence, weight: float) -> int:
    """Whole years outside its own in which evidence still has at least this weight."""
    if evidence.give_or_take:
        return floor(evidence.looseness * sqrt(-2 * log(weight)) + 1e-9)
    return floor((1 - weight) * (evidence.looseness + 1) + 1e-9)


def _meet(bars: Sequence[_Bar]) -> HardSpan:
    low = max((bar.low for bar in bars), default=-inf)
    high = min((bar.high for bar in bars), default=inf)
    if low > high:
        return HardSpan(earliest=None, latest=None, agreed=False)
    return HardSpan(
        earliest=None if low == -inf else int(low), latest=None if high == inf else int(high)
    )
