"""Canvas tools that set single points: pins, lengths, angles, circles and scale marks."""

from __future__ import annotations

from math import hypot

import numpy as np
from PySide6.QtCore import QLineF, QObject, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPen, QPolygonF
from typing_extensions import override

from planebench.trade.geometry import Points, circle_through
from planebench.window.fonts import text_font
from planebench.window.pieces.photo_label import paint_tag
from planebench.window.pieces.photo_layers import Point
from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.photograph_view import CanvasTool, PhotographView
from planebench.window.tokens import NOTE, ON_PHOTOGRAPH

LENGTH, ANGLE, CIRCLE, RECTANGLE = "length", "angle", "circle", "rectangle"
MARKS = "marks"
_COUNTS = {LENGTH: 2, ANGLE: 3, CIRCLE: 3, RECTANGLE: 4, MARKS: 2}
_TICKED = frozenset({LENGTH, MARKS})
_TICK, _CROSS = 7.0, 5.0
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}


class PointsTool(CanvasTool):
    """Sets as many points as its shape needs; each can be moved by pointer and arrows.

    Of a ruler's marks two are needed, and any number more can be set.

    Signals: `changed()` when a point was set or moved.
    """

    changed = Signal()

    def __init__(self, view: PhotographView, shape: str, parent: QObject) -> None:
        super().__init__(parent)
        self.label = ""
        self._view = view
        self._shape = shape
        self._points: list[Point] = []
        self._held: int | None = None
        self._ahead: Point | None = None

    @property
    def points(self) -> Points | None:
        """The points in pixels, N x 2, once all are set."""
        return np.array(self._points) if not self.still_to_set else None

    @property
    def count(self) -> int:
        """How many points are set."""
        return len(self._points)

    @property
    def still_to_set(self) -> int:
        """How many points are still needed."""
        return max(0, _COUNTS[self._shape] - len(self._points))

    @property
    @override
    def unfinished(self) -> bool:
        return bool(self._points) and (self._open or self.points is None)

    @property
    def _open(self) -> bool:
        """Whether more points than are needed can be set."""
        return self._shape == MARKS

    def set_shape(self, shape: str) -> None:
        """Measure another shape; removes the points."""
        self._shape = shape
        self.clear()

    def clear(self) -> None:
        """Remove all points."""
        self._points, self._held, self._ahead, self.label = [], None, None, ""
        self._notify()

    @override
    def deactivate(self) -> None:
        self.clear()

    @override
    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        self._held = self._near(spot)
        if self._held is None:
            if self.points is not None and not self._open:
                self.clear()
            self._points.append((spot.x(), spot.y()))
            self._held = len(self._points) - 1
        self._ahead = None
        self._notify()

    @override
    def drag(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if self._held is not None:
            self._points[self._held] = (spot.x(), spot.y())
            self._notify()

    @override
    def hover(self, spot: QPointF) -> None:
        self._ahead = (spot.x(), spot.y()) if self.unfinished else None
        self._view.update()

    @override
    def key(self, event: QKeyEvent) -> bool:
        taken = self._step_back(event) or self._nudge(event)
        if taken:
            self._notify()
        return taken

    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        """Paint the points and the shape between them, with its figure on a tag."""
        ahead = [] if self._ahead is None else [self._ahead]
        spots = [viewport.to_screen(QPointF(*point)) for point in (*self._points, *ahead)]
        if not spots:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for color, wide in ((ON_PHOTOGRAPH.shade, 4.0), (ON_PHOTOGRAPH.outline, 2.0)):
            painter.setPen(QPen(QColor(color), wide))
            self._paint_shape(painter, spots, viewport)
        if self.label:
            middle = sum(spots, QPointF()) / len(spots)
            _paint_label(painter, self._below_circle(viewport) or middle, self.label)

    def _paint_shape(self, painter: QPainter, spots: list[QPointF], viewport: Viewport) -> None:
        if self._shape in _TICKED and len(spots) > 1:
            _paint_ticked(painter, spots)
            return
        if self._shape == CIRCLE:
            self._paint_circle(painter, viewport)
        else:
            closed = [*spots, spots[0]] if self._shape == RECTANGLE else spots
            painter.drawPolyline(QPolygonF(closed))
        for spot in spots:
            painter.drawLine(spot - QPointF(_CROSS, 0), spot + QPointF(_CROSS, 0))
            painter.drawLine(spot - QPointF(0, _CROSS), spot + QPointF(0, _CROSS))

    def _paint_circle(self, painter: QPainter, viewport: Viewport) -> None:
        circle = self._circle(viewport)
        if circle is not None:
            painter.drawEllipse(circle[0], circle[1], circle[1])

    def _below_circle(self, viewport: Viewport) -> QPointF | None:
        """Return the lowest place of the circle in the view, if there is one."""
        circle = self._circle(viewport)
        return None if circle is None else circle[0] + QPointF(0, circle[1])

    def _circle(self, viewport: Viewport) -> tuple[QPointF, float] | None:
        """Return the circle's middle and radius in the view; None if there is none, or not yet."""
        points = self.points
        if self._shape != CIRCLE or points is None:
            return None
        try:
            middle, radius = circle_through(points)
        except ValueError:
            return None
        return viewport.to_screen(
            QPointF(float(middle[0]), float(middle[1]))
        ), radius * viewport.zoom

    def _near(self, spot: QPointF) -> int | None:
        reach = self._view.reach()
        for number, (x, y) in enumerate(self._points):
            if hypot(x - spot.x(), y - spot.y()) <= reach:
                return number
        return None

    def _step_back(self, event: QKeyEvent) -> bool:
        """Remove the last point if the key asks for it; return whether it did."""
        key = Qt.Key(event.key())
        undo = key is Qt.Key.Key_Z and event.modifiers() & Qt.KeyboardModifier.ControlModifier
        wanted = undo or key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete)
        if not self._points or not wanted:
            return False
        self._points.pop()
        self._held, self.label = None, ""
        return True

    def _nudge(self, event: QKeyEvent) -> bool:
        """Move the held point by an arrow, 10 times as far with Shift; return whether it did."""
        way = _ARROWS.get(Qt.Key(event.key()))
        if way is None or self._held is None or self._held >= len(self._points):
            return False
        far = 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
        x, y = self._points[self._held]
        self._points[self._held] = (x + way[0] * far, y + way[1] * far)
        return True

    def _notify(self) -> None:
        self.changed.emit()
        self._view.update()


def _paint_ticked(painter: QPainter, spots: list[QPointF]) -> None:
    """Paint a dimension line, with a tick at each end and at each mark between."""
    line = QLineF(spots[0], max(spots, key=lambda spot: QLineF(spots[0], spot).length()))
    painter.drawLine(line)
    if line.length() < 1:
        return
    tick = line.normalVector()
    tick.setLength(_TICK)
    way = QPointF(tick.dx(), tick.dy())
    for spot in spots:
        painter.drawLine(spot - way, spot + way)


def _paint_label(painter: QPainter, middle: QPointF, label: str) -> None:
    wide = QFontMetricsF(text_font(NOTE)).horizontalAdvance(label) + 18
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # noqa: FBT003 (Qt's own call)
    box = QRectF(round(middle.x() - wide / 2), round(middle.y() + 12), round(wide), 24)
    paint_tag(painter, box, label)


class PinTool(CanvasTool):
    """Places a pin at a click.

    Signals: `placed(QPointF)`.
    """

    placed = Signal(QPointF)

    @override
    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        self.placed.emit(spot)
