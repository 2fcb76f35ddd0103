"""Weight charged for a parcel, by size or by weight."""

from __future__ import annotations

from decimal import Decimal

import pytest

from planebench.catalog.shipping_tables import dimensional_rules
from planebench.errors import InputError
from planebench.trade.shipping import Parcel, charged_weight, girth_mm

RULES = dimensional_rules()


def parcel(length: str, width: str, height: str, grams: str) -> Parcel:
    return Parcel(
        length_mm=Decimal(length),
        width_mm=Decimal(width),
        height_mm=Decimal(height),
        grams=Decimal(grams),
    )


def test_a_light_large_parcel_is_charged_by_its_size() -> None:
    """12 x 10 x 8 in is 960 cubic inches: 960 / 139 = 6.9, charged as 7 lb."""
    found = charged_weight(parcel("304.8", "254", "203.2", "1500"), RULES["in139"])

    assert (found.weight, found.by_size) == (7, True)


def test_a_heavy_small_parcel_is_charged_by_its_weight() -> None:
    found = charged_weight(parcel("250", "100", "80", "3200"), RULES["cm5000"])

    assert (found.weight, found.by_size) == (Decimal("3.5"), False)


def test_divisors_166_and_6000_are_the_same_rule_in_other_units() -> None:
    """6000 cm3/kg is 166.08 in3/lb (public shipping guides)."""
    in3_per_lb = Decimal(6000) / Decimal("2.54") ** 3 * Decimal("0.45359237")

    assert round(in3_per_lb, 2) == Decimal("166.08")


def test_every_fraction_of_an_inch_counts_as_a_whole_one() -> None:
    exact = charged_weight(parcel("304.8", "254", "254", "100"), RULES["in139"])
    over = charged_weight(parcel("305", "255", "255", "100"), RULES["in139"])

    assert exact.weight == 9  # 1200 / 139 = 8.6
    assert over.weight == 12  # 13 x 11 x 11 = 1573 / 139 = 11.3


def test_girth_goes_around_the_two_shorter_sides() -> None:
    assert girth_mm(parcel("100", "300", "50", "1")) == 600


def test_a_parcel_without_a_side_is_refused() -> None:
    with pytest.raises(InputError, match="above zero"):
        parcel("0", "1", "1", "1")
