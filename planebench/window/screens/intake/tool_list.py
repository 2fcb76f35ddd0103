"""What came to which tool, a row a tool; only the rows that are seen are drawn."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractListModel, QObject, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QFrame, QListView, QStyledItemDelegate, QStyleOptionViewItem, QWidget
from typing_extensions import override

from planebench.window.fonts import text_font, title_font
from planebench.window.pieces.row_background import AnyIndex, paint_row_background
from planebench.window.screens.intake.by_tool import ToolCount
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import NOTE, SECTION, TEXT, TOOL_ROW, tokens_now

_COUNT_ROLE = Qt.ItemDataRole.UserRole
_NAME_AT = 108
_GAP = 12


class _Counts(QAbstractListModel):
    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._counts: list[ToolCount] = []

    def show_counts(self, counts: Sequence[ToolCount]) -> None:
        fresh = list(counts)
        if len(fresh) != len(self._counts):
            self.beginResetModel()
            self._counts = fresh
            self.endResetModel()
        elif fresh != self._counts:
            self._counts = fresh
            self.dataChanged.emit(self.index(0), self.index(len(fresh) - 1))

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._counts)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self._counts):
            return None
        count = self._counts[index.row()]
        if role == _COUNT_ROLE:
            return count
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            said = (count.stock, count.title, count.told, count.remark)
            return ", ".join(word for word in said if word)
        return None


class _Painter(QStyledItemDelegate):
    def __init__(self, thumbnails: Thumbnails, parent: QObject) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(200, TOOL_ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        count = index.data(_COUNT_ROLE)
        box = QRectF(option.rect)
        painter.save()
        paint_row_background(painter, box, option.state)
        if isinstance(count, ToolCount):
            pixmap = None if count.latest is None else self._thumbnails.of(count.latest)
            paint_cover(painter, QRectF(box.left() + 4, box.top() + 8, 92, 60), pixmap)
            _write_row(painter, box, count)
        painter.restore()


class ToolList(QListView):
    """The tools of an intake, the one that got a photograph last first."""

    def __init__(self, thumbnails: Thumbnails, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("What came to which tool")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._counts = _Counts(self)
        self.setModel(self._counts)
        self.setItemDelegate(_Painter(thumbnails, self))
        thumbnails.ready.connect(lambda _photo: self.viewport().update())

    def show_counts(self, counts: Sequence[ToolCount]) -> None:
        """Show these tools in this order."""
        self._counts.show_counts(counts)


def _write_row(painter: QPainter, box: QRectF, count: ToolCount) -> None:
    tokens = tokens_now()
    left = box.left() + _NAME_AT
    wide = box.width() - _NAME_AT
    name, number = wide * 0.5 - _GAP, wide * 0.5 - _GAP
    beside = left + name + _GAP
    muted = tokens.muted
    title_at = 50 if count.stock else 44
    _write(painter, QPointF(left, box.top() + 28), name, (count.stock, text_font(NOTE), muted))
    shown = (count.title, title_font(SECTION), tokens.ink)
    _write(painter, QPointF(left, box.top() + title_at), name, shown)
    counted = (count.told, text_font(TEXT), tokens.ink)
    _write(painter, QPointF(beside, box.top() + 28), number, counted)
    painter.setFont(text_font(NOTE))
    painter.setPen(QColor(muted))
    below = QRectF(beside, box.top() + 36, number, box.height() - 38)
    painter.drawText(below, int(Qt.TextFlag.TextWordWrap), count.remark)


def _write(painter: QPainter, at: QPointF, width: float, said: tuple[str, QFont, str]) -> None:
    text, font, ink = said
    painter.setFont(font)
    painter.setPen(QColor(ink))
    shown = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, width)
    painter.drawText(at, shown)
