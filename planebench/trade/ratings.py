"""Standard ratings beside the plain words: flaking, protection and rust, from shares of an area."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from planebench.trade.shares import Share

FORMULA_ABOVE_PERCENT = Decimal("0.046416")
"""ISO 10289 uses its formula only above this area, 10^(-4/3) %, where it gives exactly 10."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """A row of a standard's table: the grade of areas up to and including `up_to_percent`."""

    grade: int
    up_to_percent: Decimal
    from_memory: bool
    source: str


@dataclass(frozen=True, slots=True)
class GradeTable:
    """A standard's grades, from the smallest area to the largest."""

    rows: tuple[Grade, ...]

    def __post_init__(self) -> None:
        limits = [row.up_to_percent for row in self.rows]
        if not limits or limits != sorted(set(limits)) or limits[0] < 0:
            raise ValueError(f"limits of a table rise from row to row, these do not: {limits}")

    def row_for(self, percent: Decimal) -> Grade:
        """Choose by upper limit, limit included; beyond the last limit the last row holds.

        Raises ValueError for a percentage outside 0 to 100.
        """
        if not 0 <= percent <= 100:  # noqa: PLR2004 - all of an area
            raise ValueError(f"a share of an area is 0 to 100%, not {percent}")
        return next((row for row in self.rows if percent <= row.up_to_percent), self.rows[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class RatingTables:
    """The four tables that ratings are read from."""

    flaking: GradeTable
    protection: GradeTable
    rust_degree: GradeTable
    rust_grade: GradeTable


@dataclass(frozen=True, slots=True, kw_only=True)
class Rating:
    """A grade of a standard, as the standard writes it, and the rule it was found by.

    `exact` is a formula's value where the standard has one. `rule` also says where the area is
    larger than any the table names.
    """

    standard: str
    grade: int
    said: str
    rule: str
    exact: Decimal | None = None
    from_memory: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RatedShare:
    """The rating of a share, and of the two ends of its interval: fewest and most lost."""

    at: Rating
    at_low: Rating
    at_high: Rating

    @property
    def said(self) -> str:
        """The rating, and those of the interval's ends where they differ: "Ri 3 (Ri 2 to Ri 4)"."""
        if self.at_low.grade == self.at_high.grade:
            return self.at.said
        return f"{self.at.said} ({self.at_low.said} to {self.at_high.said})"


_BY_LIMIT = "class by upper limit, limit included"
_BY_PICTURE = (
    "the lowest degree whose nominal area is not smaller than the measured one, above 8% Ri 5; "
    "a rule of this program, for the standard compares pictures and sets no limits"
)


def flaking_class(lost_percent: Decimal, table: GradeTable) -> Rating:
    """Rate flaking of a coating, ISO 4628-5: class 0 (none) to 5, by the flaked area."""
    row = table.row_for(lost_percent)
    return Rating(
        standard="ISO 4628-5",
        grade=row.grade,
        said=f"{row.grade}",
        rule=_rule(_BY_LIMIT, lost_percent, table),
        from_memory=row.from_memory,
    )


def protection_rating(lost_percent: Decimal, table: GradeTable) -> Rating:
    """Rate a coating's protection of its base metal, ISO 10289: 10 (no defect) to 0.

    The table and the formula Rp = 3 (2 - log10 A) disagree inside a class; the table decides, and
    the formula's value stands beside it, to two decimals.
    """
    row = table.row_for(lost_percent)
    exact = None
    if lost_percent > FORMULA_ABOVE_PERCENT:
        value = 3 * (2 - lost_percent.log10())
        exact = value.quantize(Decimal("0.01"), rounding=ROUND_HALF_EVEN)
    return Rating(
        standard="ISO 10289",
        grade=row.grade,
        said=f"{row.grade}/-",
        rule=_BY_LIMIT,
        exact=exact,
        from_memory=row.from_memory,
    )


def rust_degree(rusted_percent: Decimal, table: GradeTable) -> Rating:
    """Rate rusting, ISO 4628-3: Ri 0 (none) to Ri 5, between the pictures by our own rule."""
    row = table.row_for(rusted_percent)
    return Rating(
        standard="ISO 4628-3",
        grade=row.grade,
        said=f"Ri {row.grade}",
        rule=_rule(_BY_PICTURE, rusted_percent, table),
        from_memory=row.from_memory,
    )


def rust_grade(rusted_percent: Decimal, table: GradeTable) -> Rating:
    """Rate rusting, ASTM D610: 10 (at most 0.01%) to 0 (over 50%); no distribution letter."""
    row = table.row_for(rusted_percent)
    return Rating(
        standard="ASTM D610",
        grade=row.grade,
        said=f"{row.grade}",
        rule=_BY_LIMIT,
        from_memory=row.from_memory,
    )


def rate(finish: str, lost_percent: Decimal, tables: RatingTables) -> tuple[Rating, ...]:
    """Return the ratings that fit a finish (its code) by the percentage lost; none for wood, oil.

    For "rust" and "bare_metal" the percentage is the rusted one.
    """
    return tuple(rule(lost_percent) for rule in _rules(tables).get(finish, ()))


def rate_share(finish: str, lost: Share, tables: RatingTables) -> tuple[RatedShare, ...]:
    """Return the same ratings for a share lost (or rusted) and for both ends of its interval."""
    ends = [rate(finish, end * 100, tables) for end in (lost.value, lost.low, lost.high)]
    return tuple(
        RatedShare(at=at, at_low=at_low, at_high=at_high)
        for at, at_low, at_high in zip(*ends, strict=True)
    )


def _rules(tables: RatingTables) -> Mapping[str, tuple[Callable[[Decimal], Rating], ...]]:
    coating = (lambda percent: flaking_class(percent, tables.flaking),)
    plating = (lambda percent: protection_rating(percent, tables.protection),)
    iron = (
        lambda percent: rust_degree(percent, tables.rust_degree),
        lambda percent: rust_grade(percent, tables.rust_grade),
    )
    return {
        **dict.fromkeys(("japanning", "lacquer", "paint"), coating),
        **dict.fromkeys(("nickel", "plating_other"), plating),
        **dict.fromkeys(("rust", "bare_metal"), iron),
    }


def _rule(rule: str, percent: Decimal, table: GradeTable) -> str:
    """Return the rule, and that the area is larger than the table goes where it is."""
    beyond = percent > table.rows[-1].up_to_percent
    return f"{rule}; this area is larger than any in the table" if beyond else rule
