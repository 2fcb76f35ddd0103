"""Prices at which like tools were sold."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal


def sold_between(prices: Iterable[Decimal]) -> tuple[Decimal, Decimal] | None:
    """Return the lowest and highest price of like tools, None where none is known."""
    known = sorted(prices)
    return (known[0], known[-1]) if known else None
