"""A row of the column beside the photograph: a mark, words, and a figure at the right."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.pieces.balloon import paint_mark
from planebench.window.pieces.hatching import Hatch, paint_hatched
from planebench.window.tokens import NOTE_BAR, tokens_now

_HIGH, _MARK, _GAP = 32, 24, 10

MarkPainter = Callable[[QPainter, QRectF], None]


class SidePanelRow(QAbstractButton):
    """One row; checked it is chosen.

    Signals: those of a button; `delete_wanted()` by Delete; `opened()` by a double click.
    """

    delete_wanted = Signal()
    opened = Signal()

    def __init__(
        self, text: str, remark: str, mark: MarkPainter, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._remark = remark
        self._mark = mark
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setText(text)
        self.setCheckable(True)
        self.setAccessibleName(f"{text}: {remark}" if remark else text)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @override
    def sizeHint(self) -> QSize:
        return QSize(240, _HIGH)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.delete_wanted.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.focusNextPrevChild(key is Qt.Key.Key_Down)
        else:
            super().keyPressEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        box = QRectF(self.rect())
        if self.isChecked() or self.underMouse():
            painter.fillRect(box, QColor(tokens.chosen))
        if self.isChecked():
            painter.fillRect(QRectF(0, 0, NOTE_BAR, box.height()), QColor(tokens.brass))
        painter.fillRect(QRectF(0, box.height() - 1, box.width(), 1), QColor(tokens.line))
        self._mark(painter, QRectF(8, 0, _MARK, box.height() - 1))
        font = text_font(strong=self.isChecked())
        painter.setFont(text_font())
        remark_wide = QFontMetricsF(text_font()).horizontalAdvance(self._remark)
        painter.setPen(QColor(tokens.ink if self.isChecked() else tokens.muted))
        right = box.adjusted(0, 0, -8, -1)
        painter.drawText(
            right, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, self._remark
        )
        painter.setFont(font)
        painter.setPen(QColor(tokens.ink))
        left = 8 + _MARK + _GAP
        room = QRectF(left, 0, box.width() - left - remark_wide - 20, box.height() - 1)
        text = QFontMetricsF(font).elidedText(
            self.text(), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, text)


def hatch_mark(hatch: Hatch) -> MarkPainter:
    """Return a painter of a swatch."""

    def paint(painter: QPainter, box: QRectF) -> None:
        swatch = QRectF(box.left(), box.center().y() - 6, 20, 12)
        paint_hatched(painter, swatch, hatch)

    return paint


def balloon_mark(mark: str, *, lit: bool) -> MarkPainter:
    """Return a painter of a balloon."""
    return lambda painter, box: paint_mark(painter, box.center(), mark, lit=lit)
