"""How a purchase's row is drawn."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractListModel,
    QObject,
    QPointF,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem
from typing_extensions import override

from planebench.catalog.currencies import currency_of
from planebench.catalog.ids import PhotographId
from planebench.catalog.values import BatchLine
from planebench.trade.money import format_money
from planebench.window.fonts import titles, words
from planebench.window.pieces.row_ground import AnyIndex, paint_row_ground
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import NOTE, SECTION, TEXT, TOOL_ROW, tokens_now

LINE_ROLE = Qt.ItemDataRole.UserRole

_PHOTO = (24, 96)
_COLUMNS = (132, 0.46, 0.64, 0.80)


class BatchRows(QAbstractListModel):
    """Purchases, newest first."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._lines: list[BatchLine] = []

    def show_lines(self, lines: Sequence[BatchLine]) -> None:
        """Show these purchases."""
        self.beginResetModel()
        self._lines = list(lines)
        self.endResetModel()

    def line_at(self, row: int) -> BatchLine | None:
        """Give the purchase of a row."""
        return self._lines[row] if 0 <= row < len(self._lines) else None

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._lines)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        line = self.line_at(index.row()) if index.isValid() else None
        if line is None:
            return None
        if role == LINE_ROLE:
            return line
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return ", ".join((line.batch.code, line.batch.title, *bought_words(line)))
        return None


def bought_words(line: BatchLine) -> tuple[str, str]:
    """Say when and from whom, and how much was paid in all."""
    batch = line.batch
    day = batch.bought_on
    when = "date not entered" if day is None else f"{day.day} {day:%B %Y}"
    costs = [cost for cost in (batch.price, batch.premium, batch.carriage) if cost is not None]
    paid = "price not entered"
    if costs:
        paid = f"{format_money(sum(costs[1:], costs[0]), currency_of(batch.currency))} paid"
    return f"{when}, {batch.bought_from}" if batch.bought_from else when, paid


def sold_words(line: BatchLine) -> tuple[str, str]:
    """Say how many were sold and what they brought."""
    if not line.sold:
        return "none sold yet", ""
    brought = format_money(line.sold_for, currency_of(line.batch.currency))
    return f"{line.sold} sold", f"{brought} so far" if line.sold_for else "price not entered"


class BatchPainter(QStyledItemDelegate):
    """Paints rows of BatchRows."""

    def __init__(self, thumbnails: Thumbnails, parent: QObject) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(200, TOOL_ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        line = index.data(LINE_ROLE)
        box = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_row_ground(painter, box, option.state)
        if isinstance(line, BatchLine):
            photo = line.latest_photograph
            pixmap = None if photo is None else self._thumbnails.of(PhotographId(photo))
            place = QRectF(box.left() + _PHOTO[0], box.top() + 8, _PHOTO[1], 60)
            paint_cover(painter, place, pixmap)
            _write_columns(painter, box, line)
        painter.restore()


def _write_columns(painter: QPainter, box: QRectF, line: BatchLine) -> None:
    tokens = tokens_now()
    bought, paid = bought_words(line)
    sold, brought = sold_words(line)
    tools = "1 tool" if line.tools == 1 else f"{line.tools} tools"
    edges = [box.left() + _COLUMNS[0], *(box.left() + box.width() * at for at in _COLUMNS[1:])]
    ends = [*edges[1:], box.right() - 24]
    wide = [end - left - 12 for left, end in zip(edges, ends, strict=True)]
    name = line.batch.title or "no title"
    columns = (
        ((line.batch.code, words(NOTE), tokens.muted), (name, titles(SECTION), tokens.ink)),
        ((bought, words(), tokens.ink), (line.batch.note, words(NOTE), tokens.muted)),
        ((tools, words(TEXT, strong=True), tokens.ink), (paid, words(NOTE), tokens.muted)),
        ((sold, words(), tokens.ink), (brought, words(NOTE), tokens.muted)),
    )
    for left, width, (upper, lower) in zip(edges, wide, columns, strict=True):
        _write(painter, QPointF(left, box.top() + 32), width, upper)
        _write(painter, QPointF(left, box.top() + 53), width, lower)


def _write(painter: QPainter, at: QPointF, width: float, said: tuple[str, QFont, str]) -> None:
    text, font, ink = said
    painter.setFont(font)
    painter.setPen(QColor(ink))
    metrics = QFontMetricsF(font)
    painter.drawText(at, metrics.elidedText(text, Qt.TextElideMode.ElideRight, width))
