"""What a purchase cost, and how it is split over its tools: exact to the smallest coin."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from planebench.errors import InputError
from planebench.trade.money import Currency, parse_money

_PERCENT = re.compile(r"(\d{1,2}(?:[.,]\d{1,2})?)\s*(?:%|percent|per cent)")


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchCost:
    """What a batch cost: the price, the auctioneer's premium, the carriage; None not entered."""

    price: Decimal | None
    premium: Decimal | None = None
    carriage: Decimal | None = None

    @property
    def extras(self) -> Decimal:
        """Premium and carriage together, as far as entered."""
        return (self.premium or Decimal(0)) + (self.carriage or Decimal(0))

    @property
    def total(self) -> Decimal | None:
        """The sum that the tools of the batch carry together; None until the price is entered."""
        return None if self.price is None else self.price + self.extras

    @property
    def paid(self) -> Decimal | None:
        """All that was entered, None where nothing was."""
        if self.price is None and self.premium is None and self.carriage is None:
            return None
        return (self.price or Decimal(0)) + self.extras

    def even_share(self, position: int, tools: int, currency: Currency) -> Decimal | None:
        """Return what the tool at `position` (from 0) of the batch's `tools` carries.

        All shares add up to the total; the odd coins fall to the first tools. None until the
        price is entered.
        """
        if self.total is None or not tools:
            return None
        total = self.total.quantize(currency.smallest, ROUND_HALF_UP)
        return even_shares(total, tools, currency)[position]


def parse_extra(text: str, *, price: Decimal | None, field: str, currency: Currency) -> Decimal:
    """Read an extra on a price: an amount, or a percentage of the price such as 15%.

    Raises InputError naming `field`, also for a percentage without a price to take it of.
    """
    found = _PERCENT.fullmatch(text.strip())
    if found is None:
        return parse_money(text, field=field, currency=currency)
    if price is None:
        raise InputError(
            f"{field}: a percentage needs the price.",
            remedy="Enter the price first, or the premium as an amount.",
            subject=field,
        )
    percent = Decimal(found[1].replace(",", "."))
    return (price * percent / 100).quantize(currency.smallest, ROUND_HALF_UP)


def cost_so_far(
    share: Decimal | None, spent: Iterable[Decimal], currency: Currency
) -> Decimal | None:
    """Return a tool's share of its purchase and what was spent on it since.

    None where neither the share nor anything spent is known.
    """
    work = list(spent)
    if share is None and not work:
        return None
    return ((share or Decimal(0)) + sum(work, Decimal(0))).quantize(
        currency.smallest, ROUND_HALF_UP
    )


def share_out(
    total: Decimal, weights: Sequence[Decimal], currency: Currency
) -> tuple[Decimal, ...]:
    """Return a total split by weight; the shares add up to it to the smallest coin.

    The method of largest remainders (Hamilton's): each share is rounded down, and the coins left
    over go one each to the largest remainders, earlier tools first. `total` and every weight are
    at least 0. Raises ValueError when nothing carries weight.
    """
    whole = sum(map(Fraction, weights), Fraction(0))
    if whole <= 0 or min(weights) < 0 or total < 0:
        raise ValueError(f"weights {weights} cannot share {total}")
    coins = _coins(total, currency)
    exact = [coins * Fraction(weight) / whole for weight in weights]
    counts = [int(share) for share in exact]
    by_remainder = sorted(range(len(exact)), key=lambda place: counts[place] - exact[place])
    for place in by_remainder[: coins - sum(counts)]:
        counts[place] += 1
    return tuple(count * currency.smallest for count in counts)


def _coins(total: Decimal, currency: Currency) -> int:
    coins = Fraction(total) / Fraction(currency.smallest)
    if coins.denominator != 1:
        raise ValueError(f"{total} is finer than the smallest coin, {currency.smallest}")
    return int(coins)


def even_shares(total: Decimal, tools: int, currency: Currency) -> tuple[Decimal, ...]:
    """Return a total split evenly over so many tools; the odd coins fall to the first ones."""
    return share_out(total, (Decimal(1),) * tools, currency) if tools else ()
