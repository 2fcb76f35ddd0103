"""The means "outline" and "hole": new rings are drawn, points of the chosen outline moved."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from typing_extensions import override

from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.drawing import Drawer
from planebench.window.screens.photograph.means import CanvasTool
from planebench.window.screens.photograph.points import Rings
from planebench.window.screens.photograph.view import WorkView

_SETTLE_MS = 600
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}


class OutlineMeans(CanvasTool):
    """Draws a ring; with `cuts` it becomes a hole in the chosen outline.

    A press near a point of the chosen outline holds that point, on its line sets a new one. The
    arrows move the point held, with Ctrl the whole outline, with Shift ten times as far.
    Signals: `drawn(tuple)` a new outline's ring; `altered(Outline)` the chosen one, changed;
    `refused(str)` when a hole lies in no outline.
    """

    drawn = Signal(object)
    altered = Signal(object)
    refused = Signal(str)

    def __init__(self, view: WorkView, drawer: Drawer, parent: QObject, *, cuts: bool) -> None:
        super().__init__(parent)
        self._view = view
        self._drawer = drawer
        self._cuts = cuts
        self._rings: Rings | None = None
        self._holding = False
        self._moved = False
        self._in_hand = False
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self._hand_on)
        drawer.closed.connect(self._closed)

    @property
    @override
    def unfinished(self) -> bool:
        return self._drawer.under_way

    def show_outline(self, rings: Rings | None) -> None:
        """Return the chosen outline, whose points can be moved."""
        self._rings = rings

    def paint(self, painter: QPainter, sight: Viewport) -> None:
        """Paint what is being drawn."""
        if self._in_hand:
            self._drawer.paint(painter, sight)

    @override
    def take(self) -> None:
        self._in_hand = True

    @override
    def lay_down(self) -> None:
        self._drawer.give_up()
        self._in_hand = False
        if self._settle.isActive():
            self._settle.stop()
            self._hand_on()

    @override
    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        self._holding = self._moved = False
        if not self._drawer.under_way and self._rings is not None:
            at, reach = (spot.x(), spot.y()), self._view.reach()
            self._holding = self._rings.choose(at, reach)
            if not self._holding:
                self._holding = self._moved = self._rings.insert(at, reach * 0.75)
        if not self._holding:
            self._drawer.press(spot)
        self._view.update()

    @override
    def drag(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if self._holding and self._rings is not None:
            self._rings.move((spot.x(), spot.y()))
            self._moved = True
            self._view.update()
        elif not self._holding:
            self._drawer.drag(spot)

    @override
    def release(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if not self._holding:
            self._drawer.release(spot)
        elif self._moved:
            self._hand_on()
        self._holding = False

    @override
    def hover(self, spot: QPointF) -> None:
        self._drawer.hover(spot)

    @override
    def double(self, spot: QPointF) -> None:
        self._drawer.close_ring()

    @override
    def key(self, event: QKeyEvent) -> bool:
        if self._drawer.key(event):
            return True
        rings = self._rings
        if rings is None or not (self._moved_by(event, rings) or self._took_away(event, rings)):
            return False
        self._view.update()
        return True

    def _moved_by(self, event: QKeyEvent, rings: Rings) -> bool:
        """Move the chosen point or the whole outline, if the key asks for it."""
        way = _ARROWS.get(Qt.Key(event.key()))
        whole = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if way is None or not (whole or rings.chosen is not None):
            return False
        far = 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
        move = rings.shift if whole else rings.nudge
        move(way[0] * far, way[1] * far)
        self._settle.start()
        return True

    def _took_away(self, event: QKeyEvent, rings: Rings) -> bool:
        """Take the chosen point away, if the key asks for it."""
        asked = event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)
        if not asked or rings.chosen is None:
            return False
        if rings.take_away():
            self._hand_on()
        return True

    def _hand_on(self) -> None:
        if self._rings is not None:
            self.altered.emit(self._rings.outline)

    def _closed(self, ring: object) -> None:
        if not self._in_hand or not isinstance(ring, tuple):
            return
        if not self._cuts:
            self.drawn.emit(ring)
        elif self._rings is not None and self._rings.cut(ring):
            self.altered.emit(self._rings.outline)
        else:
            self.refused.emit("The hole lies in no outline here. Draw it inside the chosen one.")
