"""Layers over a photograph: judged areas, outlines, strokes. Hatching does not scale with zoom."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QPolygonF, QTransform
from typing_extensions import override

from planebench.window.pieces.hatching import Hatch, photo_brushes
from planebench.window.pieces.photo_canvas import Layer
from planebench.window.pieces.viewport import Viewport
from planebench.window.tokens import ON_PHOTOGRAPH

Point = tuple[float, float]
_APART = 14.0


class MaskLayer(Layer):
    """An area given as a mask over the whole photograph, hatched by what it is."""

    def __init__(
        self, mask: QImage, hatch: Hatch, whole: QSizeF, corner: QPointF | None = None
    ) -> None:
        """`mask` is 8-bit, 0 outside and 255 inside, of any size; it covers `whole` pixels.

        From `corner` of the photograph on: all of it, or a window.
        """
        alpha = mask.convertToFormat(QImage.Format.Format_Grayscale8)
        alpha.reinterpretAsFormat(QImage.Format.Format_Alpha8)
        self._mask = alpha
        self._hatch = hatch
        self._whole = QRectF(corner or QPointF(0, 0), whole)
        self._drawn: tuple[QPointF, QImage] | None = None
        self._drawn_key: tuple[object, ...] = ()

    @override
    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        ratio = painter.device().devicePixelRatioF()
        key = (*viewport.key, ratio)
        if self._drawn is None or key != self._drawn_key:
            self._drawn, self._drawn_key = self._draw(viewport, ratio), key
        at, drawn = self._drawn
        painter.drawImage(at, drawn)

    def _draw(self, viewport: Viewport, ratio: float) -> tuple[QPointF, QImage]:
        """Hatch what is seen of the area, and no more of the screen than that."""
        room = QRectF(0, 0, viewport.key[3] * ratio, viewport.key[4] * ratio)
        to_screen = viewport.transform * QTransform.fromScale(ratio, ratio)
        box = to_screen.mapRect(self._whole).intersected(room).toAlignedRect()
        drawn = _hatching(self._hatch, room.size().toSize(), ratio).copy(box)
        painter = QPainter(drawn)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        # Outside the mask nothing is hatched.
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_DestinationIn)
        shape = QImage(drawn.size(), QImage.Format.Format_Alpha8)
        shape.fill(0)
        inner = QPainter(shape)
        inner.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        inner.setTransform(to_screen * QTransform.fromTranslate(-box.x(), -box.y()))
        inner.drawImage(self._whole, self._mask, QRectF(self._mask.rect()))
        inner.end()
        painter.drawImage(0, 0, shape)
        painter.end()
        drawn.setDevicePixelRatio(ratio)
        return QPointF(box.topLeft()) / ratio, drawn


@lru_cache(maxsize=8)
def _hatching(hatch: Hatch, size: QSize, ratio: float) -> QImage:
    """Return a whole screen hatched, from which each area takes its part."""
    whole = QImage(size, QImage.Format.Format_ARGB32_Premultiplied)
    whole.setDevicePixelRatio(ratio)
    whole.fill(Qt.GlobalColor.transparent)
    painter = QPainter(whole)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    for brush in photo_brushes(hatch):
        painter.fillRect(QRectF(0, 0, size.width() / ratio, size.height() / ratio), brush)
    painter.end()
    whole.setDevicePixelRatio(1)
    return whole


@dataclass(slots=True, kw_only=True)
class OutlineLayer(Layer):
    """An outline with its points and holes; open and dashed while it is being drawn.

    `quiet` is dashed and without its points; `plain` only without them.
    """

    points: Sequence[Point] = ()
    holes: Sequence[Sequence[Point]] = field(default_factory=tuple)
    closed: bool = True
    chosen: int | None = None
    quiet: bool = False
    plain: bool = False

    @override
    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for ring in (self.points, *self.holes):
            shape = QPolygonF([viewport.to_screen(QPointF(*point)) for point in ring])
            if self.closed and len(ring) > 1:
                shape.append(shape.first())
            self._paint_line(painter, shape)
        if not self.quiet and not self.plain:
            self._paint_points(painter, viewport)

    def _paint_line(self, painter: QPainter, shape: QPolygonF) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for color, wide in ((ON_PHOTOGRAPH.shade, 4.0), (ON_PHOTOGRAPH.outline, 2.0)):
            pen = QPen(QColor(color), wide)
            pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            if self.quiet and color == ON_PHOTOGRAPH.outline:
                pen.setDashPattern([3, 2])
            painter.setPen(pen)
            painter.drawPolyline(shape)

    def _paint_points(self, painter: QPainter, viewport: Viewport) -> None:
        painter.setPen(QPen(QColor(ON_PHOTOGRAPH.shade), 1))
        number = 0
        for ring in (self.points, *self.holes):
            drawn: QPointF | None = None
            for point in ring:
                chosen, at = number == self.chosen, viewport.to_screen(QPointF(*point))
                number += 1
                # Points close together on the screen are thinned out; zoomed in, all are painted.
                if drawn is not None and not chosen and _near(drawn, at):
                    continue
                drawn, half = at, 5.0 if chosen else 3.0
                painter.setBrush(QColor(ON_PHOTOGRAPH.outline))
                painter.drawRect(QRectF(at.x() - half, at.y() - half, 2 * half, 2 * half))


def _near(one: QPointF, other: QPointF) -> bool:
    return (one - other).manhattanLength() < _APART


@dataclass(frozen=True, slots=True, kw_only=True)
class StrokePath:
    """A stroke that says what lies under it: points in pixels of the photograph."""

    hatch: Hatch
    points: tuple[Point, ...]
    wide: float = 11.0


@dataclass(slots=True, kw_only=True)
class StrokeLayer(Layer):
    """The strokes in full color with a dark edge; `wide` in screen pixels."""

    strokes: Sequence[StrokePath] = ()

    @override
    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for stroke in self.strokes:
            shape = QPolygonF([viewport.to_screen(QPointF(*point)) for point in stroke.points])
            if shape.size() == 1:
                shape.append(shape.first() + QPointF(0.1, 0))
            for color, wide in (
                (ON_PHOTOGRAPH.shade, stroke.wide + 3),
                (_STROKES[stroke.hatch], stroke.wide),
            ):
                pen = QPen(QColor(color), wide)
                pen.setCapStyle(Qt.PenCapStyle.RoundCap)
                pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
                painter.setPen(pen)
                painter.drawPolyline(shape)


_STROKES = {
    Hatch.KEPT: ON_PHOTOGRAPH.kept,
    Hatch.LOST: "#EC936F",
    Hatch.CANNOT_TELL: ON_PHOTOGRAPH.paper,
    Hatch.PATINA: ON_PHOTOGRAPH.outline,
}
