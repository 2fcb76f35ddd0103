"""What a tool must bring: break-even, a price for a wanted return, what an asked price leaves."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from planebench.errors import InputError
from planebench.trade.fees import Channel, lowest_price
from planebench.trade.money import Currency

_PER_HOUR = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolCost:
    """What a tool has cost, all in one currency; None where the purchase is not entered.

    `share` is its exact share of the purchase, `materials` what was spent on it, `postage` what
    sending it costs the seller, `minutes` the time worked on it.
    """

    share: Decimal | None
    materials: Decimal = Decimal(0)
    postage: Decimal = Decimal(0)
    minutes: int = 0

    @property
    def paid(self) -> Decimal:
        """All that was or will be paid out, as far as entered."""
        return (self.share or Decimal(0)) + self.materials + self.postage

    @property
    def is_partial(self) -> bool:
        """Whether the purchase is missing, so that every figure is partial."""
        return self.share is None

    def labor(self, rate: Decimal, currency: Currency) -> Decimal:
        """Return what the hours are worth at a rate per hour. Raises InputError for one under 0."""
        if rate < 0:
            raise InputError(
                "A rate per hour cannot be negative.", remedy="Use 0 or more.", subject="rate"
            )
        return (rate * self.minutes / _PER_HOUR).quantize(currency.smallest, ROUND_HALF_UP)


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceOutcome:
    """What an asked price leaves in a channel: `left` after fee and costs, and per hour worked.

    `per_hour` is None where no time was recorded.
    """

    price: Decimal
    fee: Decimal
    left: Decimal
    per_hour: Decimal | None


def outcome_of(
    price: Decimal, cost: ToolCost, channel: Channel, currency: Currency
) -> PriceOutcome:
    """Return what a price leaves after the channel's fee and all costs."""
    fee = channel.fee(price, currency)
    left = price - fee - cost.paid
    per_hour = None
    if cost.minutes:
        per_hour = (left * _PER_HOUR / cost.minutes).quantize(currency.smallest, ROUND_HALF_UP)
    return PriceOutcome(
        price=price.quantize(currency.smallest),
        fee=fee,
        left=left.quantize(currency.smallest),
        per_hour=per_hour,
    )


def break_even(
    cost: ToolCost, channel: Channel, currency: Currency, *, rate: Decimal = Decimal(0)
) -> Decimal:
    """Return the lowest price that leaves no loss, with hours paid at a rate (0: without them)."""
    wanted = cost.labor(rate, currency)
    return _found(
        lowest_price(lambda p: outcome_of(p, cost, channel, currency).left >= wanted, currency),
        channel,
    )


def price_for_margin(
    cost: ToolCost, channel: Channel, currency: Currency, *, margin_percent: Decimal
) -> Decimal:
    """Return the lowest price of which a share is left after all costs.

    Raises InputError for a margin that the channel's fee leaves no room for.
    """
    if not 0 <= margin_percent < 100:  # noqa: PLR2004 -- percent
        raise InputError(
            f"A margin of {margin_percent}% cannot be reached.",
            remedy="Use a percentage from 0 to under 100.",
            subject="margin",
        )

    def enough(price: Decimal) -> bool:
        return outcome_of(price, cost, channel, currency).left >= price * margin_percent / 100

    return _found(lowest_price(enough, currency), channel)


def _found(price: Decimal | None, channel: Channel) -> Decimal:
    if price is None:
        raise InputError(
            f"{channel.name}: its fee leaves too little at any price.",
            remedy="Lower the margin, or choose another channel.",
            subject=channel.name,
        )
    return price
