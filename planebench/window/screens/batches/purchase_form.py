"""The form of a purchase: code, title, day, seller and cost."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from contextlib import suppress
from decimal import Decimal

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.batches import BatchFields
from planebench.catalog.currencies import currency_of
from planebench.catalog.values import Batch
from planebench.errors import InputError
from planebench.trade.days import DayOrder, format_day, parse_day
from planebench.trade.money import format_money
from planebench.trade.purchases import parse_extra
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.field import REST_MS, Field, LabeledControl
from planebench.window.pieces.text import heading, small_label

_FIELDS = (
    ("code", "Code", "LOT8"),
    ("title", "What it was", "House clearance, Orrin Vale"),
    ("bought_on", "Bought on", ""),
    ("bought_from", "From whom", "the seller or the sale"),
    ("price", "Price", "340.00"),
    ("premium", "Premium", "auctioneer’s, if any: an amount or 15%"),
    ("carriage", "Carriage", "if any"),
    ("currency", "Currency", "USD"),
    ("note", "Note", ""),
)
_MONEY = ("price", "premium", "carriage")


class PurchaseForm(EscLeavesWidget):
    """Asks for a purchase, new or existing.

    Signals: `submitted(BatchFields)`; `rested()` when typing pauses and when it is hidden; `left()`
    by Esc or Cancel.
    """

    submitted = Signal(object)
    rested = Signal()

    def __init__(self, today: dt.date, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._today = today
        self._order = DayOrder.MONTH_FIRST
        self._day_reading = small_label()
        self._title = heading("Add a purchase")
        self.fields = {key: Field(name, hint=hint) for key, name, hint in _FIELDS}
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.rested)
        self._blank: dict[str, str] = {}
        self._lay_out()
        for field in self.fields.values():
            field.typed.connect(lambda _text: self._rest.start())
            field.ignore_esc()  # Esc leaves the form, which keeps what was typed

    @property
    def draft(self) -> dict[str, str]:
        """What is typed by field, where it differs from how the form began."""
        texts = {key: field.text for key, field in self.fields.items()}
        return {key: text for key, text in texts.items() if text != self._blank.get(key, "")}

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        self.rested.emit()
        super().hideEvent(event)

    def restore_draft(self, draft: Mapping[str, str]) -> None:
        """Put back what was begun before."""
        for key, text in draft.items():
            if key in self.fields:
                self.fields[key].set_text(text)
        if draft:
            self._title.setText("Add a purchase (draft)")
        self._show_day()

    def set_order(self, order: DayOrder) -> None:
        """Set how days are written and read."""
        self._order = order
        self.fields["bought_on"].line.setPlaceholderText(format_day(self._today, order))

    def begin(self, batch: Batch | None, *, code: str, currency: str) -> None:
        """Show a purchase to edit, or an empty form with a free code."""
        self._title.setText("Add a purchase" if batch is None else f"Edit {batch.code}")
        texts = (
            {"code": code, "currency": currency} if batch is None else _texts(batch, self._order)
        )
        for key, field in self.fields.items():
            field.line.clear()
            field.set_text(texts.get(key, ""))
            field.show_trouble(None)
        self._blank = {key: field.text for key, field in self.fields.items()}
        self._show_day()
        self.fields["code" if batch is None else "title"].line.setFocus()
        self.fields["code"].line.selectAll()

    def _show_day(self) -> None:
        """Say what the day is read as while it is typed."""
        typed = self.fields["bought_on"].text.strip()
        words = ""
        with suppress(InputError):
            if typed:
                day = parse_day(typed, field="Bought on", today=self._today, order=self._order)
                words = f"Reads as {format_day(day, self._order)}"
        self._day_reading.setText(words if words != f"Reads as {typed}" else "")

    def refuse(self, error: InputError) -> None:
        """Show an error under the field it concerns."""
        named = {name.casefold(): key for key, name, _ in _FIELDS}
        key = named.get(error.subject.casefold(), "code")
        self.fields[key].show_trouble(error)
        self.fields[key].line.setFocus()

    def _submit(self) -> None:
        for field in self.fields.values():
            field.show_trouble(None)
        try:
            self.submitted.emit(self._parse())
        except InputError as error:
            self.refuse(error)

    def _parse(self) -> BatchFields:
        text = {key: field.text.strip() for key, field in self.fields.items()}
        currency = currency_of(text["currency"] or "USD")
        names = {key: name for key, name, _ in _FIELDS}
        money: dict[str, Decimal | None] = {}
        for key in _MONEY:
            price = money.get("price")
            money[key] = (
                parse_extra(text[key], price=price, field=names[key], currency=currency)
                if text[key]
                else None
            )
        day = text["bought_on"]
        return BatchFields(
            code=text["code"],
            title=text["title"],
            bought_on=parse_day(day, field="Bought on", today=self._today, order=self._order)
            if day
            else None,
            bought_from=text["bought_from"],
            price=money["price"],
            premium=money["premium"],
            carriage=money["carriage"],
            currency=currency.code,
            note=text["note"],
        )

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(self._title)
        names = {key: name for key, name, _ in _FIELDS}
        for keys in (
            (("code", 1), ("title", 3), ("bought_on", 2), ("bought_from", 3)),
            (("price", 1), ("premium", 1), ("carriage", 1), ("currency", 1), ("note", 4)),
        ):
            row = QHBoxLayout()
            row.setSpacing(12)
            for key, stretch in keys:
                field: QWidget = LabeledControl(names[key], self.fields[key])
                # An error below one field must not push the others down.
                if key == "bought_on":
                    field = _with_line_below(field, self._day_reading)
                row.addWidget(field, stretch, Qt.AlignmentFlag.AlignTop)
                self.fields[key].line.returnPressed.connect(self._submit)
            column.addLayout(row)
        self.fields["bought_on"].typed.connect(lambda _text: self._show_day())
        acts = QHBoxLayout()
        acts.setSpacing(8)
        write = ActionButton("Save", weight=ButtonWeight.MAIN, key="Enter")
        write.clicked.connect(self._submit)
        leave = ActionButton("Cancel", key="Esc")
        leave.clicked.connect(self.left)
        acts.addWidget(write)
        acts.addWidget(leave)
        acts.addStretch(1)
        column.addLayout(acts)


def _with_line_below(control: QWidget, line: QWidget) -> QWidget:
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(2)
    column.addWidget(control)
    column.addWidget(line)
    return holder


def _texts(batch: Batch, order: DayOrder) -> dict[str, str]:
    currency = currency_of(batch.currency)
    texts = {
        "code": batch.code,
        "title": batch.title,
        "bought_on": "" if batch.bought_on is None else format_day(batch.bought_on, order),
        "bought_from": batch.bought_from,
        "currency": batch.currency,
        "note": batch.note,
    }
    for key, amount in zip(_MONEY, (batch.price, batch.premium, batch.carriage), strict=True):
        texts[key] = "" if amount is None else format_money(amount, currency)
    return texts
