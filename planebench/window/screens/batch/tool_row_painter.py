"""Paints a row of the tool list: photograph, name, finish left, years, sections, next step."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QPointF, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem
from typing_extensions import override

from planebench.catalog.ids import PhotographId
from planebench.catalog.values import ToolLine
from planebench.trade.shares import Share, format_interval, format_percent
from planebench.trade.terms import BASIS_WORDS, TOOL_STATUS_WORDS
from planebench.window.fonts import text_font, title_font
from planebench.window.icons import paint_icon
from planebench.window.pieces.completeness_rule import paint_rule
from planebench.window.pieces.painted_text import TextStyle, paint_text_line
from planebench.window.pieces.row_background import paint_row_background
from planebench.window.pieces.share_scale import paint_scale, reading_of
from planebench.window.screens.batch.batch_model import LINE_ROLE
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import NOTE, SECTION, TOOL_ROW, tokens_now

PHOTO_WIDTH, PHOTO_HEIGHT = 96, 60
TALL_PHOTO, TALL_ROW = 132, 100
_NARROW, _VERY_NARROW = 900, 720
_LEFT, _GAP = 16, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class RowColumns:
    """Left edge and width of each column in px; `made` is (0, 0) in a narrow list."""

    photo: tuple[int, int]
    tool: tuple[int, int]
    finish: tuple[int, int]
    made: tuple[int, int]
    known: tuple[int, int]
    missing: tuple[int, int]

    @property
    def photo_height(self) -> int:
        """Height of the photograph in px."""
        return round(self.photo[1] * PHOTO_HEIGHT / PHOTO_WIDTH)


def columns_for(width: int, *, alone: bool = False) -> RowColumns:
    """Return the columns for a width; `alone` when there is no preview beside the list."""
    photo = TALL_PHOTO if alone else PHOTO_WIDTH
    made = 0 if width < _NARROW else 120
    known = 116
    finish = 140 if width < _NARROW else 168
    rest = width - _LEFT - photo - 5 * _GAP - finish - made - known
    tool = max(120, round(rest * 0.44))
    missing = max(96, rest - tool)
    edges = [_LEFT]
    for wide in (photo, tool, finish, made, known):
        edges.append(edges[-1] + wide + (_GAP if wide else 0))
    return RowColumns(
        photo=(edges[0], photo),
        tool=(edges[1], tool),
        finish=(edges[2], finish),
        made=(edges[3], made) if made else (0, 0),
        known=(edges[4], known),
        missing=(edges[5], missing),
    )


class ToolRowPainter(QStyledItemDelegate):
    """Paints rows of ToolRows."""

    def __init__(self, thumbnails: Thumbnails, parent: QObject) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails
        self.alone = False

    @override
    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        return QSize(200, TALL_ROW if self.alone else TOOL_ROW)

    @override
    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        box = QRectF(option.rect)
        state = option.state
        line = index.data(LINE_ROLE)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_row_background(painter, box, state)
        if isinstance(line, ToolLine):
            columns = columns_for(round(box.width()), alone=self.alone)
            pen = _RowPen(painter, box, columns, line)
            pen.photograph(self._thumbnails)
            pen.name()
            pen.finish()
            pen.years()
            pen.known()
            pen.missing()
        painter.restore()


class _RowPen:
    """Paints one row, column by column."""

    def __init__(self, painter: QPainter, box: QRectF, columns: RowColumns, line: ToolLine) -> None:
        self._painter = painter
        self._box = box
        self._columns = columns
        self._line = line
        self._tokens = tokens_now()
        self._top = box.top() + (box.height() - 58) / 2
        self._plain = TextStyle(text_font(), self._tokens.muted)
        self._small = TextStyle(text_font(NOTE), self._tokens.muted)

    def photograph(self, thumbnails: Thumbnails) -> None:
        left, wide = self._columns.photo
        high = self._columns.photo_height
        top = self._box.top() + (self._box.height() - high) / 2
        photo = self._line.latest_photograph
        pixmap = None if photo is None else thumbnails.of(PhotographId(photo))
        paint_cover(self._painter, QRectF(self._box.left() + left, top, wide, high), pixmap)

    def name(self) -> None:
        line, column = self._line, self._columns.tool
        state = f"{line.stock_number}  {TOOL_STATUS_WORDS[line.status]}"
        self._write(state, column, 12, self._small)
        self._write(line.title, column, 32, TextStyle(title_font(SECTION), self._tokens.ink))
        self._write(line.subtitle, column, 52, self._small)

    def finish(self) -> None:
        left, wide = self._columns.finish
        share = self._line.main_share
        figure = QRectF(self._box.left() + left, self._top + 17, wide, 20)
        if share is None:
            self._write("not measured", self._columns.finish, 14, self._plain)
            paint_scale(self._painter, figure, ())
            self._write("no figure yet", self._columns.finish, 54, self._small)
            return
        self._share(share)
        paint_scale(self._painter, figure, (reading_of(share),))
        self._basis(share)

    def _share(self, share: Share) -> None:
        """Paint the share, and its interval right after it."""
        left, wide = self._columns.finish
        about = "about " if share.is_approximate else ""
        strong = TextStyle(text_font(strong=True), self._tokens.ink)
        used = round(
            self._write(f"{about}{format_percent(share)}", self._columns.finish, 14, strong)
        )
        beside = (left + used + 4, wide - used - 4)
        self._write(format_interval(share), beside, 14, self._plain)

    def _basis(self, share: Share) -> None:
        """Paint the basis of the share, and what it was as found."""
        (left, wide), was = self._columns.finish, self._line.main_was
        basis = BASIS_WORDS[share.basis]
        told = basis if was is None else f"{basis}, was {format_percent(was)}"
        mark = QRectF(self._box.left() + left, self._top + 43, 16, 16)
        paint_icon(self._painter, share.basis.value.replace("_", "-"), mark, self._tokens.muted)
        self._write(told, (left + 20, wide - 20), 54, self._small)

    def years(self) -> None:
        made, basis = self._line.made, self._line.made_basis
        ink = self._tokens.ink if basis else self._tokens.muted
        first, _, other = made.partition(" or ")
        if other[:1].isdecimal():
            # Two separate ranges do not fit on one line; the second replaces the basis.
            made, basis = first, f"or {other}"
        if self._columns.made[1]:
            self._write(made, self._columns.made, 26 if basis else 34, TextStyle(text_font(), ink))
            self._write(basis, self._columns.made, 43, self._small)

    def known(self) -> None:
        left, _ = self._columns.known
        paint_rule(
            self._painter,
            QPointF(self._box.left() + left, round(self._top + 12)),
            self._line.known,
            cell=15,
        )
        complete = sum(answer.value == "complete" for answer in self._line.known)
        told = f"{complete} of 7"
        if not self._columns.made[1]:
            told = f"made {self._line.made}" if self._line.made_basis else self._line.made
        self._write(told, self._columns.known, 43, self._small)

    def missing(self) -> None:
        act = self._line.next_act
        ink = self._tokens.brass if act.is_act else self._tokens.muted
        lettering = TextStyle(text_font(strong=act.is_act), ink)
        self._write(act.words, self._columns.missing, 26, lettering)
        self._write(act.detail, self._columns.missing, 43, self._small)

    def _write(self, text: str, column: tuple[int, int], base: int, lettering: TextStyle) -> float:
        """Paint one line with its baseline at `base`; return the width used in px."""
        left, wide = column
        at = QPointF(self._box.left() + left, self._top + base)
        return paint_text_line(self._painter, at, text, wide, lettering)
