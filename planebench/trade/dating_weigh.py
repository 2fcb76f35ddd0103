"""Weighs years: the likelihood of each year under each piece of evidence, part and whole tool."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planebench.trade.evidence import DatingSettings, Evidence

Floats = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class PartWeights:
    """What the counted evidence on one part says, over the years of a grid of Y years.

    `evidence` is what counts (n pieces), `witness` (n) the number of the group of each, `logs` (n,
    Y) the logarithm of each piece's likelihood, `groups` (G, Y) of each group's.
    """

    years: Floats
    surest: float
    evidence: tuple[Evidence, ...]
    witness: NDArray[np.intp]
    logs: Floats
    groups: Floats

    @cached_property
    def total(self) -> Floats:
        """Logarithm of the part's likelihood of each year (Y)."""
        summed: Floats = self.groups.sum(axis=0)
        return summed

    @cached_property
    def without_each(self) -> Floats:
        """Logarithm of the part's likelihood of each year without one piece of evidence (n, Y)."""
        left = np.zeros_like(self.logs)
        for number in range(len(self.groups)):
            rows = np.flatnonzero(self.witness == number)
            if len(rows) > 1:
                left[rows] = _lowest_of_the_others(self.logs[rows])
                self._without_the_newest(rows, left)
        without: Floats = self.total - self.groups[self.witness] + left
        return without

    def _without_the_newest(self, rows: NDArray[np.intp], left: Floats) -> None:
        """Weigh a group again without the mark that alone keeps it usual the longest."""
        ends = [self.evidence[row].usual_until or 0 for row in rows]
        if ends.count(max(ends)) == 1 and max(ends) > 0:
            newest = rows[ends.index(max(ends))]
            others = [self.evidence[row] for row in rows if row != newest]
            left[newest] = _logs(others, self.years, self.surest).min(axis=0)


def weigh_part(
    all_evidence: Sequence[Evidence], years: Floats, settings: DatingSettings
) -> PartWeights:
    """Weigh the evidence on one part over `years` (Y), all of them equally likely beforehand.

    The likelihood of a piece of evidence is (f + e) / (1 + e): f is 1 inside its years and falls
    off outside, and e = (1 - sure) / sure times the mean of f. So one piece alone leaves just the
    share `sure` of belief shaped by f, and 1 - sure spread over all years as if it had not been
    seen. Evidence of one group counts once: in each year the lowest of their likelihoods. Marks of
    one group stay usual as long as the newest of them.
    """
    counting = tuple(evidence for evidence in all_evidence if evidence.counts)
    names = {name: number for number, name in enumerate(dict.fromkeys(s.witness for s in counting))}
    witness = np.array([names[evidence.witness] for evidence in counting], dtype=np.intp)
    logs = _logs(counting, years, settings.surest)
    groups = np.zeros((len(names), len(years)))
    np.minimum.at(groups, witness, logs)
    return PartWeights(
        years=years,
        surest=settings.surest,
        evidence=counting,
        witness=witness,
        logs=logs,
        groups=groups,
    )


def allowed(all_evidence: Sequence[Evidence], years: Floats) -> Floats:
    """Return f (n, Y): 1 inside the years of the evidence, falling to 0 over its looseness."""
    low, high = _ends(all_evidence)
    loose = np.array([evidence.looseness for evidence in all_evidence])[:, None]
    bell = np.array([evidence.give_or_take for evidence in all_evidence], dtype=bool)[:, None]
    hard = np.array([evidence.never_before for evidence in all_evidence], dtype=bool)[:, None]
    before, after = np.maximum(low - years, 0.0), np.maximum(years - high, 0.0)
    far = before + after
    straight = np.maximum(1.0 - far / (loose + 1.0), 0.0)
    if bell.any():
        curved = np.exp(-0.5 * (far / np.maximum(loose, 0.5)) ** 2)
        straight = np.where(bell, curved, straight)
    return np.where(hard & (before > 0), 0.0, straight)


def believe(logs: Floats) -> Floats:
    """Turn logarithms of likelihood (..., Y) into shares of belief that sum to 1 over the years."""
    weights = np.exp(logs - logs.max(axis=-1, keepdims=True))
    shares: Floats = weights / weights.sum(axis=-1, keepdims=True)
    return shares


def perhaps_not_original(logs: Floats, chance: float) -> Floats:
    """Blunt what a part (..., Y) says of the tool by the `chance` that it came from another one."""
    top = logs.max(axis=-1, keepdims=True)
    weights = np.exp(logs - top)
    mixed = (1 - chance) * weights + chance * weights.mean(axis=-1, keepdims=True)
    blunted: Floats = np.log(mixed) + top
    return blunted


def chance_not_original(part: Floats, others: Floats, chance: float) -> float:
    """Chance that a part came later or earlier than the tool, given all evidence.

    `part` (Y) is what the evidence on the part says, `others` (Y) what all other evidence says;
    `chance` is that of any such part before looking. Bayes' rule with the two explanations "same
    year" and "any year".
    """
    weights = np.exp(part - part.max())
    other_year = chance * float(weights.mean())
    same_year = (1 - chance) * float(believe(others) @ weights)
    return other_year / (other_year + same_year)


def _ends(all_evidence: Sequence[Evidence]) -> tuple[Floats, Floats]:
    low = [-np.inf if s.not_before is None else s.not_before for s in all_evidence]
    usual: dict[str, int] = {}
    for evidence in all_evidence:
        if evidence.usual_until is not None:
            usual[evidence.witness] = max(evidence.usual_until, usual.get(evidence.witness, 0))
    high = [_end(evidence, usual) for evidence in all_evidence]
    return np.array(low, dtype=float)[:, None], np.array(high, dtype=float)[:, None]


def _end(evidence: Evidence, usual: Mapping[str, int]) -> float:
    """Last year of full weight; marks of one group stay usual as long as the newest of them."""
    if evidence.not_after is not None:
        return evidence.not_after
    return np.inf if evidence.usual_until is None else usual[evidence.witness]


def _logs(all_evidence: Sequence[Evidence], years: Floats, surest: float) -> Floats:
    if not all_evidence:
        return np.zeros((0, len(years)))
    inside = allowed(all_evidence, years)
    sure = np.minimum(np.array([evidence.sure for evidence in all_evidence]), surest)[:, None]
    doubt = (1 - sure) / sure * inside.mean(axis=1, keepdims=True)
    silent = doubt == 0.0
    doubt = np.where(silent, 1.0, doubt)
    logs: Floats = np.where(silent, 0.0, np.log((inside + doubt) / (1.0 + doubt)))
    return logs


def _lowest_of_the_others(rows: Floats) -> Floats:
    """For each row of one group, the lowest of the other rows in each year."""
    two = np.partition(rows, 1, axis=0)[:2]
    owner = rows.argmin(axis=0)
    lowest: Floats = np.where(np.arange(len(rows))[:, None] == owner, two[1], two[0])
    return lowest
