"""Section 7: asking price, sale, and comparable sales."""

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
from planebench.trade.days import format_day
from planebench.trade.money import format_money, parse_money
from planebench.trade.terms import ToolStatus
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.screens.tool.form_fields import FormField, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell
from planebench.window.screens.tool.record_wording import counted, format_short_day
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_ASKING, SALE = "asking", "sold"
_MONTH_OR_YEAR = re.compile(r"(?:[^\W\d]{3,12}\.?,? *)?\d{4}|\d{4}-\d{1,2}|\d{1,2}/\d{4}")


class PriceSection(RecordSectionPanel):
    """Asking price, sale price, and one row per comparable."""

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section, record)
        self.add_act("add a comparable")

    @override
    def fill(self) -> None:
        """Show the prices and the price range of comparables."""
        tool = self.shown.tool
        cells = [self._asking_fact()]
        if tool.status is ToolStatus.SOLD or tool.sold_for is not None:
            cells.append(self._sold_fact())
        cells += [self._cell(one) for one in tool.comparables]
        self.rows.show_cells(cells)
        cost = self.shown.cost
        self.section.set_remark("" if cost is None else f"cost to date {self._money(cost)}")

    @override
    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return fields for a price, a sale or a comparable."""
        tool = self.shown.tool
        if key == _ASKING:
            return (
                FormField(
                    key="asking",
                    label="Asking price",
                    hint=self._asking_hint(),
                    value=self._typed(tool.asking),
                    parse=self._parse_price,
                ),
            )
        return self._sale_fields() if key == SALE else self._comparable_fields(key)

    @override
    def form_text(self, key: str) -> FormText:
        """Return the title and actions of the form."""
        if key in {_ASKING, SALE}:
            return FormText(name="asking price" if key == _ASKING else "sale")
        if key == NEW:
            return FormText(name="new comparable", adding="Add comparable")
        return FormText(name="comparable", binning="Delete")

    @override
    def save_field(self, key: str, name: str, value: object) -> None:
        """Save one field of a price, sale or comparable."""
        tool, tools = self.shown.tool.id, self.catalog.tools
        if key in {_ASKING, SALE}:
            fields = cast(ToolFields, {name: value})
            self.record.editor.change(lambda: tools.change(tool, **fields), self.show_error)
            return
        typed_fields, change = (
            cast(ComparableFields, {name: value}),
            self.catalog.comparables.change,
        )
        self.record.editor.change(
            lambda: change(ComparableId(key), **typed_fields), self.show_error
        )

    @override
    def save_new(self, values: dict[str, object]) -> None:
        """Add a comparable."""
        tool, add = self.shown.tool.id, self.catalog.comparables.add
        fields = cast(ComparableFields, {**values, "currency": self.shown.currency.code})
        self.record.editor.add(
            lambda: add(tool, **fields), lambda _new: self.close_saved(), self.show_error
        )

    @override
    def delete(self, key: str) -> None:
        """Delete a comparable."""
        if key not in {"", NEW, _ASKING, SALE}:
            self.record.editor.change(lambda: self.catalog.comparables.bin(ComparableId(key)))

    def _asking_fact(self) -> RowCell:
        tool = self.shown.tool
        like = self._like_words()
        if tool.asking is None:
            return RowCell(key=_ASKING, text="Set an asking price", aside=like)
        said = "; ".join(filter(None, ("asking", like)))
        return RowCell(key=_ASKING, text=self._money(tool.asking), strong=True, aside=said)

    def _sold_fact(self) -> RowCell:
        tool = self.shown.tool
        if tool.sold_for is None:
            return RowCell(key=SALE, text="Sold, price not entered", unknown=True)
        day = format_short_day(tool.sold_on, self.shown.today, self.shown.order)
        to = f"to {tool.sold_to}" if tool.sold_to else ""
        words = " ".join(filter(None, ("sold", day, to)))
        return RowCell(key=SALE, text=self._money(tool.sold_for), strong=True, aside=words)

    def _cell(self, one: Comparable) -> RowCell:
        when = format_short_day(one.sold_on, self.shown.today, self.shown.order)
        own = one.currency == self.shown.currency.code
        price = self._money(one.price) if own else f"{one.price} {one.currency}"
        return RowCell(
            key=one.id,
            deletable=True,
            text=one.what,
            beneath=", ".join(filter(None, (one.where, when, one.note))),
            remark=price,
        )

    def _like_words(self) -> str:
        """Return the number of comparables and their price range."""
        count, span = len(self.shown.tool.comparables), self._like_span()
        if not count:
            return "no comparables yet"
        return ", ".join(filter(None, (counted(count, "comparable"), span)))

    def _asking_hint(self) -> str:
        span = self._like_span()
        return f"comparables sold for {span}" if span else "what you would ask"

    def _like_span(self) -> str:
        """Return the price range of comparables in the tool's currency, empty for none."""
        own = self.shown.currency.code
        span = sold_between(one.price for one in self.shown.tool.comparables if one.currency == own)
        if span is None:
            return ""
        low, high = (self._short_money(price) for price in span)
        return low if low == high else f"{low} to {high}"

    def _sale_fields(self) -> tuple[FormField, ...]:
        tool = self.shown.tool
        day = self.shown.today if tool.sold_on is None else tool.sold_on
        return (
            FormField(
                key="sold_for",
                label="Sold for",
                hint="165",
                value=self._typed(tool.sold_for),
                half_width=True,
                parse=self._parse_price,
            ),
            FormField(
                key="sold_on",
                label="Sold on",
                hint=format_day(day, self.shown.order),
                value="" if tool.sold_on is None else format_day(tool.sold_on, self.shown.order),
                half_width=True,
                parse=self._parse_day,
                reads_as=self.shown.day_read_as,
            ),
            FormField(key="sold_to", label="Buyer", value=tool.sold_to),
        )

    def _comparable_fields(self, key: str) -> tuple[FormField, ...]:
        known = (one for one in self.shown.tool.comparables if one.id == key)
        one = next(known, _blank(self.shown.currency.code))
        return (
            FormField(
                key="what",
                label="What was sold",
                hint="smoothing plane, same model",
                value=one.what,
                parse=_parse_what,
            ),
            FormField(
                key="price",
                label="Price",
                hint="150",
                half_width=True,
                value=self._typed(one.price) if one.id else "",
                parse=self._parse_required_price,
            ),
            FormField(
                key="sold_on",
                label="Sold on",
                hint=format_day(self.shown.today, self.shown.order),
                half_width=True,
                value="" if one.sold_on is None else format_day(one.sold_on, self.shown.order),
                parse=self._parse_comparable_day,
                reads_as=self.shown.day_read_as,
            ),
            FormField(key="where", label="Where", value=one.where, half_width=True),
            FormField(key="note", label="Note", value=one.note, half_width=True),
        )

    def _money(self, amount: Decimal) -> str:
        return format_money(amount, self.shown.currency)

    def _short_money(self, amount: Decimal) -> str:
        """Format without zero cents: $140 rather than $140.00."""
        whole = amount == amount.to_integral_value()
        said = self._money(amount)
        return said.split(".", maxsplit=1)[0] if whole and said[-1].isdigit() else said

    def _typed(self, amount: Decimal | None) -> str:
        return "" if amount is None else self._money(amount)

    def _parse_price(self, typed: str) -> Decimal | None:
        return self._parse_required_price(typed) if typed.strip() else None

    def _parse_required_price(self, typed: str) -> Decimal:
        return parse_money(typed, field="Price", currency=self.shown.currency)

    def _parse_comparable_day(self, typed: str) -> dt.date | None:
        """Parse the day of somebody else's sale, of which often only the month is known."""
        if _MONTH_OR_YEAR.fullmatch(typed.strip()):
            raise InputError(
                f"“{typed.strip()}” is not one day.",
                remedy="Leave this empty and put it in the note.",
                subject="Day",
            )
        return self._parse_day(typed)

    def _parse_day(self, typed: str) -> dt.date | None:
        return self.shown.parse_day(typed)


def _blank(currency: str) -> Comparable:
    """Return the starting values of a new comparable."""
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


def _parse_what(typed: str) -> str:
    if not typed.strip():
        raise InputError(
            "enter what was sold.", remedy="Try smoothing plane, same model.", subject="what"
        )
    return typed.strip()
