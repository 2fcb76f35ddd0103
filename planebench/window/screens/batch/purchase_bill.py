"""What a purchase cost and earned, as lines of a bill."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from planebench.catalog.currencies import currency_of
from planebench.catalog.values import Batch
from planebench.trade.days import DayOrder, format_day
from planebench.trade.money import Currency, format_money
from planebench.trade.purchases import even_shares
from planebench.trade.wording import join_words


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """A line of the bill; `wanting` marks an amount not entered yet."""

    label: str
    amount: str
    strong: bool = False
    wanting: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseBill:
    """The bill of a purchase."""

    rows: tuple[BillLine, ...]


def bill_of(
    batch: Batch, tools: int, sold: Sequence[Decimal | None], order: DayOrder
) -> PurchaseBill:
    """Return the bill of a purchase; `sold` has the price per sold tool, None if not entered."""
    currency = currency_of(batch.currency)
    price = "not entered" if batch.price is None else format_money(batch.price, currency)
    rows = [BillLine(label=_bought_words(batch, order), amount=price, wanting=batch.price is None)]
    extra = batch.cost.extras
    if extra:
        rows.append(BillLine(label="Premium and carriage", amount=format_money(extra, currency)))
    total = batch.cost.total
    if total is not None and tools:
        shares = even_shares(total.quantize(currency.smallest), tools, currency)
        # Where it does not come out even, the first tools carry a cent more.
        each = [format_money(share, currency) for share in sorted(set(shares))]
        rows.append(BillLine(label=f"{counted(tools)}, each", amount=join_words(each, "or")))
    if sold:
        rows.append(_sold_line(sold, currency))
    return PurchaseBill(rows=tuple(rows))


def _sold_line(sold: Sequence[Decimal | None], currency: Currency) -> BillLine:
    wanting = any(price is None for price in sold)
    amount = "price not entered" if wanting else format_money(_sum(sold), currency)
    label = f"Sold so far, {counted(len(sold))}"
    return BillLine(label=label, amount=amount, strong=True, wanting=wanting)


def counted(tools: int) -> str:
    """Return a count of tools: "1 tool", "13 tools"."""
    return f"{tools} tool" if tools == 1 else f"{tools} tools"


def _bought_words(batch: Batch, order: DayOrder) -> str:
    when = "" if batch.bought_on is None else f" {format_day(batch.bought_on, order)}"
    return f"Bought{when}, {batch.bought_from}" if batch.bought_from else f"Bought{when}"


def _sum(amounts: Iterable[Decimal | None]) -> Decimal:
    return sum((amount for amount in amounts if amount is not None), Decimal(0))
