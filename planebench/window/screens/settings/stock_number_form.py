"""A small form for stock numbers: beginning, text, digits and first number, with an example."""

from __future__ import annotations

from itertools import islice

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.errors import InputError
from planebench.trade.stock import (
    FIRST_PATTERN,
    StockPattern,
    check_pattern,
    split_pattern,
    stock_numbers,
)
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.text import small_label

_BATCH, _TEXT, _CUSTOM = "batch", "text", "custom"
_DIGITS = tuple(
    (str(count), "no zeros" if count == 1 else f"{count} digits") for count in range(1, 7)
)
_EXAMPLES = 2
_EXAMPLE_BATCH = "LOT1"


class StockNumberForm(QWidget):
    """Edits the pattern of stock numbers.

    A pattern of another form than "batch code, text, number" is shown whole in a field of its own.
    Signals: `changed(str, int)` with a valid pattern and the first number.
    """

    changed = Signal(str, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.begins = DropDown("Stock number begins with")
        self.text = Field("Text before the number")
        self.digits = DropDown("Digits of the number", _DIGITS)
        self.first = Field("First number")
        self.custom = Field("Custom pattern")
        self.example = small_label()
        self._batch, self._taken = _EXAMPLE_BATCH, frozenset[str]()
        self._lay_out()
        self.begins.chosen.connect(lambda _key: self._edited())
        self.digits.chosen.connect(lambda _key: self._edited())
        for field in (self.text, self.first, self.custom):
            field.typed.connect(lambda _text: self._show_example())
            field.kept.connect(lambda _text: self._edited())

    def show_pattern(self, pattern: str, first: int) -> None:
        """Show a stored pattern and first number."""
        parts = split_pattern(pattern)
        choices = [(_BATCH, "batch code"), (_TEXT, "text")]
        if parts is None:
            choices.append((_CUSTOM, "custom pattern"))
            self.custom.set_text(pattern)
            parts = split_pattern(FIRST_PATTERN)
            self.begins.offer(choices, holds=_CUSTOM)
        else:
            self.begins.offer(choices, holds=_BATCH if parts.with_batch else _TEXT)
        if parts is not None:
            self.text.set_text(parts.text)
            self.digits.hold(str(parts.digits))
        self.first.set_text(str(first))
        self._show_example()

    def show_batch(self, code: str, taken: frozenset[str]) -> None:
        """Use a batch code and the stock numbers already taken for the example."""
        self._batch, self._taken = code, taken
        self._show_example()

    @property
    def pattern(self) -> str:
        """The pattern as it is typed now."""
        if self.begins.held == _CUSTOM:
            return self.custom.text.strip()
        return StockPattern(
            with_batch=self.begins.held == _BATCH,
            text=self.text.text.strip(),
            digits=int(self.digits.held or 1),
        ).pattern

    def _first(self) -> int:
        typed = self.first.text.strip()
        if not typed.isdecimal() or not int(typed):
            raise InputError(
                f"“{typed}” is not a number to start at.",
                remedy="Enter a whole number such as 1.",
                subject="first number",
            )
        return int(typed)

    def _edited(self) -> None:
        self._show_example()
        pattern_field = self.custom if self.begins.held == _CUSTOM else self.text
        try:
            check_pattern(self.pattern)
        except InputError as error:
            pattern_field.show_trouble(error)
            return
        pattern_field.show_trouble(None)
        try:
            self.changed.emit(self.pattern, self._first())
        except InputError as error:
            self.first.show_trouble(error)

    def _show_example(self) -> None:
        custom = self.begins.held == _CUSTOM
        self._custom_row.setVisible(custom)
        for widget in (self._text_box, self._digits_box):
            widget.setVisible(not custom)
        try:
            numbers = stock_numbers(self.pattern, self._batch, self._taken, start=self._first())
            first, second = islice(numbers, _EXAMPLES)
        except InputError:
            self.example.setText("No example: the pattern is not complete.")
            return
        self.example.setText(f"Next in {self._batch}: {first}, then {second}")

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        row = QHBoxLayout()
        row.setSpacing(8)
        self._text_box = LabeledControl("then this text", self.text)
        self._digits_box = LabeledControl("number with", self.digits)
        top = Qt.AlignmentFlag.AlignTop
        row.addWidget(LabeledControl("begins with", self.begins), 2, top)
        row.addWidget(self._text_box, 2, top)
        row.addWidget(self._digits_box, 2, top)
        row.addWidget(LabeledControl("first number", self.first), 1, top)
        column.addLayout(row)
        self._custom_row = LabeledControl(
            "pattern: {batch} is the batch code, {n} the number, {n:03} three digits", self.custom
        )
        column.addWidget(self._custom_row)
        column.addWidget(self.example)
