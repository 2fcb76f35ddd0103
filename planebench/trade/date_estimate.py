"""When a part or a whole tool was made: its years, in numbers, words and EDTF, and their doubt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planebench.trade.dating_ranges import YearRange

NOT_DATED = "not dated"
_USUAL_PERCENT = 90
"""What the likeliest years usually hold; less is said beside them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DateEstimate:
    """When a part, or the whole tool, was made.

    `earliest` and `latest` are the hard span on which all termini agree, None where a side is open
    and both None where the termini contradict each other (`agreed` False). `ranges` are the
    likeliest years, as a rule one range, in their order; they hold the share `held` of belief:
    90% or a little more, or less where the evidence does not carry that far (`falls_short`).
    `range90` runs from the first to the last of these years, None where nothing is known.
    `open_start` and `open_end` say that no evidence bounds that side; the range then runs to the
    edge of the years asked about. `shares` (Y) are the
    belief in each of `years` (Y) and sum to 1. `conflicts` are ids of evidence that
    contradicts other evidence, the earlier one first. `weights` gives for each piece how much
    belief would move to other years without it, 0 to 1; evidence on parts set aside has 0 for
    the tool.
    """

    earliest: int | None
    latest: int | None
    agreed: bool
    ranges: tuple[YearRange, ...]
    held: float
    open_start: bool
    open_end: bool
    years: tuple[int, ...]
    shares: tuple[float, ...]
    conflicts: tuple[tuple[str, ...], ...]
    weights: Mapping[str, float]

    @property
    def range90(self) -> YearRange | None:
        """First and last of the likeliest years, None where nothing is known."""
        return (self.ranges[0][0], self.ranges[-1][1]) if self.ranges else None

    @property
    def percent(self) -> int:
        """The share of belief in the likeliest years, in whole percent."""
        return round(100 * self.held)

    @property
    def falls_short(self) -> bool:
        """Return whether the likeliest years hold less than the 90% that a date should."""
        return bool(self.ranges) and self.percent < _USUAL_PERCENT

    @property
    def is_wider(self) -> bool:
        """Return whether likely years lie outside the hard span: old stock and doubt allow them."""
        if self.range90 is None or not self.agreed:
            return False
        first, last = self.range90
        before = self.earliest is not None and not self.open_start and first < self.earliest
        return before or (self.latest is not None and not self.open_end and last > self.latest)

    @property
    def edtf(self) -> str:
        """First to last of the likeliest years as an EDTF interval (ISO 8601-2), or empty."""
        if self.range90 is None:
            return ""
        first, last = (f"{year:04d}" for year in self.range90)
        if self.open_start or self.open_end:
            return f"{'..' if self.open_start else first}/{'..' if self.open_end else last}"
        return first if first == last else f"{first}/{last}"

    @property
    def in_words(self) -> str:
        """The likeliest years in words that follow "made": between about 1913 and 1918."""
        if not self.ranges or (self.open_start and self.open_end):
            return "at a date not known"
        return " or ".join(self._run_in_words(run) for run in self.ranges)

    def _run_in_words(self, run: YearRange) -> str:
        first, last = run
        if self.open_start and run == self.ranges[0]:
            return f"before about {last + 1}"
        if self.open_end and run == self.ranges[-1]:
            return f"about {first} or later"
        return f"about {first}" if first == last else f"between about {first} and {last}"


def format_short_estimate(dated: DateEstimate) -> tuple[str, str]:
    """Return the likeliest years for a list row and what they are: ("1913 to 1918", "90% range").

    Where they hold less than that, the doubt is said: ("1902 or later", "87% sure").
    """
    if dated.range90 is None or (dated.open_start and dated.open_end):
        return NOT_DATED, ""
    years = " or ".join(_short_run(dated, run) for run in dated.ranges)
    if dated.falls_short:
        return years, format_sureness(dated)
    return years, "one side open" if dated.open_start or dated.open_end else "90% range"


def format_sureness(dated: DateEstimate) -> str:
    """Return how much belief the likeliest years hold: "87% sure"."""
    return f"{dated.percent}% sure"


def _short_run(dated: DateEstimate, run: YearRange) -> str:
    first, last = run
    if dated.open_end and run == dated.ranges[-1]:
        return f"{first} or later"
    if dated.open_start and run == dated.ranges[0]:
        return f"{last} or earlier"
    return f"{first}" if first == last else f"{first} to {last}"
