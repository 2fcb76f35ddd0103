"""The ground of a row in a list: chosen, pointed at, or at rest, over a thin rule."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QStyle

from planebench.window.tokens import FOCUS_LINE, NOTE_BAR, tokens_now

AnyIndex = QModelIndex | QPersistentModelIndex


def paint_row_background(painter: QPainter, box: QRectF, state: QStyle.StateFlag) -> None:
    """Paint a row's ground: a brass bar where chosen, a brass ring where the focus is."""
    tokens = tokens_now()
    chosen = bool(state & QStyle.StateFlag.State_Selected)
    if chosen or state & QStyle.StateFlag.State_MouseOver:
        painter.fillRect(box, QColor(tokens.chosen))
    painter.fillRect(QRectF(box.left(), box.bottom() - 1, box.width(), 1), QColor(tokens.line))
    if chosen:
        bar = QRectF(box.left(), box.top(), NOTE_BAR, box.height())
        painter.fillRect(bar, QColor(tokens.brass))
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(QColor(tokens.brass), FOCUS_LINE))
            painter.drawRect(box.adjusted(1, 1, -1, -1))
