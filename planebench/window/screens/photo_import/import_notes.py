"""Notes beside an import: files that were refused, and stock numbers that no tool has."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.import_types import FileOutcome
from planebench.catalog.reference import Kind
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.text import ElidedLabel, Ink, Label

_MOST_SHOWN = 200
_HIGHEST, _NAME_WIDE = 148, 150


class _Whole(QWidget):
    """All rows. Signals: `grown()` when they need another height."""

    grown = Signal()

    @override
    def event(self, event: QEvent) -> bool:
        answered = super().event(event)
        if event.type() is QEvent.Type.LayoutRequest:
            self.grown.emit()
        return answered


class RefusedFiles(QScrollArea):
    """One row per refused file; hidden while there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setAccessibleName("Files that could not be imported")
        self.outcomes: list[FileOutcome] = []
        self._begin()

    def show_outcomes(self, outcomes: Sequence[FileOutcome]) -> None:
        """Show these files and no others."""
        if list(outcomes) == self.outcomes:
            return
        self.outcomes = []
        self._begin()
        self.add(outcomes)

    def add(self, outcomes: Sequence[FileOutcome]) -> None:
        """Show more files below."""
        room = max(0, _MOST_SHOWN - len(self.outcomes))
        for outcome in outcomes[:room]:
            self._rows.addWidget(_row(outcome))
        self.outcomes += outcomes
        count = len(self.outcomes)
        plural = "file" if count == 1 else "files"
        self._note.show_message("", f"{count} {plural} could not be imported", trouble=True)
        self.setVisible(count > 0)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Fit the height to the rows, up to a few of them."""
        whole = self.widget()
        if whole is not None:
            wide, usual = self.viewport().width(), whole.sizeHint().height()
            high = whole.heightForWidth(wide) if whole.hasHeightForWidth() else usual
            # Without this the label reserves the height it would need on the narrowest page.
            whole.setMinimumHeight(high)
            self.setFixedHeight(min(_HIGHEST, high))

    def _begin(self) -> None:
        self._note = MessageNote(trouble=True)
        held = QWidget()
        self._rows = QVBoxLayout(held)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(0)
        self._note.add_below(held)
        whole = _Whole()
        whole.grown.connect(self._fit)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._note)
        column.addStretch(1)
        self.setWidget(whole)
        self.hide()


def _row(outcome: FileOutcome) -> QWidget:
    line = QWidget()
    row = QHBoxLayout(line)
    row.setContentsMargins(0, 0, 0, 0)
    name = ElidedLabel(Path(outcome.file).name)
    name.setFixedWidth(_NAME_WIDE)
    name.setToolTip(outcome.file)
    row.addWidget(name, 0, Qt.AlignmentFlag.AlignTop)
    told = Label(f"{outcome.happened} {outcome.remedy}", ink=Ink.MUTED).wrapped()
    told.setAlignment(Qt.AlignmentFlag.AlignTop)
    row.addWidget(told, 1)
    return line


_MOST_NAMED = 6


class UnknownStockNumbers(QWidget):
    """Lists the stock numbers that no tool had when their photographs were imported.

    `stocks` are those that still need a tool, `aliases` the tools that they may stand for.
    Signals: `make_wanted(str)` with the kind chosen, to add tools and to file what waits for any
    of the numbers; `alias_wanted()` to file it under the tools that the numbers stand for.
    """

    make_wanted = Signal(str)
    alias_wanted = Signal()

    def __init__(self, kinds: Mapping[str, Kind], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stocks: tuple[str, ...] = ()
        self.aliases: Mapping[str, str] = {}
        self._note = MessageNote()
        names = [(kind.code, kind.name) for kind in kinds.values()]
        self.kind = DropDown("Kind of the new tools", names, holds="smoothing")
        self._make = ActionButton("Add these tools")
        self._make.clicked.connect(lambda: self.make_wanted.emit(self.kind.held))
        self.use_aliases = ActionButton("")
        self.use_aliases.clicked.connect(self.alias_wanted)
        self._lay_out()
        self.hide()

    def _lay_out(self) -> None:
        held = QWidget()
        rows = QVBoxLayout(held)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(8)
        row = QHBoxLayout()
        rows.addLayout(row)
        rows.addWidget(self.use_aliases, 0, Qt.AlignmentFlag.AlignLeft)
        row.setSpacing(8)
        row.addWidget(self.kind)
        row.addWidget(self._make)
        row.addStretch(1)
        self._note.add_below(held)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._note)

    def show_numbers(
        self,
        stocks: Sequence[str],
        *,
        written: Collection[str] = frozenset(),
        aliases: Mapping[str, str] | None = None,
    ) -> None:
        """List the numbers, or hide if there are none; those `written` have a tool by now."""
        self.stocks = tuple(stock for stock in stocks if stock not in written)
        self.aliases = aliases or {}
        self.kind.setVisible(bool(self.stocks))
        self.use_aliases.set_words(_alias_words(self.aliases))
        self.use_aliases.setVisible(bool(self.stocks and self.aliases))
        if self.stocks:
            self._ask_for_tools()
        else:
            self._say_added(stocks)
        self.setVisible(bool(stocks))

    def _ask_for_tools(self) -> None:
        count = len(self.stocks)
        self._note.show_message(
            "Their photographs are waiting. Add the tools to the batch in their numbers, all of "
            "one kind; you can change each later. Or choose their tools below.",
            f"No tool here has the {'number' if count == 1 else 'numbers'} {_named(self.stocks)}",
        )
        self._make.set_words("Add this tool" if count == 1 else f"Add these {count} tools")

    def _say_added(self, stocks: Sequence[str]) -> None:
        one = len(stocks) == 1
        self._note.show_message(
            "You have added it since; the photographs of its card are still waiting."
            if one
            else "You have added them since; the photographs of their cards are still waiting.",
            f"{_named(stocks)} {'is' if one else 'are'} in the catalog now",
        )
        self._make.set_words("File by the cards")


def _named(stocks: Sequence[str]) -> str:
    return ", ".join(stocks[:_MOST_NAMED]) + (" …" if len(stocks) > _MOST_NAMED else "")


def _alias_words(aliases: Mapping[str, str]) -> str:
    """Return what the button says: "LOT7-001 is LOT1-001, and so on"."""
    if not aliases:
        return ""
    card, tool = next(iter(sorted(aliases.items())))
    return f"{card} is {tool}" + (", and so on" if len(aliases) > 1 else "")
