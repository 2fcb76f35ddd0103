"""The divider between two photographs: its line, its grip, the graduated foot."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from planebench.window.fonts import text_font
from planebench.window.pieces.photo_label import paint_tag
from planebench.window.tokens import NOTE, ON_PHOTOGRAPH

# At least 24 px each way, so that it is easy to grab.
_GRIP_WIDE, _GRIP_HIGH, _GRIP_AT = 24, 48, 0.75
_ROUND, _KNURLS = 5, 6
_STEPS, _LONG_EACH = 20, 5


def grip_box(whole: QRectF, share: float) -> QRectF:
    """Return where the grip lies."""
    middle = QPointF(whole.width() * share, whole.height() * _GRIP_AT)
    return QRectF(middle.x() - _GRIP_WIDE / 2, middle.y() - _GRIP_HIGH / 2, _GRIP_WIDE, _GRIP_HIGH)


def paint_divider(painter: QPainter, whole: QRectF, share: float, *, grip: bool) -> None:
    """Paint the line, ink cased in paper, and the grip on it."""
    x = whole.width() * share
    for color, wide in ((ON_PHOTOGRAPH.paper, 5.0), (ON_PHOTOGRAPH.ink, 2.0)):
        painter.fillRect(QRectF(x - wide / 2, 0, wide, whole.height()), QColor(color))
    if grip:
        _paint_grip(painter, grip_box(whole, share))


def _paint_grip(painter: QPainter, box: QRectF) -> None:
    """Paint a knurled brass nut, as on an adjusting screw: lines across show that it is held."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(ON_PHOTOGRAPH.paper), 2))
    painter.setBrush(QColor(ON_PHOTOGRAPH.brass))
    painter.drawRoundedRect(box, _ROUND, _ROUND)
    painter.setPen(QPen(QColor(ON_PHOTOGRAPH.paper), 1))
    step = box.height() / (_KNURLS + 1)
    for line in range(1, _KNURLS + 1):
        y = box.top() + line * step
        painter.drawLine(QPointF(box.left() + 4, y), QPointF(box.right() - 4, y))
    painter.restore()


def paint_foot(painter: QPainter, whole: QRectF) -> None:
    """Paint graduations along the foot, one each 5%, long ones each quarter."""
    for step in range(1, _STEPS):
        x = round(whole.width() * step / _STEPS)
        high = 12 if step % _LONG_EACH == 0 else 7
        top = whole.height() - high
        painter.fillRect(QRectF(x - 1, top - 1, 3, high + 1), QColor(ON_PHOTOGRAPH.paper))
        painter.fillRect(QRectF(x, top, 1, high), QColor(ON_PHOTOGRAPH.ink))


def paint_labels(painter: QPainter, whole: QRectF, share: float, labels: tuple[str, str]) -> None:
    """Paint which photograph is which, on both sides of the divider, kept within the view."""
    measure = QFontMetricsF(text_font(NOTE))
    x = whole.width() * share
    for side, text in enumerate(labels):
        wide = measure.horizontalAdvance(text) + 17
        left = x + 16 if side else x - 16 - wide
        room = (left >= 0) and (left + wide <= whole.width())
        if text and room:
            paint_tag(painter, QRectF(round(left), 16, round(wide), 24), text)
    painter.setPen(Qt.PenStyle.NoPen)
