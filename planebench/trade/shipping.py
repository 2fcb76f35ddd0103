"""What a parcel is charged for: its weight, or the weight that its size stands for."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from enum import StrEnum

from planebench.errors import InputError
from planebench.trade.angles_and_weights import GRAMS_PER_POUND

_MM_PER_INCH = Decimal("25.4")


class ParcelUnit(StrEnum):
    """What a rule measures in: inches and whole pounds, or centimeters and half kilograms."""

    IN_LB = "in_lb"
    CM_KG = "cm_kg"


@dataclass(frozen=True, slots=True, kw_only=True)
class DimensionalRule:
    """How a carrier turns size into weight: volume / divisor, in its own units."""

    code: str
    name: str
    divisor: int
    unit: ParcelUnit


@dataclass(frozen=True, slots=True, kw_only=True)
class Parcel:
    """A packed parcel: its three sides in millimeters and its weight in grams, all above 0."""

    length_mm: Decimal
    width_mm: Decimal
    height_mm: Decimal
    grams: Decimal

    def __post_init__(self) -> None:
        if min(self.length_mm, self.width_mm, self.height_mm, self.grams) <= 0:
            raise InputError(
                "A parcel’s sides and weight are above zero.",
                remedy="Measure the packed box, and weigh it.",
                subject="parcel",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargedWeight:
    """The weight charged, in pounds or kilograms, and whether the size decided it."""

    weight: Decimal
    by_size: bool
    unit: ParcelUnit


def charged_weight(parcel: Parcel, rule: DimensionalRule) -> ChargedWeight:
    """Return the larger of a parcel's weight and dimensional weight, rounded up as carriers do."""
    per_unit, grams, step = {
        ParcelUnit.IN_LB: (_MM_PER_INCH, GRAMS_PER_POUND, Decimal(1)),
        ParcelUnit.CM_KG: (Decimal(10), Decimal(1000), Decimal("0.5")),
    }[rule.unit]
    volume = Decimal(1)
    for side in (parcel.length_mm, parcel.width_mm, parcel.height_mm):
        volume *= (side / per_unit).to_integral_value(ROUND_CEILING)
    by_size = _up(volume / rule.divisor, step)
    by_weight = _up(parcel.grams / grams, step)
    return ChargedWeight(
        weight=max(by_size, by_weight), by_size=by_size > by_weight, unit=rule.unit
    )


def girth_mm(parcel: Parcel) -> Decimal:
    """Return length plus girth: the longest side, and twice the sum of the other two."""
    longest, second, third = sorted(
        (parcel.length_mm, parcel.width_mm, parcel.height_mm), reverse=True
    )
    return longest + 2 * (second + third)


def _up(amount: Decimal, step: Decimal) -> Decimal:
    return (amount / step).to_integral_value(ROUND_CEILING) * step
