from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.trade.money import Currency
from planebench.trade.purchases import BatchCost, cost_so_far, even_shares, parse_extra, share_out

USD = Currency(code="USD", digits=2, name="US Dollar")


def test_a_tool_carries_its_even_share_of_the_batch_and_what_was_spent_on_it() -> None:
    share = BatchCost(price=Decimal(100)).even_share(2, 3, USD)

    assert cost_so_far(share, [Decimal("4.50")], USD) == Decimal("37.83")


def test_the_shares_of_a_batch_add_up_to_what_it_cost() -> None:
    cost = BatchCost(price=Decimal(100), premium=Decimal("22.50"), carriage=Decimal("9.99"))

    shares = [cost.even_share(position, 7, USD) or Decimal(0) for position in range(7)]

    assert sum(shares) == Decimal("132.49")


def test_a_cost_that_nobody_entered_is_not_known_rather_than_nothing() -> None:
    assert BatchCost(price=None, premium=Decimal(5)).even_share(0, 3, USD) is None
    assert cost_so_far(None, [], USD) is None
    assert cost_so_far(None, [Decimal(5)], USD) == Decimal("5.00")


def test_what_was_entered_counts_as_paid_before_the_price_is_known() -> None:
    assert BatchCost(price=None, carriage=Decimal(5)).paid == Decimal(5)
    assert BatchCost(price=None).paid is None


def test_a_batch_costs_its_price_premium_and_carriage() -> None:
    cost = BatchCost(price=Decimal(100), premium=Decimal("24.50"), carriage=Decimal("9.99"))

    assert Decimal("134.49") == cost.total


def test_the_odd_cent_falls_to_the_first_tool() -> None:
    assert (Decimal("33.34"), Decimal("33.33"), Decimal("33.33")) == even_shares(
        Decimal(100), 3, USD
    )
    assert even_shares(Decimal(100), 0, USD) == ()


def test_the_odd_coin_falls_to_the_largest_remainder() -> None:
    shares = share_out(Decimal("0.10"), [Decimal(1), Decimal(5)], USD)

    assert (Decimal("0.02"), Decimal("0.08")) == shares


@given(
    st.decimals(0, 1_000_000, places=2),
    st.lists(st.decimals(0, 1000, places=2), min_size=1, max_size=40).filter(any),
)
def test_shares_add_up_exactly_and_each_is_within_a_cent_of_its_due(
    total: Decimal, weights: list[Decimal]
) -> None:
    shares = share_out(total, weights, USD)
    due = [Fraction(total) * Fraction(w) / sum(map(Fraction, weights)) for w in weights]

    assert total == sum(shares)
    assert all(
        abs(Fraction(share) - exact) < Fraction(1, 100)
        for share, exact in zip(shares, due, strict=True)
    )


@pytest.mark.parametrize(
    ("total", "weights"), [("1", ["0"]), ("1", ["-1", "2"]), ("-1", ["1"]), ("0.001", ["1"])]
)
def test_what_cannot_be_shared_raises(total: str, weights: list[str]) -> None:
    with pytest.raises(ValueError, match=r"share|coin"):
        share_out(Decimal(total), [Decimal(w) for w in weights], USD)


@pytest.mark.parametrize(
    ("text", "amount"),
    [("15%", "60.00"), ("17.5 %", "70.00"), ("12.50", "12.50"), ("$12", "12.00")],
)
def test_a_premium_is_an_amount_or_a_percentage_of_the_price(text: str, amount: str) -> None:
    found = parse_extra(text, price=Decimal(400), field="Premium", currency=USD)

    assert found == Decimal(amount)


def test_a_percentage_of_a_price_not_entered_is_refused() -> None:
    with pytest.raises(InputError, match="needs the price"):
        parse_extra("15%", price=None, field="Premium", currency=USD)
