"""What a channel of sale takes: a percentage, a fixed sum, tiers, a least and a most."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from planebench.errors import InputError
from planebench.trade.money import Currency

_HIGHEST_PRICE = Decimal(10_000_000)
"""No plane sells for more; a fee that leaves nothing even there leaves nothing at any price."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeeTier:
    """A percentage of the part of the price up to a limit; None for the last, open tier."""

    percent: Decimal
    up_to: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """Where a tool is sold and what that costs; amounts in the currency of the sale.

    Tiers apply to the part of the price between their limits, lowest first. `fixed` is added per
    sale; `least` and `most` bound the whole. `on_postage` tells that the percentage is also taken
    of the postage that the buyer pays.
    """

    name: str
    tiers: tuple[FeeTier, ...] = ()
    fixed: Decimal = Decimal(0)
    least: Decimal = Decimal(0)
    most: Decimal | None = None
    on_postage: bool = False

    def __post_init__(self) -> None:
        if any(not 0 <= tier.percent < 100 for tier in self.tiers):  # noqa: PLR2004 -- percent
            raise InputError(
                f"{self.name}: a fee of 100% or more, or under 0, leaves nothing to reckon with.",
                remedy="Use a percentage from 0 to under 100.",
                subject=self.name,
            )
        limits = [tier.up_to for tier in self.tiers[:-1]]
        rising = [limit for limit in limits if limit is not None]
        if len(rising) < len(limits) or rising != sorted(set(rising)):
            raise InputError(
                f"{self.name}: the limits of its tiers do not rise.",
                remedy="Write the lowest tier first, each with a higher limit than the one before.",
                subject=self.name,
            )

    def fee(self, price: Decimal, currency: Currency, *, postage: Decimal = Decimal(0)) -> Decimal:
        """Return the fee on a price, rounded to the smallest coin."""
        taxed = price + (postage if self.on_postage else Decimal(0))
        fee = self.fixed + sum(
            (self._of_tier(n, taxed) for n in range(len(self.tiers))), Decimal(0)
        )
        fee = max(fee, self.least)
        fee = fee if self.most is None else min(fee, self.most)
        return fee.quantize(currency.smallest, rounding=ROUND_HALF_UP)

    def _of_tier(self, number: int, price: Decimal) -> Decimal:
        below = self.tiers[number - 1].up_to if number else Decimal(0)
        tier = self.tiers[number]
        top = price if tier.up_to is None else min(price, tier.up_to)
        return max(top - (below or Decimal(0)), Decimal(0)) * tier.percent / 100


def lowest_price(enough: Callable[[Decimal], bool], currency: Currency) -> Decimal | None:
    """Return the lowest price, to the smallest coin, that is enough; None where none is.

    A price above one that is enough is taken to be enough too: fees under 100% leave more of
    more. Exact, by halving over whole coins.
    """
    low, high = 0, int(_HIGHEST_PRICE / currency.smallest)
    if not enough(high * currency.smallest):
        return None
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle * currency.smallest) else (middle + 1, high)
    return low * currency.smallest
