"""The likeliest years: the fewest that hold most of belief, in one range or in a few apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planebench.trade.evidence import DatingSettings

_SAME = 1e-9
"""Years whose shares differ by less than this part are equally likely; the rest is rounding."""

YearRange = tuple[int, int]
"""First and last year of an unbroken range, inclusive."""

_Shares = NDArray[np.float64]
_Taken = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeliest:
    """Ranges of years in their order, and the share of belief, 0 to 1, that they hold."""

    runs: tuple[YearRange, ...]
    held: float


def likeliest_years(first_year: int, shares: _Shares, settings: DatingSettings) -> Likeliest:
    """Return the ranges of the likeliest years that hold `settings.range_share` of belief.

    `shares` (Y) sum to 1 and begin at `first_year`. Years are taken from the likeliest down, so
    none left out is likelier than one taken (a highest-density set); of equally likely ones
    those nearest to what is taken. The best years and flat stretches, `settings.flat_from` or
    more equally likely years in a row, are never cut. A flat stretch no likelier than an average
    year is not taken at all: the ranges then hold that share of what stands out above it, and
    `held` says how much of belief that is; where it is less than `settings.least_held`, all years
    are returned. Gaps of up to `settings.gap_told` years are closed, and the narrowest ones until
    at most `settings.most_runs` ranges are left.
    """
    taken = _taken(shares, settings)
    if float(shares[taken].sum()) < settings.least_held:
        taken = np.ones(len(shares), dtype=bool)
    spans = _closed(_spans(taken), settings)
    held = sum(float(shares[start:end].sum()) for start, end in spans)
    runs = tuple((first_year + start, first_year + end - 1) for start, end in spans)
    return Likeliest(runs=runs, held=min(held, 1.0))


def _taken(shares: _Shares, settings: DatingSettings) -> _Taken:
    ordered = np.sort(shares)[::-1]
    wanted = settings.range_share * float(shares.sum())
    needed = int(np.searchsorted(np.cumsum(ordered), wanted * (1 - _SAME)))
    level = float(ordered[min(needed, len(ordered) - 1)])
    same = np.isclose(shares, level, rtol=_SAME, atol=0)
    above = (shares > level) & ~same
    if not above.any():
        return same
    if max(end - start for start, end in _spans(same)) < settings.flat_from:
        return _with_nearest(shares, above, same, wanted)
    if level > float(shares.mean()) * (1 + _SAME):
        return above | same
    return _taken(np.maximum(shares - level * (1 + _SAME), 0.0), settings)


def _with_nearest(shares: _Shares, taken: _Taken, same: _Taken, wanted: float) -> _Taken:
    """Take of equally likely years those nearest to the ones taken, until enough is held."""
    have, left = np.flatnonzero(taken), np.flatnonzero(same)
    far = np.abs(left[:, None] - have[None, :]).min(axis=1)
    nearest = left[np.argsort(far, kind="stable")]
    lacking = wanted * (1 - _SAME) - float(shares[taken].sum())
    more = int(np.searchsorted(np.cumsum(shares[nearest]), lacking)) + 1
    taken = taken.copy()
    taken[nearest[:more]] = True
    return taken


def _spans(taken: _Taken) -> list[YearRange]:
    """Return the unbroken stretches of what is taken; the ends are exclusive."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], taken.astype(np.int8), [0]))))
    return [(int(start), int(end)) for start, end in edges.reshape(-1, 2)]


def _closed(spans: Sequence[YearRange], settings: DatingSettings) -> list[YearRange]:
    """Close gaps between stretches that are too narrow to mention, or too many."""
    gaps = sorted(b[0] - a[1] for a, b in pairwise(spans))
    too_many = gaps[: max(len(spans) - settings.most_runs, 0)]
    narrow = max([settings.gap_told, *too_many])
    closed = [spans[0]]
    for start, end in spans[1:]:
        if start - closed[-1][1] <= narrow:
            closed[-1] = (closed[-1][0], end)
        else:
            closed.append((start, end))
    return closed
