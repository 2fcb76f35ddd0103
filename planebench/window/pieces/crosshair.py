"""A crosshair that stands in for the pointer, so that points are set by keyboard too."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSizeF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen

from planebench.window.tokens import ON_PHOTOGRAPH

_STEPS = {
    Qt.Key.Key_Left: QPointF(-1, 0),
    Qt.Key.Key_Right: QPointF(1, 0),
    Qt.Key.Key_Up: QPointF(0, -1),
    Qt.Key.Key_Down: QPointF(0, 1),
}
# Screen pixels per press: small enough to hit an edge, and with Shift across the view in seconds.
_SLOW, _FAST = 4, 40
_ARM, _GAP = 14.0, 3.0


class Crosshair:
    """A place in the view, in screen pixels; hidden until an arrow key moves it."""

    def __init__(self) -> None:
        self.at: QPointF | None = None
        self.set_at: QPointF | None = None

    def hide(self) -> None:
        """Hide it, as when the mouse takes over."""
        self.at = self.set_at = None

    def move(self, event: QKeyEvent, room: QSizeF) -> bool:
        """Move by an arrow key, faster with Shift, kept in the view; return whether it was one."""
        step = _STEPS.get(Qt.Key(event.key()))
        if step is None:
            return False
        far = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        at = self.at or QPointF(room.width() / 2, room.height() / 2)
        at += step * (_FAST if far else _SLOW)
        self.at = QPointF(
            min(max(at.x(), 0.0), room.width() - 1), min(max(at.y(), 0.0), room.height() - 1)
        )
        return True

    def set_point(self) -> bool:
        """Note that a point is set here; return whether one was set here just before."""
        again = self.at is not None and self.at == self.set_at
        self.set_at = None if again or self.at is None else QPointF(self.at)
        return again

    def paint(self, painter: QPainter) -> None:
        """Paint it, dark cased in light, with a gap that leaves the spot to be seen."""
        if self.at is None:
            return
        x, y = self.at.x(), self.at.y()
        for color, width in ((ON_PHOTOGRAPH.paper, 4.0), (ON_PHOTOGRAPH.ink, 2.0)):
            painter.setPen(QPen(QColor(color), width))
            for sign in (-1, 1):
                painter.drawLine(QPointF(x + sign * _GAP, y), QPointF(x + sign * _ARM, y))
                painter.drawLine(QPointF(x, y + sign * _GAP), QPointF(x, y + sign * _ARM))
