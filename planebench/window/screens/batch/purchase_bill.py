"""What a purchase cost and brought, as lines of a bill."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from planebench.catalog.currencies import currency_of
from planebench.catalog.values import Batch
from planebench.trade.money import format_money

_NUMBERS = (
    *("No", "One", "Two", "Three", "Four", "Five", "Six"),
    *("Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """A line of the bill; `wanting` when an amount is still to be entered."""

    label: str
    amount: str
    strong: bool = False
    wanting: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """The bill of a purchase."""

    rows: tuple[BillLine, ...]


def bill_of(batch: Batch, tools: int, sold: Sequence[Decimal | None]) -> Bill:
    """Write a purchase's bill; `sold` has the price of each tool sold, None where not entered."""
    currency = currency_of(batch.currency)
    price = "not entered" if batch.price is None else format_money(batch.price, currency)
    rows = [BillLine(label=_bought_words(batch), amount=price, wanting=batch.price is None)]
    extra = _sum((batch.premium, batch.carriage))
    if extra:
        rows.append(BillLine(label="Premium and carriage", amount=format_money(extra, currency)))
    if batch.price is not None and tools:
        each = format_money((batch.price + extra) / tools, currency)
        rows.append(BillLine(label=f"{counted(tools)}, each", amount=each))
    if sold:
        wanting = any(price is None for price in sold)
        amount = "price not entered" if wanting else format_money(_sum(sold), currency)
        label = f"Sold so far, {counted(len(sold)).lower()}"
        rows.append(BillLine(label=label, amount=amount, strong=True, wanting=wanting))
    return Bill(rows=tuple(rows))


def counted(tools: int) -> str:
    """Count tools in words up to twelve: "Ten tools", "One tool", "13 tools"."""
    number = _NUMBERS[tools] if tools < len(_NUMBERS) else str(tools)
    return f"{number} tool" if tools == 1 else f"{number} tools"


def _bought_words(batch: Batch) -> str:
    when = "" if batch.bought_on is None else f" {batch.bought_on.day} {batch.bought_on:%B %Y}"
    return f"Bought{when}, {batch.bought_from}" if batch.bought_from else f"Bought{when}"


def _sum(amounts: Iterable[Decimal | None]) -> Decimal:
    return sum((amount for amount in amounts if amount is not None), Decimal(0))
