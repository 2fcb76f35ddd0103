"""Sales of like tools brought to this one, step by step, in their own currency."""

from __future__ import annotations

from decimal import Decimal

import pytest

from planebench.errors import InputError
from planebench.trade.comparables import (
    AdjustingRule,
    Sale,
    adjust_sale,
    at_rate,
    by_currency,
    price_center,
    sold_between,
)
from planebench.trade.money import Currency

USD = Currency(code="USD", digits=2, name="US Dollar")
RULE = AdjustingRule(per_ten_points=Decimal(5), per_year=Decimal(2), per_part=Decimal(-10))


def sale(price: str, **more: object) -> Sale:
    return Sale(price=Decimal(price), currency="USD", **more)  # type: ignore[arg-type]  # fields by name


def test_a_sale_is_brought_to_this_tool_step_by_step() -> None:
    found = adjust_sale(
        sale("100", finish_percent=Decimal(70), years_ago=Decimal(2)),
        RULE,
        USD,
        finish_percent=Decimal(90),
        missing_parts=1,
    )

    assert [(step.reason, step.percent, step.price) for step in found.steps] == [
        ("+20 points of finish", Decimal(10), Decimal("110.00")),
        ("2 years since", Decimal(4), Decimal("114.40")),
        ("+1 parts missing", Decimal(-10), Decimal("102.96")),
    ]
    assert found.price == Decimal("102.96")


def test_what_is_not_known_or_does_not_differ_makes_no_step() -> None:
    found = adjust_sale(sale("100"), RULE, USD, finish_percent=Decimal(90))

    assert found.steps == ()
    assert found.price == Decimal(100)


def test_a_price_never_falls_below_zero() -> None:
    found = adjust_sale(sale("100"), RULE, USD, finish_percent=None, missing_parts=20)

    assert found.price == 0


def test_under_five_sales_there_is_no_center() -> None:
    assert price_center([Decimal(100)] * 4, USD) is None
    assert price_center([Decimal(100)] * 5, USD) is not None


def test_one_odd_price_hardly_moves_the_center() -> None:
    usual = [Decimal(p) for p in (140, 150, 155, 160, 170)]
    plain, odd = price_center(usual, USD), price_center([*usual, Decimal(2000)], USD)

    assert plain is not None
    assert odd is not None
    assert abs(odd.median - plain.median) <= Decimal("2.50")
    assert odd.high < Decimal(250)


def test_currencies_stand_side_by_side_and_are_never_added() -> None:
    pounds = Sale(price=Decimal(90), currency="GBP")

    assert by_currency([sale("100"), pounds, sale("110")]) == {
        "USD": (sale("100"), sale("110")),
        "GBP": (pounds,),
    }


def test_a_rate_of_zero_converts_nothing() -> None:
    assert at_rate(Decimal(90), Decimal("1.25"), USD) == Decimal("112.50")
    with pytest.raises(InputError, match="converts nothing"):
        at_rate(Decimal(90), Decimal(0), USD)


def test_like_tools_were_sold_between_the_lowest_and_the_highest_price() -> None:
    assert sold_between([Decimal(190), Decimal(140), Decimal(172)]) == (Decimal(140), Decimal(190))
    assert sold_between([]) is None
