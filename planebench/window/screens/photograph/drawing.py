"""Drawing a ring on the photograph: along edges, freehand or straight, undone point by point."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

from PySide6.QtCore import QObject, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter

from planebench.photo.follow_edge import follow_edge
from planebench.window.jobs import JobDesk, LatestRead
from planebench.window.pieces.photo_layers import OutlineLayer, Point
from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.model import Rgb
from planebench.window.screens.photograph.view import WorkView

EDGES, FREEHAND, STRAIGHT = "edges", "freehand", "straight"
LINES = {EDGES: "along edges", FREEHAND: "freehand", STRAIGHT: "straight"}
_LEAST_POINTS = 3
_FREEHAND_STEP = 0.4


class Drawer(QObject):
    """A ring that is being drawn. Enter, a double click or a click on the first point closes it.

    `accepts` is asked about the whole ring; one that it refuses stays open.
    Signals: `closed(tuple)` with the points of the whole ring; `changed()` when it grew or shrank.
    """

    closed = Signal(object)
    changed = Signal()

    def __init__(
        self, view: WorkView, jobs: JobDesk, pixels: Callable[[], Rgb | None], parent: QObject
    ) -> None:
        """`pixels` gives the whole photograph once it is there; until then lines are straight."""
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

    def paint(self, painter: QPainter, sight: Viewport) -> None:
        """Paint what is drawn, and dashed where the next click would lead."""
        if self._points and self._ahead:
            ahead = [self._points[-1], *self._ahead]
            OutlineLayer(points=ahead, closed=False, quiet=True).paint(painter, sight)
        OutlineLayer(points=self._points, closed=False).paint(painter, sight)

    def press(self, spot: QPointF) -> None:
        """Begin a point, or close the ring on its first one."""
        self._dragged = False
        if self.line == FREEHAND:
            self._steps.append(len(self._points))
            self._points.append(_point(spot))
            self._told()

    def drag(self, spot: QPointF) -> None:
        """Draw on, freehand; else see where the line would go."""
        if self.line != FREEHAND:
            self.hover(spot)
            return
        self._dragged = True
        if self._away(spot, self._points[-1]) > self._view.reach() * _FREEHAND_STEP:
            self._points.append(_point(spot))
            self._told()

    def release(self, spot: QPointF) -> None:
        """Set the point; a ring that came back to its first point is closed."""
        home = self.can_close and self._away(spot, self._points[0]) <= self._view.reach()
        if home and (self.line != FREEHAND or self._dragged):
            self.close_ring()
        elif self.line != FREEHAND:
            self._set(spot)

    def hover(self, spot: QPointF) -> None:
        """See where the line would go; along edges that is found on a job, as the pointer moves."""
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
        """Close by Enter, step back by Backspace or Ctrl Z, give up by Esc."""
        if not self.under_way:
            return False
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.close_ring()
        elif key is Qt.Key.Key_Backspace or (
            key is Qt.Key.Key_Z and event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            self.step_back()
        elif key is Qt.Key.Key_Escape:
            self.give_up()
        else:
            return False
        return True

    def step_back(self) -> None:
        """Take the last piece of the line away."""
        if self._steps:
            del self._points[self._steps.pop() :]
        self._ahead = []
        self._told()

    def give_up(self) -> None:
        """Leave the ring undrawn."""
        self._points, self._steps, self._ahead = [], [], []
        self._told()

    def close_ring(self) -> None:
        """Close the ring by the same kind of line and hand it on; too few points stay open."""
        if not self.can_close:
            return
        ring = (*self._points, *self._line_to(self._points[0])[:-1])
        if not self.accepts(ring):
            # What was drawn is not lost: the last pieces can be taken back and drawn anew.
            return
        self.give_up()
        self.closed.emit(ring)

    def _set(self, spot: QPointF) -> None:
        point = _point(spot)
        if self._points and self._away(spot, self._points[-1]) < self._view.reach() / 8:
            return
        piece = self._line_to(point) if self._points else [point]
        self._steps.append(len(self._points))
        self._points.extend(piece)
        self._ahead = []
        self._told()

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

    def _told(self) -> None:
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
