"""planebench price: what a tool cost, what it must bring, and what like tools sold for."""

from __future__ import annotations

import datetime as dt
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from planebench.catalog.catalog import Catalog
from planebench.catalog.currencies import currency_of
from planebench.catalog.ids import ToolId
from planebench.catalog.shipping_tables import dimensional_rules
from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import Comparable, Tool
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for, tool_of
from planebench.errors import InputError
from planebench.trade.angles_and_weights import parse_grams
from planebench.trade.comparables import (
    FEWEST,
    AdjustingRule,
    PriceCenter,
    Sale,
    adjust_sale,
    at_rate,
    by_currency,
    price_center,
)
from planebench.trade.fees import Channel, FeeTier
from planebench.trade.money import Currency, format_money
from planebench.trade.pricing import (
    PriceOutcome,
    ToolCost,
    break_even,
    outcome_of,
    price_for_margin,
)
from planebench.trade.shipping import Parcel, ParcelUnit, charged_weight, girth_mm
from planebench.trade.units import LengthUnit, parse_length


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument("stock", metavar="STOCK", help="the tool’s stock number")
    parser.add_argument("--rate", default="0", metavar="AMOUNT", help="what an hour is worth")
    parser.add_argument("--fee", default="0", metavar="PERCENT", help="the channel’s percentage")
    parser.add_argument("--fixed-fee", default="0", metavar="AMOUNT", help="its fee per sale")
    parser.add_argument("--postage", default="0", metavar="AMOUNT", help="what sending it costs")
    parser.add_argument(
        "--per-year",
        default="0",
        metavar="PERCENT",
        help="how much like tools rose in price per year since their sale",
    )
    parser.add_argument(
        "--exchange",
        action="append",
        default=[],
        metavar="CODE=RATE",
        help="what one unit of another currency is worth here, to show its sales beside",
    )
    parser.add_argument(
        "--parcel",
        nargs=4,
        metavar=("LENGTH", "WIDTH", "HEIGHT", "WEIGHT"),
        help="the packed box, as you measured it: 12in 10in 6in 4lb, or 300 250 150 1800g",
    )
    parser.add_argument(
        "--rule",
        choices=sorted(dimensional_rules()),
        default="in139",
        help="how the carrier turns size into weight",
    )
    parser.add_argument("--margin", metavar="PERCENT", help="the share of the price to keep")


def _run(args: Namespace) -> CommandAnswer:
    channel = Channel(
        name="This channel",
        tiers=(FeeTier(percent=_decimal(args.fee, "--fee")),),
        fixed=_decimal(args.fixed_fee, "--fixed-fee"),
    )
    with open_for(args) as catalog:
        tool = catalog.tools.one(tool_of(catalog, args.stock))
        currency = currency_of(catalog.batches.one(tool.batch).currency)
        cost = tool_cost(catalog, tool, postage=_decimal(args.postage, "--postage"))
        today = catalog.now.date()
    data: dict[str, object] = {"stock": tool.stock_number, "currency": currency.code}
    data |= _cost_data(cost) | _prices(args, cost, channel, currency)
    asked = None if tool.asking is None else outcome_of(tool.asking, cost, channel, currency)
    data["asking"] = None if asked is None else _outcome_data(asked)
    data["comparables"] = _comparables(tool, currency, args, today)
    lines = list(_lines(data, currency))
    if args.parcel is not None:
        data["parcel"] = parcel = _parcel(args)
        lines.append(f"Charged weight: {parcel['charged']} {parcel['unit']}.")
    return CommandAnswer(data=data, lines=tuple(lines))


def tool_cost(catalog: Catalog, tool: Tool, *, postage: Decimal = Decimal(0)) -> ToolCost:
    """Return what a tool has cost so far: its share of its batch, materials, minutes."""
    batch = catalog.batches.one(tool.batch)
    siblings = catalog.tools.find(ToolFilter(batch=tool.batch))
    return ToolCost(
        share=batch.cost.even_share(
            _position(tool.id, siblings), len(siblings), currency_of(batch.currency)
        ),
        materials=sum((work.cost or Decimal(0) for work in tool.work), Decimal(0)),
        postage=postage,
        minutes=sum(work.minutes or 0 for work in tool.work),
    )


def _position(tool: ToolId, siblings: tuple[ToolId, ...]) -> int:
    return siblings.index(tool)


def _decimal(text: str, name: str) -> Decimal:
    try:
        value = Decimal(text)
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite() or value < 0:
        shown = f"{name}: “{text}” is not an amount."
        example = text.replace(",", ".") if "," in text else "12.50"
        raise InputError(shown, remedy=f"Try {example}.", subject=name)
    return value


