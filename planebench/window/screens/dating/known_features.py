"""The clues of the reference tables, searched by any of their words."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import (
    QItemSelectionModel,
    QPointF,
    QRectF,
    QSize,
    Signal,
)
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import (
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.errors import InputError
from planebench.trade.evidence_parsing import KnownFeature
from planebench.window.fonts import text_font
from planebench.window.pieces.field import Field
from planebench.window.pieces.painted_text import TextStyle, paint_text_line
from planebench.window.pieces.row_background import AnyIndex
from planebench.window.pieces.text import Ink, small_label
from planebench.window.pieces.value_rows import VALUE_ROLE, ValueListModel
from planebench.window.screens.dating.dating_model import years_in_words
from planebench.window.tokens import NOTE, tokens_now

_ROW, _SHOWN = 46, 4.5
_KNOWN = {
    "found": "source checked",
    "memory": "source not checked",
    "found and memory": "source checked in part",
}
_UPPER, _LOWER = 18, 37


def told(clue: KnownFeature) -> str:
    """Say what a clue bounds, where, and how it is known."""
    known = _KNOWN.get(clue.status, clue.status)
    bounds = f"dates the {clue.bounds}" if clue.bounds else ""
    market = "" if clue.market == "any" else clue.market
    parts = (years_in_words(clue.not_before, clue.not_after), bounds, market, known)
    return ", ".join(part for part in parts if part)


class _Rows(QStyledItemDelegate):
    """Paints a clue: what it is over what it bounds."""

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(100, _ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        clue, tokens = index.data(VALUE_ROLE), tokens_now()
        if not isinstance(clue, KnownFeature):
            return
        painter.save()
        box = QRectF(option.rect)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, QColor(tokens.chosen))
        left, room = box.left() + 8, box.width() - 16
        clear, small = TextStyle(text_font(), tokens.ink), TextStyle(text_font(NOTE), tokens.muted)
        paint_text_line(painter, QPointF(left, box.top() + _UPPER), clue.clue, room, clear)
        paint_text_line(painter, QPointF(left, box.top() + _LOWER), told(clue), room, small)
        painter.fillRect(QRectF(box.left(), box.bottom(), box.width(), 1), QColor(tokens.line))
        painter.restore()


class ClueFields(QWidget):
    """A search and the clues it finds. Signals: `typed()` when another clue is chosen."""

    typed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._all: list[KnownFeature] = []
        self.search = Field("Search the clues", hint="screw, wording, postal, plastic …")
        self.list = QListView()
        self.list.setAccessibleName("Clues")
        self.list.setUniformItemSizes(True)
        self.list.setItemDelegate(_Rows(self.list))
        self._clues: ValueListModel[KnownFeature] = ValueListModel(_whole, self, tips=True)
        self.list.setModel(self._clues)
        self._nothing = small_label().wrapped()
        self._trouble = small_label(ink=Ink.RUST).wrapped()
        self._trouble.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.search)
        column.addWidget(self.list)
        column.addWidget(self._nothing)
        column.addWidget(self._trouble)
        self.search.typed.connect(self._find)
        self.list.selectionModel().currentChanged.connect(lambda *_: self._edited())

    @property
    def mark(self) -> dict[str, str]:
        """The row chosen, by its id."""
        clue = self._clues.value_at(self.list.currentIndex().row())
        return {} if clue is None else {"row": clue.id}

    def offer(self, clues: Iterable[KnownFeature]) -> None:
        """Offer clues."""
        self._all = sorted(clues, key=lambda clue: (clue.family, clue.clue))
        self._find(self.search.text)

    def show_mark(self, row: str) -> None:
        """Stand on a row."""
        self.search.set_text("")
        self._find("")
        self.show_trouble(None)
        at = next((n for n, clue in enumerate(self._clues.values) if clue.id == row), -1)
        self._stand_on(at)

    def show_trouble(self, error: InputError | None) -> None:
        """Say what is wrong, or take that away."""
        self._trouble.setText("" if error is None else str(error))
        self._trouble.setVisible(error is not None)

    def _find(self, text: str) -> None:
        wanted = text.casefold().split()
        kept = self.mark.get("row", "")
        self._clues.show_values(
            clue for clue in self._all if all(word in _words(clue) for word in wanted)
        )
        found = [clue.id for clue in self._clues.values]
        self._fit_list(text.strip(), len(found))
        if kept in found:
            self._stand_on(found.index(kept))
        elif wanted and found:
            self._stand_on(0)
        self._edited()

    def _fit_list(self, text: str, count: int) -> None:
        """Return the list the height of what is found, or say in its place that nothing is."""
        self.list.setFixedHeight(round(_ROW * min(max(count, 1), _SHOWN)) + 2)
        nothing = bool(text and self._all and not count)
        self._nothing.setText(
            f"Nothing found for “{text}”. The clues are of marks, wording, materials and "
            "fasteners; forms of parts are compared with a type study."
        )
        self._nothing.setVisible(nothing)
        self.list.setVisible(not nothing)

    def _stand_on(self, row: int) -> None:
        index = self._clues.index(row)
        if index.isValid():
            self.list.selectionModel().setCurrentIndex(
                index, QItemSelectionModel.SelectionFlag.ClearAndSelect
            )
            self.list.scrollTo(index)

    def _edited(self) -> None:
        self.show_trouble(None)
        self.typed.emit()


def _whole(clue: KnownFeature) -> str:
    return f"{clue.clue}, {told(clue)}"


def _words(clue: KnownFeature) -> str:
    return f"{clue.clue} {clue.wording} {clue.family} {clue.market} {clue.use}".casefold()
