"""The canvas tools for outlines and holes: draw a ring, move the points of the chosen outline."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

from PySide6.QtCore import QObject, QPointF, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from typing_extensions import override

from planebench.photo.follow_edge import follow_edge
from planebench.window.jobs import JobDesk, LatestRead
from planebench.window.pieces.photo_layers import OutlineLayer, Point
from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.outline_rings import EditableOutline
from planebench.window.screens.photograph.photograph_model import Rgb
from planebench.window.screens.photograph.photograph_view import CanvasTool, PhotographView

EDGES, FREEHAND, STRAIGHT = "edges", "freehand", "straight"
LINES = {EDGES: "along edges", FREEHAND: "freehand", STRAIGHT: "straight"}
_LEAST_POINTS = 3
_FREEHAND_STEP = 0.4


class RingDrawing(QObject):
    """A ring that is being drawn. Enter, a double click or a click on the first point closes it.

    `accepts` is asked about the whole ring; one that it refuses stays open.
    Signals: `closed(tuple)` with the points of the whole ring; `changed()` when it grew or shrank.
    """

    closed = Signal(object)
    changed = Signal()

    def __init__(
        self, view: PhotographView, jobs: JobDesk, pixels: Callable[[], Rgb | None], parent: QObject
    ) -> None:
        """`pixels` returns the full photograph once it is loaded; until then lines are straight."""
        super().__init__(parent)
        self.line = EDGES
        self.accepts: Callable[[tuple[Point, ...]], bool] = lambda _ring: True
        self._view = view
        self._pixels = pixels
        self._looking = LatestRead(jobs, self)
        self._points: list[Point] = []
        self._steps: list[int] = []
        self._ahead: list[Point] = []
        self._dragged = False

    @property
    def under_way(self) -> bool:
        """Whether a ring was begun."""
        return bool(self._points)

    @property
    def can_close(self) -> bool:
        """Whether there are points enough for a ring."""
        return len(self._points) >= _LEAST_POINTS

    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        """Paint what is drawn, and dashed where the next click would lead."""
        if self._points and self._ahead:
            ahead = [self._points[-1], *self._ahead]
            OutlineLayer(points=ahead, closed=False, quiet=True).paint(painter, viewport)
        OutlineLayer(points=self._points, closed=False).paint(painter, viewport)

    def press(self, spot: QPointF) -> None:
        """Begin a point, or close the ring on its first one."""
        self._dragged = False
        if self.line == FREEHAND:
            self._steps.append(len(self._points))
            self._points.append(_point(spot))
            self._notify()

    def drag(self, spot: QPointF) -> None:
        """Continue a freehand line; else preview where the line would go."""
        if self.line != FREEHAND:
            self.hover(spot)
            return
        self._dragged = True
        if self._away(spot, self._points[-1]) > self._view.reach() * _FREEHAND_STEP:
            self._points.append(_point(spot))
            self._notify()

    def release(self, spot: QPointF) -> None:
        """Set the point; a ring that came back to its first point is closed."""
        home = self.can_close and self._away(spot, self._points[0]) <= self._view.reach()
        if home and (self.line != FREEHAND or self._dragged):
            self.close_ring()
        elif self.line != FREEHAND:
            self._set(spot)

    def hover(self, spot: QPointF) -> None:
        """Preview where the line would go; along edges that is computed on a job."""
        if not self._points:
            return
        start, end, pixels = self._points[-1], _point(spot), self._pixels()
        if self.line != EDGES or pixels is None:
            self._look_ahead(start, [end])
            return
        self._looking.ask(
            lambda _job: _along(pixels, start, end),
            done=lambda line: self._look_ahead(start, line),
        )

    def key(self, event: QKeyEvent) -> bool:
        """Close by Enter, remove a piece by Backspace or Ctrl+Z, cancel by Esc."""
        if not self.under_way:
            return False
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.close_ring()
        elif key is Qt.Key.Key_Backspace or (
            key is Qt.Key.Key_Z and event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            self.undo_step()
        elif key is Qt.Key.Key_Escape:
            self.cancel()
        else:
            return False
        return True

    def undo_step(self) -> None:
        """Remove the last piece of the line."""
        if self._steps:
            del self._points[self._steps.pop() :]
        self._ahead = []
        self._notify()

    def cancel(self) -> None:
        """Drop the ring that is being drawn."""
        self._points, self._steps, self._ahead = [], [], []
        self._notify()

    def close_ring(self) -> None:
        """Close the ring with the same kind of line and emit it; too few points stay open."""
        if not self.can_close:
            return
        ring = (*self._points, *self._line_to(self._points[0])[:-1])
        if not self.accepts(ring):
            # Keep what was drawn: the last pieces can be removed and drawn again.
            return
        self.cancel()
        self.closed.emit(ring)

    def _set(self, spot: QPointF) -> None:
        point = _point(spot)
        if self._points and self._away(spot, self._points[-1]) < self._view.reach() / 8:
            return
        piece = self._line_to(point) if self._points else [point]
        self._steps.append(len(self._points))
        self._points.extend(piece)
        self._ahead = []
        self._notify()

    def _line_to(self, point: Point) -> list[Point]:
        """Return the points from the last one on to `point`, without the last one itself."""
        pixels = self._pixels()
        if self.line != EDGES or pixels is None:
            return [point]
        return _along(pixels, self._points[-1], point)

    def _look_ahead(self, start: Point, line: list[Point]) -> None:
        """Show where the next click would lead, unless one was made meanwhile."""
        if self._points and self._points[-1] == start:
            self._ahead = line
            self._view.update()

    def _notify(self) -> None:
        self.changed.emit()
        self._view.update()

    @staticmethod
    def _away(spot: QPointF, point: Point) -> float:
        return hypot(spot.x() - point[0], spot.y() - point[1])


def _point(spot: QPointF) -> Point:
    return spot.x(), spot.y()


def _along(pixels: Rgb, start: Point, end: Point) -> list[Point]:
    """Return the points along edges from `start` on, without itself."""
    return [(float(x), float(y)) for x, y in follow_edge(pixels, start, end)[1:]]


_SETTLE_MS = 600
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}


class OutlineTool(CanvasTool):
    """Draws a ring; with `cuts` it becomes a hole in the selected outline.

    A press near a point of the chosen outline holds that point, on its line sets a new one. The
    arrows move the point held, with Ctrl the whole outline, with Shift ten times as far.
    Signals: `drawn(tuple)` a new outline's ring; `altered(PixelOutline)` the selected one, changed;
    `refused(str)` when a hole lies in no outline.
    """

    drawn = Signal(object)
    altered = Signal(object)
    refused = Signal(str)

    def __init__(
        self, view: PhotographView, drawing: RingDrawing, parent: QObject, *, cuts: bool
    ) -> None:
        super().__init__(parent)
        self._view = view
        self._drawing = drawing
        self._cuts = cuts
        self._rings: EditableOutline | None = None
        self._holding = False
        self._moved = False
        self._in_hand = False
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self._hand_on)
        drawing.closed.connect(self._closed)

    @property
    @override
    def drags(self) -> bool:
        return self._drawing.line == FREEHAND

    @property
    @override
    def unfinished(self) -> bool:
        return self._drawing.under_way

    def show_outline(self, rings: EditableOutline | None) -> None:
        """Take the selected outline, whose points can be moved."""
        self._rings = rings

    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        """Paint what is being drawn."""
        if self._in_hand:
            self._drawing.paint(painter, viewport)

    @override
    def take(self) -> None:
        self._in_hand = True

    @override
    def deactivate(self) -> None:
        self._drawing.cancel()
        self._in_hand = False
        if self._settle.isActive():
            self._settle.stop()
            self._hand_on()

    @override
    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        self._holding = self._moved = False
        # With the hole tool a click near a point of the outline begins a hole there.
        if not self._cuts and not self._drawing.under_way and self._rings is not None:
            at, reach = (spot.x(), spot.y()), self._view.reach()
            self._holding = self._rings.choose(at, reach)
            if not self._holding:
                self._holding = self._moved = self._rings.insert(at, reach * 0.75)
        if not self._holding:
            self._drawing.press(spot)
        self._view.update()

    @override
    def drag(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if self._holding and self._rings is not None:
            self._rings.move((spot.x(), spot.y()))
            self._moved = True
            self._view.update()
        elif not self._holding:
            self._drawing.drag(spot)

    @override
    def release(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if not self._holding:
            self._drawing.release(spot)
        elif self._moved:
            self._hand_on()
        self._holding = False

    @override
    def hover(self, spot: QPointF) -> None:
        self._drawing.hover(spot)

    @override
    def double(self, spot: QPointF) -> None:
        self._drawing.close_ring()

    @override
    def key(self, event: QKeyEvent) -> bool:
        if self._drawing.key(event):
            return True
        rings = self._rings
        if rings is None or not (self._moved_by(event, rings) or self._removed_point(event, rings)):
            return False
        self._view.update()
        return True

    def _moved_by(self, event: QKeyEvent, rings: EditableOutline) -> bool:
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

    def _removed_point(self, event: QKeyEvent, rings: EditableOutline) -> bool:
        """Remove the selected point if the key asks for it."""
        asked = event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)
        if not asked or rings.chosen is None:
            return False
        if rings.remove_point():
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
            self.refused.emit("The hole is outside the outline. Draw it inside the selected one.")
