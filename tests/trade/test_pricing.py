"""Fees, break-even and prices for a wanted return, exact to the cent."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.trade.fees import Channel, FeeTier
from planebench.trade.money import Currency
from planebench.trade.pricing import ToolCost, break_even, outcome_of, price_for_margin

USD = Currency(code="USD", digits=2, name="US Dollar")
JPY = Currency(code="JPY", digits=0, name="Yen")
CENT = Decimal("0.01")
TIERED = Channel(
    name="tiered",
    tiers=(FeeTier(percent=Decimal(13), up_to=Decimal(100)), FeeTier(percent=Decimal(3))),
    fixed=Decimal("0.40"),
)
DIRECT = Channel(name="direct")


def test_tiers_apply_to_their_part_of_the_price_alone() -> None:
    assert TIERED.fee(Decimal(50), USD) == Decimal("6.90")
    assert TIERED.fee(Decimal(150), USD) == Decimal("14.90")


def test_a_fee_has_a_least_and_a_most() -> None:
    bounded = Channel(
        name="bounded",
        tiers=(FeeTier(percent=Decimal(10)),),
        least=Decimal(5),
        most=Decimal(20),
    )

    assert [bounded.fee(Decimal(price), USD) for price in (10, 100, 1000)] == [5, 10, 20]


def test_a_fee_on_postage_is_taken_of_both() -> None:
    channel = Channel(name="both", tiers=(FeeTier(percent=Decimal(10)),), on_postage=True)

    assert channel.fee(Decimal(100), USD, postage=Decimal(20)) == Decimal(12)


@pytest.mark.parametrize(
    "tiers",
    [
        (FeeTier(percent=Decimal(100)),),
        (FeeTier(percent=Decimal(-1)),),
        (
            FeeTier(percent=Decimal(5), up_to=Decimal(50)),
            FeeTier(percent=Decimal(4), up_to=Decimal(50)),
            FeeTier(percent=Decimal(3)),
        ),
        (FeeTier(percent=Decimal(5)), FeeTier(percent=Decimal(3))),
    ],
)
def test_a_fee_that_cannot_be_reckoned_with_is_refused(tiers: tuple[FeeTier, ...]) -> None:
    with pytest.raises(InputError, match="channel"):
        Channel(name="channel", tiers=tiers)


@given(
    st.decimals(0, 5000, places=2),
    st.decimals(0, 500, places=2),
    st.sampled_from([DIRECT, TIERED]),
)
def test_break_even_is_the_lowest_price_without_a_loss(
    share: Decimal, materials: Decimal, channel: Channel
) -> None:
    cost = ToolCost(share=share, materials=materials)

    price = break_even(cost, channel, USD)

    assert outcome_of(price, cost, channel, USD).left >= 0
    assert price == 0 or outcome_of(price - CENT, cost, channel, USD).left < 0


def test_break_even_with_hours_pays_them_at_the_rate() -> None:
    cost = ToolCost(share=Decimal(40), minutes=90)

    assert break_even(cost, DIRECT, USD, rate=Decimal(20)) == Decimal(70)


def test_a_currency_without_cents_is_priced_in_whole_coins() -> None:
    assert break_even(ToolCost(share=Decimal(1000)), DIRECT, JPY) == Decimal(1000)


def test_a_margin_is_the_share_of_the_price_that_is_left() -> None:
    cost = ToolCost(share=Decimal(75))

    assert price_for_margin(cost, DIRECT, USD, margin_percent=Decimal(25)) == Decimal(100)


def test_a_margin_that_the_fee_leaves_no_room_for_is_refused() -> None:
    channel = Channel(name="steep", tiers=(FeeTier(percent=Decimal(30)),))

    with pytest.raises(InputError, match="leaves too little"):
        price_for_margin(ToolCost(share=Decimal(10)), channel, USD, margin_percent=Decimal(75))


def test_what_is_left_is_told_per_hour_only_where_hours_are_known() -> None:
    worked = outcome_of(Decimal(100), ToolCost(share=Decimal(40), minutes=120), DIRECT, USD)
    unknown = outcome_of(Decimal(100), ToolCost(share=Decimal(40)), DIRECT, USD)

    assert worked.per_hour == Decimal(30)
    assert unknown.per_hour is None


def test_a_cost_without_its_purchase_is_partial() -> None:
    assert ToolCost(share=None, materials=Decimal(5)).is_partial


def test_a_negative_rate_is_refused() -> None:
    with pytest.raises(InputError, match="negative"):
        break_even(ToolCost(share=Decimal(1), minutes=60), DIRECT, USD, rate=Decimal(-1))
