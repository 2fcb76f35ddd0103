"""The means "kept", "lost" and "can't tell": strokes that teach how the outline is judged."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from typing_extensions import override

from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.photo_layers import Point, StrokeLayer, StrokePath
from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.means import CanvasTool
from planebench.window.screens.photograph.strokes import SetStroke
from planebench.window.screens.photograph.view import WorkView
from planebench.window.tokens import ON_PHOTOGRAPH

HATCHES = {"kept": Hatch.KEPT, "lost": Hatch.LOST, "cannot_tell": Hatch.CANNOT_TELL}
_USUAL, _LEAST, _MOST, _TIMES = 11.0, 3.0, 120.0, 1.3
_THINNEST = 5.0
_STEP = 0.25


class Brush:
    """How wide a stroke is, in screen pixels, alike for all three."""

    def __init__(self) -> None:
        self.wide = _USUAL

    def grow(self, steps: int) -> None:
        """Make it wider by so many steps, narrower if negative."""
        self.wide = min(_MOST, max(_LEAST, self.wide * _TIMES**steps))


class StrokeMeans(CanvasTool):
    """Sets strokes of one kind.

    Signals: `stroked(SetStroke)` when one was drawn.
    """

    stroked = Signal(object)

    def __init__(self, view: WorkView, brush: Brush, kind: str, parent: QObject) -> None:
        """`kind` is kept, lost or cannot_tell."""
        super().__init__(parent)
        self._view = view
        self._brush = brush
        self._kind = kind
        self._points: list[Point] = []
        self._at: QPointF | None = None

    def paint(self, painter: QPainter, sight: Viewport) -> None:
        """Paint the stroke being drawn and the ring of the brush."""
        if self._points:
            stroke = StrokePath(
                hatch=HATCHES[self._kind], points=tuple(self._points), wide=self._brush.wide
            )
            StrokeLayer(strokes=(stroke,)).paint(painter, sight)
        if self._at is not None:
            _paint_ring(painter, sight.to_view(self._at), self._brush.wide / 2)

    @override
    def lay_down(self) -> None:
        self._points, self._at = [], None

    @override
    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        self._points = [(spot.x(), spot.y())]
        self._see(spot)

    @override
    def drag(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if not self._points:
            return
        away = spot - QPointF(*self._points[-1])
        if away.manhattanLength() > _STEP * self._brush.wide / self._view.sight.zoom:
            self._points.append((spot.x(), spot.y()))
        self._see(spot)

    @override
    def release(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        points, self._points = tuple(self._points), []
        if points:
            radius = self._brush.wide / 2 / self._view.sight.zoom
            self.stroked.emit(SetStroke(kind=self._kind, points=points, radius=radius))
        self._see(spot)

    @override
    def hover(self, spot: QPointF) -> None:
        self._see(spot)

    def _see(self, spot: QPointF) -> None:
        self._at = spot
        self._view.update()


class StrokesLayer:
    """The strokes set so far, as wide as they are on the photograph."""

    def __init__(self) -> None:
        self.strokes: Sequence[SetStroke] = ()

    def paint(self, painter: QPainter, sight: Viewport) -> None:
        """Paint them in the order in which they were set."""
        shown = tuple(
            StrokePath(
                hatch=HATCHES[one.kind],
                points=one.points,
                wide=max(_THINNEST, 2 * one.radius * sight.zoom),
            )
            for one in self.strokes
        )
        StrokeLayer(strokes=shown).paint(painter, sight)


def _paint_ring(painter: QPainter, at: QPointF, radius: float) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for color, wide in ((ON_PHOTOGRAPH.shade, 3.0), (ON_PHOTOGRAPH.paper, 1.5)):
        painter.setPen(QPen(QColor(color), wide))
        painter.drawEllipse(at, radius + 2, radius + 2)
