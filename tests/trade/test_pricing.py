from decimal import Decimal

from planebench.trade.money import Currency
from planebench.trade.pricing import cost_so_far, sold_between

DOLLAR = Currency(code="USD", digits=2, name="US Dollar")


def test_a_tool_carries_its_even_share_of_the_batch_and_what_was_spent_on_it():
    cost = cost_so_far(Decimal(100), 3, [Decimal("4.50")], DOLLAR)

    assert cost == Decimal("37.83")


def test_a_cost_that_nobody_entered_is_not_known_rather_than_nothing():
    assert cost_so_far(None, 3, [], DOLLAR) is None
    assert cost_so_far(None, 3, [Decimal(5)], DOLLAR) == Decimal("5.00")


def test_like_tools_were_sold_between_the_lowest_and_the_highest_price():
    assert sold_between([Decimal(190), Decimal(140), Decimal(172)]) == (Decimal(140), Decimal(190))
    assert sold_between([]) is None
