"""A piece of evidence of date as seen on a tool, and the settings by which it is weighed."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.errors import InputError

WHOLE = "whole tool"
"""The part name under which evidence on the whole tool stands."""

WHOLE_NAMES = frozenset({WHOLE, "whole", "tool", "whole_tool"})
"""Names by which the whole tool is written as if it were a part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """One piece of evidence on one part, with the years it allows; years are inclusive.

    `not_before` and `not_after` are its termini, None where it has none. `usual_until` is the year
    until which such a mark was usually still applied: it lowers later years, but it is no terminus.
    `never_before` marks a terminus post quem: nothing softens it downward. `looseness` is in
    years: how far outside its years it may still stand (old stock used up, a late change).
    `give_or_take` lets the weight fall as a bell of that width instead of a straight line.
    `sure` is the chance, 0 to 1, that it is genuine, rightly read and rightly bounded.
    Pieces with the same `group` on one part count once; empty means kind and wording together.
    """

    id: str
    part: str
    kind: str
    what: str = ""
    not_before: int | None = None
    not_after: int | None = None
    usual_until: int | None = None
    never_before: bool = False
    give_or_take: bool = False
    sure: float = 0.8
    looseness: float = 0.0
    counted: bool = True
    group: str = ""
    read_as: str = ""
    alternatives: tuple[str, ...] = ()
    source: str = ""
    status: str = ""
    basis: str = ""

    def __post_init__(self) -> None:
        if not 0 <= self.sure <= 1:
            raise InputError(
                f"{self.id}: sure is {self.sure}.",
                remedy="Use a number from 0 to 1.",
                subject=self.id,
            )
        if not 0 <= self.looseness < float("inf"):
            raise InputError(
                f"{self.id}: looseness is {self.looseness}.",
                remedy="Use a number of years, 0 or more.",
                subject=self.id,
            )
        low, high = self.not_before, self.not_after
        if low is not None and high is not None and low > high:
            raise InputError(
                f"{self.id}: it begins in {low} and ends in {high}.",
                remedy=f"Try {high} to {low}.",
                subject=self.id,
            )

    @property
    def counts(self) -> bool:
        """Return whether it takes part: counted, believed at all, and with at least one year."""
        bounded = (self.not_before, self.not_after, self.usual_until) != (None, None, None)
        return self.counted and self.sure > 0 and bounded

    @property
    def endless(self) -> bool:
        """Return whether nothing bounds it upward, not even how long such a mark was usual."""
        return self.not_after is None and self.usual_until is None

    @property
    def witness(self) -> str:
        """The name under which it counts once on its part."""
        return self.group or f"{self.kind}:{self.what.casefold().strip()}"


@dataclass(frozen=True, slots=True, kw_only=True)
class DatingSettings:
    """How evidence is weighed; values and the reason for each stand in dating/constants.toml.

    `first_year` and `last_year` bound the years asked about where production is not known, widened
    by `margin` years around evidence outside them. `surest` caps `sure`. `range_share` is the share
    of belief in the range returned. `not_original` is the chance, before looking, that a part other
    than the body came later; from `odd_at` up the part is reported. `agree_at` is the weight, 0 to
    1, at which evidence still allows a year when contradictions are looked for; `most_conflicts`
    limits how many are listed. The years returned hold `range_share` of belief unless that would
    take a flat stretch of `flat_from` or more years that nothing speaks for; what holds less than
    `least_held` is not returned. Gaps of up to `gap_told` years in them are closed, and at most
    `most_runs` ranges are returned. `anchors` name the part whose date is the date of the tool.
    """

    first_year: int = 1780
    last_year: int = 1980
    margin: int = 20
    surest: float = 0.995
    range_share: float = 0.9
    not_original: float = 0.27
    odd_at: float = 0.5
    odd_apart_at: float = 0.4
    agree_at: float = 0.5
    most_conflicts: int = 100
    flat_from: int = 10
    least_held: float = 0.4
    gap_told: int = 2
    most_runs: int = 3
    anchors: tuple[str, ...] = ("body", "bed", "stock", "casting")