def _parcel(args: Namespace) -> dict[str, object]:
    sides = [
        parse_length(text, field="--parcel", default_unit=LengthUnit.MILLIMETER).mm
        for text in args.parcel[:3]
    ]
    parcel = Parcel(
        length_mm=sides[0],
        width_mm=sides[1],
        height_mm=sides[2],
        grams=parse_grams(args.parcel[3], field="--parcel"),
    )
    charged = charged_weight(parcel, dimensional_rules()[args.rule])
    return {
        "charged": f"{charged.weight:f}",
        "unit": "lb" if charged.unit is ParcelUnit.IN_LB else "kg",
        "by_size": charged.by_size,
        "length_and_girth_mm": f"{girth_mm(parcel):f}",
    }


def _cost_data(cost: ToolCost) -> dict[str, object]:
    return {
        "share": None if cost.share is None else f"{cost.share:f}",
        "materials": f"{cost.materials:f}",
        "postage": f"{cost.postage:f}",
        "minutes": cost.minutes,
        "paid": f"{cost.paid:f}",
        "partial": cost.is_partial,
    }


def _prices(
    args: Namespace, cost: ToolCost, channel: Channel, currency: Currency
) -> dict[str, object]:
    rate = _decimal(args.rate, "--rate")
    found: dict[str, object] = {
        "break_even": f"{break_even(cost, channel, currency):f}",
        "break_even_with_hours": f"{break_even(cost, channel, currency, rate=rate):f}",
        "price_for_margin": None,
    }
    if args.margin is not None:
        margin = _decimal(args.margin, "--margin")
        price = price_for_margin(cost, channel, currency, margin_percent=margin)
        found["price_for_margin"] = f"{price:f}"
    return found


def _outcome_data(outcome: PriceOutcome) -> dict[str, object]:
    return {
        "price": f"{outcome.price:f}",
        "fee": f"{outcome.fee:f}",
        "left": f"{outcome.left:f}",
        "per_hour": None if outcome.per_hour is None else f"{outcome.per_hour:f}",
    }


def _comparables(
    tool: Tool, currency: Currency, args: Namespace, today: dt.date
) -> list[dict[str, object]]:
    """Return the center of like tools' prices by currency, each sale brought to today’s prices."""
    rule = AdjustingRule(per_year=_decimal(args.per_year, "--per-year"))
    rates = dict(_rate(text) for text in args.exchange)
    answers: list[dict[str, object]] = []
    for code, own in by_currency(_sale(one, today) for one in tool.comparables).items():
        of_it = currency_of(code)
        adjusted = [adjust_sale(sale, rule, of_it, finish_percent=None).price for sale in own]
        center = price_center(adjusted, of_it)
        answer: dict[str, object] = {"currency": code, "count": len(own), "too_few": center is None}
        answer |= _center_data(center)
        if center is not None and code in rates:
            answer["median_here"] = f"{at_rate(center.median, rates[code], currency):f}"
        answers.append(answer)
    return answers


def _sale(one: Comparable, today: dt.date) -> Sale:
    days = 0 if one.sold_on is None else max((today - one.sold_on).days, 0)
    years = (Decimal(days) / Decimal("365.25")).quantize(Decimal("0.1"))
    return Sale(price=one.price, currency=one.currency, years_ago=years)


def _rate(text: str) -> tuple[str, Decimal]:
    code, _, rate = text.partition("=")
    return code.strip().upper(), _decimal(rate, "--exchange")


def _center_data(center: PriceCenter | None) -> dict[str, object]:
    if center is None:
        return {"median": None, "low": None, "high": None}
    return {"median": f"{center.median:f}", "low": f"{center.low:f}", "high": f"{center.high:f}"}


def _lines(data: dict[str, object], currency: Currency) -> Iterator[str]:
    def money(name: str) -> str:
        return format_money(Decimal(str(data[name])), currency)

    partial = " so far; the purchase is not entered" if data["partial"] else ""
    yield f"Paid: {money('paid')}{partial}."
    yield f"Break-even: {money('break_even')}, with hours {money('break_even_with_hours')}."
    if data["price_for_margin"] is not None:
        yield f"For that margin: {money('price_for_margin')}."
    comparables = data["comparables"]
    for one in comparables if isinstance(comparables, list) else []:
        few = f"{one['count']} comparables in {one['currency']}, too few for a range"
        yield (
            f"{few} (it takes {FEWEST})."
            if one["too_few"]
            else f"{one['count']} comparables in {one['currency']}: median {one['median']}, "
            f"{one['low']} to {one['high']}."
        )


COMMAND = Command(
    name="price",
    summary="Show what a tool cost, what it must bring, and what like tools sold for.",
    arguments=_arguments,
    run=_run,
)
