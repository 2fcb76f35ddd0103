"""Section 7: the price asked and fetched, and the sales of like tools by which it is judged."""

from __future__ import annotations

import datetime as dt
import re
from decimal import Decimal
from typing import cast

from typing_extensions import override

from planebench.catalog.entries import ComparableFields
from planebench.catalog.ids import ComparableId
from planebench.catalog.tools import ToolFields
from planebench.catalog.values import Comparable
from planebench.errors import InputError
from planebench.trade.comparables import sold_between
from planebench.trade.days import format_day, parse_day
from planebench.trade.money import format_money, parse_money
from planebench.trade.terms import ToolStatus
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.screens.tool.entry_form import Ask, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import counted, short_day
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_ASKING, _SOLD = "asking", "sold"
_MONTH_OR_YEAR = re.compile(r"(?:[^\W\d]{3,12}\.?,? *)?\d{4}|\d{4}-\d{1,2}|\d{1,2}/\d{4}")


class Price(RecordSectionPanel):
    """The price asked, what it sold for, and one line a comparable."""

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place, bench)
        self.add_title_button("add a comparable")

    @override
    def fill(self) -> None:
        """Show the prices, and between which ones like tools were sold."""
        tool = self.shown.tool
        facts = [self._asking_fact()]
        if tool.status is ToolStatus.SOLD or tool.sold_for is not None:
            facts.append(self._sold_fact())
        facts += [self._fact(one) for one in tool.comparables]
        self.rows.show_facts(facts)
        cost = self.shown.cost
        self.place.set_remark("" if cost is None else f"cost to date {self._money(cost)}")

    @override
    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Ask for a price, or for a sale of a like tool."""
        tool = self.shown.tool
        if key == _ASKING:
            return (
                Ask(
                    key="asking",
                    label="Price asked",
                    hint=self._asking_hint(),
                    holds=self._typed(tool.asking),
                    read=self._read_price,
                ),
            )
        return self._sold_asks() if key == _SOLD else self._comparable_asks(key)

    @override
    def text_for(self, key: str) -> FormText:
        """Say what the form is for."""
        if key in {_ASKING, _SOLD}:
            return FormText(name="price asked" if key == _ASKING else "sale")
        if key == NEW:
            return FormText(name="new comparable", adding="Add it")
        return FormText(name="comparable", binning="Into the bin")

    @override
    def keep(self, key: str, name: str, value: object) -> None:
        """Write one thing of a price or a comparable."""
        tool, tools = self.shown.tool.id, self.catalog.tools
        if key in {_ASKING, _SOLD}:
            fields = cast(ToolFields, {name: value})
            self.bench.hand.change(lambda: tools.change(tool, **fields), self.refused)
            return
        given, change = cast(ComparableFields, {name: value}), self.catalog.comparables.change
        self.bench.hand.change(lambda: change(ComparableId(key), **given), self.refused)

    @override
    def write_new(self, values: dict[str, object]) -> None:
        """Add a sale of a like tool."""
        tool, add = self.shown.tool.id, self.catalog.comparables.add
        fields = cast(ComparableFields, {**values, "currency": self.shown.currency.code})
        self.bench.hand.add(lambda: add(tool, **fields), lambda _new: self.written(), self.refused)

    @override
    def put_away(self, key: str) -> None:
        """Put a comparable in the bin."""
        if key not in {"", NEW, _ASKING, _SOLD}:
            self.bench.hand.change(lambda: self.catalog.comparables.bin(ComparableId(key)))

    def _asking_fact(self) -> RowCell:
        tool = self.shown.tool
        like = self._like_words()
        if tool.asking is None:
            return RowCell(key=_ASKING, text="Set the price asked", aside=like)
        said = "; ".join(filter(None, ("asked", like)))
        return RowCell(key=_ASKING, text=self._money(tool.asking), strong=True, aside=said)

    def _sold_fact(self) -> RowCell:
        tool = self.shown.tool
        if tool.sold_for is None:
            return RowCell(key=_SOLD, text="Sold, price not entered", unknown=True)
        day = short_day(tool.sold_on, self.shown.today)
        to = f"to {tool.sold_to}" if tool.sold_to else ""
        words = " ".join(filter(None, ("fetched", day, to)))
        return RowCell(key=_SOLD, text=self._money(tool.sold_for), strong=True, aside=words)

    def _fact(self, one: Comparable) -> RowCell:
        when = short_day(one.sold_on, self.shown.today)
        own = one.currency == self.shown.currency.code
        price = self._money(one.price) if own else f"{one.price} {one.currency}"
        return RowCell(
            key=one.id,
            text=one.what,
            beneath=", ".join(filter(None, (one.where, when, one.note))),
            remark=price,
        )

    def _like_words(self) -> str:
        """Say how many like tools were sold and between which prices."""
        count, span = len(self.shown.tool.comparables), self._like_span()
        if not count:
            return "no comparables yet"
        return ", ".join(filter(None, (counted(count, "comparable"), span)))

    def _asking_hint(self) -> str:
        span = self._like_span()
        return f"like tools fetched {span}" if span else "as you would offer it"

    def _like_span(self) -> str:
        """Say between which prices like tools were sold, in the currency of the tool."""
        own = self.shown.currency.code
        span = sold_between(one.price for one in self.shown.tool.comparables if one.currency == own)
        if span is None:
            return ""
        low, high = (self._short_money(price) for price in span)
        return low if low == high else f"{low} to {high}"

    def _sold_asks(self) -> tuple[Ask, ...]:
        tool = self.shown.tool
        day = self.shown.today if tool.sold_on is None else tool.sold_on
        return (
            Ask(
                key="sold_for",
                label="Sold for",
                hint="165",
                holds=self._typed(tool.sold_for),
                half=True,
                read=self._read_price,
            ),
            Ask(
                key="sold_on",
                label="On",
                hint=format_day(day),
                holds="" if tool.sold_on is None else format_day(tool.sold_on),
                half=True,
                read=self._read_day,
            ),
            Ask(key="sold_to", label="To whom", holds=tool.sold_to),
        )

    def _comparable_asks(self, key: str) -> tuple[Ask, ...]:
        known = (one for one in self.shown.tool.comparables if one.id == key)
        one = next(known, _blank(self.shown.currency.code))
        return (
            Ask(
                key="what",
                label="What was sold",
                hint="smoothing plane, same model",
                holds=one.what,
                read=_read_what,
            ),
            Ask(
                key="price",
                label="Price",
                hint="150",
                half=True,
                holds=self._typed(one.price) if one.id else "",
                read=self._read_needed_price,
            ),
            Ask(
                key="sold_on",
                label="Sold on",
                hint="14 March 2026",
                half=True,
                holds="" if one.sold_on is None else format_day(one.sold_on),
                read=self._read_sale_day,
            ),
            Ask(key="where", label="Where", holds=one.where, half=True),
            Ask(key="note", label="Note", holds=one.note, half=True),
        )

    def _money(self, amount: Decimal) -> str:
        return format_money(amount, self.shown.currency)

    def _short_money(self, amount: Decimal) -> str:
        """Leave out idle cents: $140 rather than $140.00."""
        whole = amount == amount.to_integral_value()
        said = self._money(amount)
        return said.split(".", maxsplit=1)[0] if whole and said[-1].isdigit() else said

    def _typed(self, amount: Decimal | None) -> str:
        return "" if amount is None else self._money(amount)

    def _read_price(self, typed: str) -> Decimal | None:
        return self._read_needed_price(typed) if typed.strip() else None

    def _read_needed_price(self, typed: str) -> Decimal:
        return parse_money(typed, field="Price", currency=self.shown.currency)

    def _read_sale_day(self, typed: str) -> dt.date | None:
        """Read the day of somebody else's sale, of which often only the month is known."""
        if _MONTH_OR_YEAR.fullmatch(typed.strip()):
            raise InputError(
                f"“{typed.strip()}” is not one day.",
                remedy="Leave this empty, and write it as the note.",
                subject="Day",
            )
        return self._read_day(typed)

    def _read_day(self, typed: str) -> dt.date | None:
        return parse_day(typed, field="Day", today=self.shown.today) if typed.strip() else None


def _blank(currency: str) -> Comparable:
    """Return what a new comparable is until something is said of it."""
    return Comparable(
        id=ComparableId(""),
        version=0,
        what="",
        price=Decimal(0),
        currency=currency,
        sold_on=None,
        where="",
        note="",
    )


def _read_what(typed: str) -> str:
    if not typed.strip():
        raise InputError(
            "say what was sold.", remedy="Try smoothing plane, same model.", subject="what"
        )
    return typed.strip()
