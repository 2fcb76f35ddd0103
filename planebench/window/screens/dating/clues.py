"""The clues of the reference tables, searched by any of their words."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFontMetricsF, QPainter
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
from planebench.trade.dating_evidence import Clue
from planebench.window.fonts import words
from planebench.window.pieces.field import Field
from planebench.window.pieces.words import Ink, note
from planebench.window.screens.dating.model import years_in_words
from planebench.window.tokens import NOTE, TEXT, tokens_now

_ROW, _SHOWN = 46, 4.5
_CLUE = Qt.ItemDataRole.UserRole
AnyIndex = QModelIndex | QPersistentModelIndex


class _Clues(QAbstractListModel):
    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.clues: list[Clue] = []

    def show_clues(self, clues: Iterable[Clue]) -> None:
        self.beginResetModel()
        self.clues = list(clues)
        self.endResetModel()

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.clues)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        clue = self.clues[index.row()]
        if role == _CLUE:
            return clue
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return f"{clue.clue}, {told(clue)}"
        return None


def told(clue: Clue) -> str:
    """Say what a clue bounds, where, and how it is known."""
    known = {"found": "found", "memory": "from memory"}.get(clue.status, clue.status)
    bounds = f"bounds the {clue.bounds}" if clue.bounds else ""
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
        clue, tokens = index.data(_CLUE), tokens_now()
        if not isinstance(clue, Clue):
            return
        painter.save()
        box = QRectF(option.rect)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, QColor(tokens.chosen))
        rows = (
            (clue.clue, words(TEXT), tokens.ink, 4),
            (told(clue), words(NOTE), tokens.muted, 23),
        )
        for text, font, color, top in rows:
            room = QRectF(box.left() + 8, box.top() + top, box.width() - 16, 20)
            shown = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, room.width())
            painter.setFont(font)
            painter.setPen(QColor(color))
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, shown)
        painter.fillRect(QRectF(box.left(), box.bottom(), box.width(), 1), QColor(tokens.line))
        painter.restore()


class ClueFields(QWidget):
    """A search and the clues it finds. Signals: `typed()` when another clue is chosen."""

    typed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._all: list[Clue] = []
        self.search = Field("Search the clues", hint="screw, wording, postal, plastic …")
        self.list = QListView()
        self.list.setAccessibleName("Clues")
        self.list.setUniformItemSizes(True)
        self.list.setItemDelegate(_Rows(self.list))
        self._clues = _Clues(self)
        self.list.setModel(self._clues)
        self._trouble = note(ink=Ink.RUST).wrapped()
        self._trouble.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.search)
        column.addWidget(self.list)
        column.addWidget(self._trouble)
        self.search.typed.connect(self._find)
        self.list.selectionModel().currentChanged.connect(lambda *_: self._edited())

    @property
    def mark(self) -> dict[str, str]:
        """The row chosen, by its id."""
        row = self.list.currentIndex().row()
        return {"row": self._clues.clues[row].id} if 0 <= row < len(self._clues.clues) else {}

    def offer(self, clues: Iterable[Clue]) -> None:
        """Offer clues."""
        self._all = sorted(clues, key=lambda clue: (clue.family, clue.clue))
        self._find(self.search.text)

    def show_mark(self, row: str) -> None:
        """Stand on a row."""
        self.search.set_text("")
        self._find("")
        self.show_trouble(None)
        at = next((n for n, clue in enumerate(self._clues.clues) if clue.id == row), -1)
        self._stand_on(at)

    def show_trouble(self, error: InputError | None) -> None:
        """Say what is wrong, or take that away."""
        self._trouble.setText("" if error is None else str(error))
        self._trouble.setVisible(error is not None)

    def _find(self, text: str) -> None:
        wanted = text.casefold().split()
        kept = self.mark.get("row", "")
        self._clues.show_clues(
            clue for clue in self._all if all(word in _words(clue) for word in wanted)
        )
        found = [clue.id for clue in self._clues.clues]
        self.list.setFixedHeight(round(_ROW * min(max(len(found), 1), _SHOWN)) + 2)
        if kept in found:
            self._stand_on(found.index(kept))
        elif wanted and found:
            self._stand_on(0)
        self._edited()

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


def _words(clue: Clue) -> str:
    return f"{clue.clue} {clue.wording} {clue.family} {clue.market} {clue.use}".casefold()
