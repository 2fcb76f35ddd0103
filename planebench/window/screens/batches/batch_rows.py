"""Paints a row of the list of purchases."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem
from typing_extensions import override

from planebench.catalog.currencies import currency_of
from planebench.catalog.ids import PhotographId
from planebench.catalog.values import BatchLine
from planebench.trade.days import DayOrder, format_day
from planebench.trade.money import format_money
from planebench.window.fonts import text_font, title_font
from planebench.window.pieces.painted_text import TextStyle, paint_text_line
from planebench.window.pieces.row_background import AnyIndex, paint_row_background
from planebench.window.pieces.value_rows import VALUE_ROLE
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import NOTE, SECTION, TEXT, TOOL_ROW, tokens_now

_PHOTO = (24, 96)
_COLUMNS = (132, 0.36, 0.68, 0.83)


def batch_description(line: BatchLine, order: DayOrder) -> str:
    """Return the row as a screen reader says it."""
    return ", ".join((line.batch.code, line.batch.title, *bought_words(line, order)))


def bought_words(line: BatchLine, order: DayOrder) -> tuple[str, str]:
    """Return when and from whom it was bought, and the total paid."""
    batch = line.batch
    day = batch.bought_on
    when = "date not entered" if day is None else format_day(day, order)
    spent = batch.cost.paid
    paid = "price not entered"
    if spent is not None:
        paid = f"{format_money(spent, currency_of(batch.currency))} paid"
    return f"{when}, {batch.bought_from}" if batch.bought_from else when, paid


def sold_words(line: BatchLine) -> tuple[str, str]:
    """Return how many were sold and for how much."""
    if not line.sold:
        return "none sold yet", ""
    brought = format_money(line.sold_for, currency_of(line.batch.currency))
    return f"{line.sold} sold", f"{brought} so far" if line.sold_for else "price not entered"


class BatchPainter(QStyledItemDelegate):
    """Paints purchases, one row each."""

    def __init__(self, thumbnails: Thumbnails, parent: QObject) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails
        self.order = DayOrder.MONTH_FIRST

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(200, TOOL_ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        line = index.data(VALUE_ROLE)
        box = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_row_background(painter, box, option.state)
        if isinstance(line, BatchLine):
            photo = line.latest_photograph
            pixmap = None if photo is None else self._thumbnails.of(PhotographId(photo))
            place = QRectF(box.left() + _PHOTO[0], box.top() + 8, _PHOTO[1], 60)
            paint_cover(painter, place, pixmap)
            _write_columns(painter, box, line, self.order)
        painter.restore()


def _write_columns(painter: QPainter, box: QRectF, line: BatchLine, order: DayOrder) -> None:
    tokens = tokens_now()
    bought, paid = bought_words(line, order)
    sold, brought = sold_words(line)
    tools = "1 tool" if line.tools == 1 else f"{line.tools} tools"
    edges = [box.left() + _COLUMNS[0], *(box.left() + box.width() * at for at in _COLUMNS[1:])]
    ends = [*edges[1:], box.right() - 24]
    rooms = [end - left - 12 for left, end in zip(edges, ends, strict=True)]
    ink, small = tokens.ink, TextStyle(text_font(NOTE), tokens.muted)
    name = line.batch.title or "no title"
    columns = (
        ((line.batch.code, small), (name, TextStyle(title_font(SECTION), ink))),
        ((bought, TextStyle(text_font(), ink)), (line.batch.note, small)),
        ((tools, TextStyle(text_font(TEXT, strong=True), ink)), (paid, small)),
        ((sold, TextStyle(text_font(), ink)), (brought, small)),
    )
    for left, room, lines in zip(edges, rooms, columns, strict=True):
        for base, (text, lettering) in zip((32, 53), lines, strict=True):
            paint_text_line(painter, QPointF(left, box.top() + base), text, room, lettering)
