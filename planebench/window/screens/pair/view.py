"""The pair as one works on it: nudging the one on the other by arrows or by hand."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.photo_comparison import PhotoComparison

_ARROWS = {
    Qt.Key.Key_Left: QPointF(-1, 0),
    Qt.Key.Key_Right: QPointF(1, 0),
    Qt.Key.Key_Up: QPointF(0, -1),
    Qt.Key.Key_Down: QPointF(0, 1),
}


class PairView(PhotoComparison):
    """While nudging, arrows and the hand move the photograph after, not the divider or the view.

    Signals: `nudged(QPointF)` by how many pixels of the photograph before; `nudge_over()` by Esc
    or Enter; `pins_wanted()` by P; `nudge_wanted()` by N.
    """

    nudged = Signal(QPointF)
    nudge_over = Signal()
    nudge_wanted = Signal()
    pins_wanted = Signal()
    # Known before the widget is: Qt sends events while it is being made.
    _nudging = False

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._from: QPointF | None = None
        self.pressed.connect(self._press)
        self.dragged.connect(self._drag)
        self.released.connect(self._release)

    def set_nudging(self, *, nudging: bool) -> None:
        """Begin or end to nudge."""
        self._nudging = nudging
        self.hand = not nudging
        shape = Qt.CursorShape.SizeAllCursor if nudging else Qt.CursorShape.ArrowCursor
        self.setCursor(shape)

    @override
    def event(self, event: QEvent) -> bool:
        return (self._nudging and keeps_esc(event)) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        over = key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape)
        if self._nudging and key in _ARROWS:
            far = 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            self.nudged.emit(_ARROWS[key] * far / self.sight.zoom)
        elif self._nudging and over:
            self.nudge_over.emit()
        elif key is Qt.Key.Key_P:
            self.pins_wanted.emit()
        elif key is Qt.Key.Key_N:
            self.nudge_wanted.emit()
        else:
            super().keyPressEvent(event)

    def _press(self, spot: QPointF, _modifiers: object) -> None:
        self._from = spot

    def _drag(self, spot: QPointF, _modifiers: object) -> None:
        if self._nudging and self._from is not None:
            self.nudged.emit(spot - self._from)
            self._from = spot

    def _release(self, _spot: QPointF, _modifiers: object) -> None:
        self._from = None
