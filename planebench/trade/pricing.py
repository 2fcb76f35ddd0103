"""What a tool has cost so far, and between which prices like tools were sold."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from planebench.trade.money import Currency


def cost_so_far(
    bought: Decimal | None, tools: int, spent: Iterable[Decimal], currency: Currency
) -> Decimal | None:
    """Return the tool's even share of its batch of `tools`, and what was spent on it since.

    None where neither the purchase nor anything spent is known.
    """
    work = list(spent)
    if bought is None and not work:
        return None
    share = Decimal(0) if bought is None or tools == 0 else bought / tools
    return (share + sum(work, Decimal(0))).quantize(currency.smallest, ROUND_HALF_UP)


def sold_between(prices: Iterable[Decimal]) -> tuple[Decimal, Decimal] | None:
    """Return the lowest and highest price of like tools, None where none is known."""
    known = sorted(prices)
    return (known[0], known[-1]) if known else None
