"""Sales of like tools: brought to this tool step by step, and their robust center and range."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from statistics import median

from planebench.errors import InputError
from planebench.trade.money import Currency

FEWEST = 5
"""Under five sales no center is given: one odd price would move it too far (common practice)."""

_MAD_TO_SIGMA = Decimal("1.4826")
"""Median absolute deviation to standard deviation of a normal spread (Rousseeuw and Croux 1993)."""

_NINETY = Decimal("1.645")
"""Half a 90% interval in standard deviations of a normal spread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sale:
    """A comparable: its price and currency, finish left in percent, and how many years ago.

    `finish_percent` is None where the listing did not show it.
    """

    price: Decimal
    currency: str
    years_ago: Decimal = Decimal(0)
    finish_percent: Decimal | None = None
    missing_parts: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustingRule:
    """How a sale is brought to this tool; every figure is the seller's own.

    `per_ten_points` is the change of price, in percent, for ten points more finish left,
    `per_year` for each year since the sale, `per_part` for each part missing (negative: less).
    """

    per_ten_points: Decimal = Decimal(0)
    per_year: Decimal = Decimal(0)
    per_part: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustmentStep:
    """One step of an adjustment: what it is for, by what percent, and the price after it."""

    reason: str
    percent: Decimal
    price: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustedSale:
    """A sale and the steps that bring it to this tool; no step where nothing differs."""

    sale: Sale
    steps: tuple[AdjustmentStep, ...]

    @property
    def price(self) -> Decimal:
        """The price after the last step."""
        return self.steps[-1].price if self.steps else self.sale.price


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceCenter:
    """Median and robust 90% range of prices in one currency."""

    median: Decimal
    low: Decimal
    high: Decimal
    count: int


def adjust_sale(
    sale: Sale,
    rule: AdjustingRule,
    currency: Currency,
    *,
    finish_percent: Decimal | None,
    missing_parts: int = 0,
) -> AdjustedSale:
    """Bring a sale to a tool with so much finish left and so many parts missing, step by step.

    A difference that is not known makes no step. Each step is a percentage of the price before.
    """
    wanted: list[tuple[str, Decimal]] = []
    if finish_percent is not None and sale.finish_percent is not None:
        points = finish_percent - sale.finish_percent
        wanted.append((f"{points:+f} points of finish", rule.per_ten_points * points / 10))
    wanted.append((f"{sale.years_ago:f} years since", rule.per_year * sale.years_ago))
    parts = missing_parts - sale.missing_parts
    wanted.append((f"{parts:+d} parts missing", rule.per_part * parts))
    steps: list[AdjustmentStep] = []
    price = sale.price
    for reason, percent in wanted:
        if percent:
            price = max(price * (1 + percent / 100), Decimal(0))
            price = price.quantize(currency.smallest, ROUND_HALF_UP)
            steps.append(AdjustmentStep(reason=reason, percent=percent, price=price))
    return AdjustedSale(sale=sale, steps=tuple(steps))


def price_center(prices: Sequence[Decimal], currency: Currency) -> PriceCenter | None:
    """Return the median and its robust range; None where there are under five prices.

    The range is the median plus and minus 1.645 times 1.4826 times the median absolute deviation:
    90% of a normal spread, hardly moved by one odd price. It never goes below zero.
    """
    if len(prices) < FEWEST:
        return None
    center = median(prices)
    spread = _NINETY * _MAD_TO_SIGMA * median(abs(price - center) for price in prices)

    def rounded(amount: Decimal) -> Decimal:
        return max(amount, Decimal(0)).quantize(currency.smallest, ROUND_HALF_UP)

    return PriceCenter(
        median=rounded(center),
        low=rounded(center - spread),
        high=rounded(center + spread),
        count=len(prices),
    )


def by_currency(sales: Iterable[Sale]) -> Mapping[str, tuple[Sale, ...]]:
    """Return sales by currency, never added together, in the order in which they first appear."""
    grouped: dict[str, list[Sale]] = {}
    for sale in sales:
        grouped.setdefault(sale.currency, []).append(sale)
    return {code: tuple(own) for code, own in grouped.items()}


def at_rate(amount: Decimal, rate: Decimal, currency: Currency) -> Decimal:
    """Return an amount in `currency` by the rate that the user entered, to the smallest coin.

    Raises InputError for a rate that is not above zero.
    """
    if rate <= 0:
        raise InputError(
            f"An exchange rate of {rate} converts nothing.",
            remedy=f"Enter what one unit is worth in {currency.code}, above 0.",
            subject="exchange rate",
        )
    return (amount * rate).quantize(currency.smallest, ROUND_HALF_UP)


def sold_between(prices: Iterable[Decimal]) -> tuple[Decimal, Decimal] | None:
    """Return the lowest and highest price of like tools, None where none is known."""
    known = sorted(prices)
    return (known[0], known[-1]) if known else None
