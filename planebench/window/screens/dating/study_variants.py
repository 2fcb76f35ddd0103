"""The variants of a type study, likeliest first, with years and mismatches."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QPointF,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import (
    QFrame,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)
from typing_extensions import override

from planebench.trade.type_study import VariantFit
from planebench.window.fonts import text_font
from planebench.window.pieces.painted_text import TextStyle, paint_text_line
from planebench.window.pieces.row_background import AnyIndex
from planebench.window.pieces.value_rows import VALUE_ROLE, ValueListModel
from planebench.window.screens.dating.dating_model import years_in_words
from planebench.window.tokens import NOTE, tokens_now

_ROW = 52
_LEFT, _NAME, _YEARS, _BAR, _GAP = 24, 88, 120, 120, 4
# In narrower rows the bar is short, to leave room for the note.
_ROOMY, _SHORT_BAR = 640, 56


def against_words(fit: VariantFit) -> str:
    """Return the mismatches of a variant: a single one in full, else the features."""
    if fit.fits:
        return f"fits: {', '.join(fit.agreeing)}" if fit.agreeing else ""
    one = fit.only_against
    if one is not None:
        has = " or ".join(one.expected)
        return f"1 mismatch, the {one.feature}: {one.seen} here, {has} in the study"
    features = ", ".join(against.feature for against in fit.against)
    return f"{len(fit.against)} mismatches: {features}"


class VariantList(QListView):
    """The list of variants."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._fits: ValueListModel[VariantFit] = ValueListModel(
            _variant_description, self, tips=True
        )
        self.setModel(self._fits)
        self.setItemDelegate(_VariantPainter(self))
        self.setUniformItemSizes(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAccessibleName("Variants")
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def show_fits(self, fits: Sequence[VariantFit]) -> None:
        """Show variants, likeliest first."""
        self._fits.show_values(fits)


class _VariantPainter(QStyledItemDelegate):
    """Paints a variant: name, years, likelihood and mismatches."""

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return QSize(100, _ROW)

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        fit, tokens = index.data(VALUE_ROLE), tokens_now()
        if not isinstance(fit, VariantFit):
            return
        painter.save()
        box = QRectF(option.rect)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, QColor(tokens.chosen))
        color = tokens.ink if fit.fits else tokens.muted
        at, first = box.left() + _LEFT, box.top() + 22
        strong, plain = TextStyle(text_font(strong=fit.fits), color), TextStyle(text_font(), color)
        name = f"Variant {fit.variant.name}"
        paint_text_line(painter, QPointF(at, first), name, _NAME - _GAP, strong)
        at += _NAME
        paint_text_line(painter, QPointF(at, first), _years(fit), _YEARS - _GAP, plain)
        at += _YEARS
        roomy = box.width() >= _ROOMY
        bar = _BAR if roomy else _SHORT_BAR
        self._share(painter, QRectF(at, first - 10, bar, 10), fit)
        at += bar + 16
        room = box.right() - 24 - at
        noted = TextStyle(text_font() if roomy else text_font(NOTE), color)
        paint_text_line(painter, QPointF(at, first), fit.variant.note, room - _GAP, noted)
        self._paint_mismatches(painter, box, fit)
        line = QRectF(box.left() + _LEFT, box.bottom(), box.width() - 48, 1)
        painter.fillRect(line, QColor(tokens.line))
        painter.restore()

    @staticmethod
    def _paint_mismatches(painter: QPainter, box: QRectF, fit: VariantFit) -> None:
        ink = tokens_now().muted if fit.fits and not fit.agreeing else _mismatch_ink(fit)
        spot = QPointF(box.left() + _LEFT + _NAME, box.top() + 41)
        wide = box.right() - 24 - spot.x()
        paint_text_line(
            painter, spot, against_words(fit), wide - _GAP, TextStyle(text_font(NOTE), ink)
        )

    def _share(self, painter: QPainter, box: QRectF, fit: VariantFit) -> None:
        tokens = tokens_now()
        painter.setPen(QPen(QColor(tokens.edge), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
        filled = QRectF(box.left(), box.top(), max(1.0, box.width() * fit.share), box.height())
        painter.fillRect(filled, QColor(tokens.verdigris if fit.fits else tokens.muted))


def _variant_description(fit: VariantFit) -> str:
    told = (f"Variant {fit.variant.name}", _years(fit), fit.variant.note, against_words(fit))
    return ", ".join(words_ for words_ in told if words_)


def _mismatch_ink(fit: VariantFit) -> str:
    tokens = tokens_now()
    return tokens.verdigris if fit.fits else tokens.rust


def _years(fit: VariantFit) -> str:
    return years_in_words(fit.variant.years.not_before, fit.variant.years.not_after)
