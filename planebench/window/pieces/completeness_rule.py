"""The seven sections of a tool’s record, as a rule with seven graduations."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPen

from planebench.trade.terms import Completeness
from planebench.window.pieces.hatching import Hatch, paint_hatched
from planebench.window.tokens import tokens_now

CELL = 16
_HIGH, _FOOT = 12, 4


def paint_rule(
    painter: QPainter, at: QPointF, states: Sequence[Completeness], cell: int = CELL
) -> None:
    """Paint the flat rule with its upper left corner at `at`; it is 17 px high."""
    tokens = tokens_now()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # noqa: FBT003 (Qt's own call)
    x, y = round(at.x()), round(at.y())
    for number, state in enumerate(states):
        box = QRectF(x + number * cell, y, cell, _HIGH)
        if state is Completeness.IN_PART:
            painter.fillRect(box, QColor(tokens.field))
            paint_hatched(painter, box, Hatch.NOT_ORIGINAL)
            continue
        fills = {Completeness.COMPLETE: tokens.ink, Completeness.DISAGREES: tokens.rust}
        painter.fillRect(box, QColor(fills.get(state, tokens.field)))
    painter.setPen(QPen(QColor(tokens.edge), 1))
    wide = len(states) * cell
    painter.drawRect(QRectF(x, y, wide, _HIGH))
    for number in range(len(states) + 1):
        left = x + number * cell
        painter.drawLine(QPointF(left, y), QPointF(left, y + _HIGH + _FOOT))
    painter.restore()
