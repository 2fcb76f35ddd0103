from decimal import Decimal

from planebench.trade.comparables import sold_between


def test_like_tools_were_sold_between_the_lowest_and_the_highest_price():
    assert sold_between([Decimal(190), Decimal(140), Decimal(172)]) == (Decimal(140), Decimal(190))
    assert sold_between([]) is None
