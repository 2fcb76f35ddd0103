"""Dates a tool from its evidence: each part, then the whole, with what narrows it and disagrees.

The reasoning is written out, with an example to check by hand, in dating/HOW_DATING_WORKS.md
among the reference tables.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError
from planebench.trade.date_estimate import DateEstimate
from planebench.trade.dating_ranges import Likeliest, likeliest_years
from planebench.trade.dating_span import (
    HardSpan,
    Production,
    contradictions,
    hard_span,
    lie_apart,
)
from planebench.trade.dating_weigh import (
    Floats,
    PartWeights,
    believe,
    chance_not_original,
    perhaps_not_original,
    weigh_part,
)
from planebench.trade.evidence import WHOLE, WHOLE_NAMES, DatingSettings, Evidence

__all__ = [
    "WHOLE",
    "DateEstimate",
    "DatingResult",
    "DatingSettings",
    "Evidence",
    "MismatchedPart",
    "date_tool",
]

DEFAULTS = DatingSettings()


@dataclass(frozen=True, slots=True, kw_only=True)
class MismatchedPart:
    """A part of another date than the tool: how likely that is, and on which side it lies."""

    part: str
    chance: float
    later: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DatingResult:
    """The answer: the whole tool, each part alone, and the parts that do not belong together.

    `anchor` is the part whose date is the date of the tool. `chances` gives for each other part
    the chance that it is not the one the tool left the works with. `evidence`, `production` and
    `settings` are what was asked.
    """

    whole: DateEstimate
    parts: Mapping[str, DateEstimate]
    anchor: str
    odd_parts: tuple[MismatchedPart, ...]
    chances: Mapping[str, float]
    evidence: tuple[Evidence, ...]
    production: Production | None
    settings: DatingSettings

    @property
    def assembled(self) -> bool:
        """Return whether the tool is assembled from parts of different dates."""
        return bool(self.odd_parts)

    @property
    def later_parts(self) -> tuple[str, ...]:
        """Parts that came after the tool was made."""
        return tuple(odd.part for odd in self.odd_parts if odd.later)

    @property
    def earlier_parts(self) -> tuple[str, ...]:
        """Parts that are older than the tool."""
        return tuple(odd.part for odd in self.odd_parts if not odd.later)

    @property
    def most_telling(self) -> tuple[str, ...]:
        """Ids of the evidence that counts, what moves the date most first."""
        weights = self.whole.weights
        return tuple(sorted(weights, key=lambda name: -weights[name]))

    def without(self, evidence_id: str) -> DatingResult:
        """Date the tool as if one piece of evidence were not there. Raise InputError for its id."""
        if all(evidence.id != evidence_id for evidence in self.evidence):
            raise InputError(
                f"There is no evidence with the id {evidence_id}.",
                remedy="Name one of the tool’s pieces of evidence.",
                subject=evidence_id,
            )
        left = [replace(s, counted=s.counted and s.id != evidence_id) for s in self.evidence]
        parts = {part: [s for s in left if s.part == part] for part in self.parts}
        return date_tool(parts, self.production, self.settings)


def date_tool(
    parts: Mapping[str, Sequence[Evidence]],
    production: Production | None = None,
    settings: DatingSettings = DEFAULTS,
) -> DatingResult:
    """Date a tool from the evidence on its parts, and from known production years.

    Each part is dated from its own evidence alone. The date of the tool is that of its body (the
    first of `settings.anchors` among `parts`, else the first part): evidence on the body and on the
    whole tool counts fully, that on any other part is blunted by the chance that it is not
    original, and parts found to be of another date are set aside. Production years bound
    everything. Raises InputError where two pieces share an id.
    """
    named = _renamed(parts)
    all_evidence = tuple(evidence for part in named.values() for evidence in part)
    _check_ids_unique(all_evidence)
    years = _years(all_evidence, production, settings)
    grid = years.astype(np.float64)
    table = _Table(
        weighed={part: weigh_part(own, grid, settings) for part, own in named.items()},
        anchor=_anchor(named, settings),
        years=years,
        production=production,
        settings=settings,
    )
    chances = {part: table.chance(part) for part in named if part not in table.central}
    odd = _odd_parts(table, chances)
    return DatingResult(
        whole=table.whole(frozenset(part.part for part in odd)),
        parts={part: table.alone(part) for part in named},
        anchor=table.anchor,
        odd_parts=odd,
        chances=chances,
        evidence=all_evidence,
        production=production,
        settings=settings,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """All parts weighed over one grid of years."""

    weighed: Mapping[str, PartWeights]
    anchor: str
    years: NDArray[np.int64]
    production: Production | None
    settings: DatingSettings

    @property
    def central(self) -> frozenset[str]:
        return frozenset({self.anchor, WHOLE})

    def speaks(self, part: str) -> Floats:
        """What a part says of the tool (Y)."""
        return self._blunted(part, self.weighed[part].total)

    def all_but(self, part: str) -> Floats:
        """What all other parts say of the tool (Y)."""
        said = np.zeros(len(self.years))
        for other in self.weighed:
            if other != part:
                said = said + self.speaks(other)
        return said

    def chance(self, part: str) -> float:
        own = self.weighed[part].total
        return chance_not_original(own, self.all_but(part), self.settings.not_original)

    def is_odd(self, part: str, chance: float) -> bool:
        own = self.weighed[part].evidence
        core = self._all_evidence(self.central & self.weighed.keys())
        apart = lie_apart(own, core, self.settings)
        least = self.settings.odd_apart_at if apart else self.settings.odd_at
        return bool(own) and chance >= least

    def is_later(self, part: str) -> bool:
        own = believe(self.weighed[part].total)
        others = believe(self.all_but(part))
        return bool((own - others) @ self.years > 0)

    def alone(self, part: str) -> DateEstimate:
        own = self.weighed[part]
        shares = believe(own.total)
        weights = _moved(own, shares, own.without_each)
        return self._dated(own.evidence, own.evidence, shares, weights)

    def whole(self, odd: frozenset[str]) -> DateEstimate:
        """Date the tool from the parts that belong together, setting the odd ones aside."""
        fitting = [part for part in self.weighed if part not in odd]
        said = np.zeros(len(self.years))
        for part in fitting:
            said = said + self.speaks(part)
        shares = believe(said)
        all_evidence = self._all_evidence(self.weighed)
        weights = dict.fromkeys((evidence.id for evidence in all_evidence), 0.0)
        for part in fitting:
            own = self.weighed[part]
            left = said - self.speaks(part) + self._blunted(part, own.without_each)
            weights |= _moved(own, shares, left)
        return self._dated(all_evidence, self._all_evidence(fitting), shares, weights)

    def _all_evidence(self, parts: Iterable[str]) -> tuple[Evidence, ...]:
        return tuple(chain.from_iterable(self.weighed[part].evidence for part in parts))

    def _blunted(self, part: str, logs: Floats) -> Floats:
        if part in self.central:
            return logs
        return perhaps_not_original(logs, self.settings.not_original)

    def _dated(
        self,
        all_evidence: Sequence[Evidence],
        fitting: Sequence[Evidence],
        shares: Floats,
        weights: Mapping[str, float],
    ) -> DateEstimate:
        span: HardSpan = hard_span(fitting, self.production, self.settings)
        known = bool(all_evidence) or self.production is not None
        found = self._likeliest(shares) if known else Likeliest(runs=(), held=0.0)
        open_start, open_end = self._open_sides(fitting, shares, found)
        return DateEstimate(
            earliest=span.earliest,
            latest=span.latest,
            agreed=span.agreed,
            ranges=found.runs,
            held=found.held,
            open_start=open_start,
            open_end=open_end,
            years=tuple(self.years.tolist()),
            shares=tuple(shares.tolist()),
            conflicts=contradictions(all_evidence, self.production, self.settings),
            weights=weights,
        )

    def _likeliest(self, shares: Floats) -> Likeliest:
        return likeliest_years(int(self.years[0]), shares, self.settings)

    def _open_sides(
        self, fitting: Sequence[Evidence], shares: Floats, found: Likeliest
    ) -> tuple[bool, bool]:
        """Return whether the likeliest years run past the first, and the last, of those asked."""
        if not found.runs:
            return True, True
        begun, ended = self.production or (None, None)
        flat = self.settings.flat_from
        at_start = found.runs[0][0] == self.years[0] and begun is None
        at_end = found.runs[-1][1] == self.years[-1] and ended is None
        starts, ends = _bounded(fitting)
        return (
            at_start and _is_open(shares[:flat], bounded=starts),
            at_end and _is_open(shares[-flat:], bounded=ends),
        )


def _bounded(all_evidence: Sequence[Evidence]) -> tuple[bool, bool]:
    """Return whether any evidence bounds the start, and the end."""
    starts = any(evidence.not_before is not None for evidence in all_evidence)
    return starts, not all(evidence.endless for evidence in all_evidence)


def _is_open(edge: Floats, *, bounded: bool) -> bool:
    """Return whether nothing bounds a side, or no evidence is believed: all years equal."""
    return not bounded or bool(np.allclose(edge, edge[0], rtol=1e-9, atol=0))


def _renamed(parts: Mapping[str, Sequence[Evidence]]) -> dict[str, list[Evidence]]:
    """Put evidence on the whole tool under one name, and each piece under its part."""
    named: dict[str, list[Evidence]] = {}
    for part, all_evidence in parts.items():
        name = WHOLE if part.casefold() in WHOLE_NAMES else part
        named.setdefault(name, []).extend(replace(evidence, part=name) for evidence in all_evidence)
    return named


def _anchor(parts: Mapping[str, object], settings: DatingSettings) -> str:
    known = {part.casefold(): part for part in parts}
    wanted = [known[name] for name in settings.anchors if name in known]
    return [*wanted, *(part for part in parts if part != WHOLE), WHOLE][0]


def _check_ids_unique(all_evidence: Sequence[Evidence]) -> None:
    seen: set[str] = set()
    for evidence in all_evidence:
        if evidence.id in seen:
            raise InputError(
                f"Two pieces of evidence have the id {evidence.id}.",
                remedy="Give each one its own id.",
                subject=evidence.id,
            )
        seen.add(evidence.id)


def _years(
    evidence: Sequence[Evidence], production: Production | None, settings: DatingSettings
) -> NDArray[np.int64]:
    """Years asked about: of production, else the usual ones widened around evidence outside."""
    begun, ended = production or (None, None)
    bounds = [(one.not_before, one.not_after) for one in evidence if one.counts]
    known = [year for year in chain.from_iterable(bounds) if year is not None]
    if begun is None:
        earliest = min([settings.first_year, *known])
        begun = earliest - settings.margin * (earliest < settings.first_year)
    if ended is None:
        latest = max([settings.last_year, *known])
        ended = latest + settings.margin * (latest > settings.last_year)
    return np.arange(begun, ended + 1)


def _odd_parts(table: _Table, chances: Mapping[str, float]) -> tuple[MismatchedPart, ...]:
    return tuple(
        MismatchedPart(part=part, chance=chance, later=table.is_later(part))
        for part, chance in chances.items()
        if table.is_odd(part, chance)
    )


def _moved(own: PartWeights, shares: Floats, left: Floats) -> dict[str, float]:
    """Share of belief that moves to other years when one piece of a part's evidence is left out."""
    if not own.evidence:
        return {}
    moved = 0.5 * np.abs(believe(left) - shares).sum(axis=1)
    return dict(zip((evidence.id for evidence in own.evidence), moved.tolist(), strict=True))
