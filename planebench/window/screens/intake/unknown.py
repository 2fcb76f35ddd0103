"""Cards whose stock number no tool has: offers to make those tools."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.reference import Kind
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.lines import MessageNote

_MOST_NAMED = 6


class UnknownNumbers(QWidget):
    """Names the unknown numbers, those that no tool had when their photographs came in.

    `stocks` are those for which tools are still to be made. Signals: `make_wanted(str)` with the
    kind chosen, to make them and to file what waits for any of the numbers.
    """

    make_wanted = Signal(str)

    def __init__(self, kinds: Mapping[str, Kind], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stocks: tuple[str, ...] = ()
        self._note = MessageNote()
        names = [(kind.code, kind.name) for kind in kinds.values()]
        self.kind = DropDown("Kind of the new tools", names, holds="smoothing")
        self._make = ActionButton("Make these tools")
        self._make.clicked.connect(lambda: self.make_wanted.emit(self.kind.held))
        held = QWidget()
        row = QHBoxLayout(held)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.kind)
        row.addWidget(self._make)
        row.addStretch(1)
        self._note.lay_in(held)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._note)
        self.hide()

    def show_numbers(
        self, stocks: Sequence[str], *, written: Collection[str] = frozenset()
    ) -> None:
        """Name the numbers, or hide when there are none; tools of those `written` are there now."""
        self.stocks = tuple(stock for stock in stocks if stock not in written)
        self.kind.setVisible(bool(self.stocks))
        count = len(self.stocks)
        if count:
            self._note.say(
                "Their photographs wait. Make the tools, all of one kind, in the batch that their"
                " numbers speak of; each can be changed later. Or say below which tools they show.",
                f"No tool here has the {'number' if count == 1 else 'numbers'} "
                f"{_named(self.stocks)}",
            )
            self._make.set_words("Make this tool" if count == 1 else f"Make these {count} tools")
        else:
            self._note.say(
                "You wrote it down since; the photographs of its card still wait."
                if len(stocks) == 1
                else "You wrote them down since; the photographs of their cards still wait.",
                f"{_named(stocks)} {'is' if len(stocks) == 1 else 'are'} in the catalog now",
            )
            self._make.set_words("File them by their cards")
        self.setVisible(bool(stocks))


def _named(stocks: Sequence[str]) -> str:
    return ", ".join(stocks[:_MOST_NAMED]) + (" …" if len(stocks) > _MOST_NAMED else "")
