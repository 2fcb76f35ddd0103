"""Strokes that correct what was judged: their values, the tool that draws them, their layer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from PySide6.QtCore import QObject, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from typing_extensions import override

from planebench.catalog.ids import OutlineId
from planebench.catalog.values import Json, Outline
from planebench.photo.outline import PixelOutline, Polygon, outline_from_json
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.photo_layers import Point, StrokeLayer, StrokePath
from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.photograph_view import CanvasTool, PhotographView
from planebench.window.tokens import ON_PHOTOGRAPH

KINDS = ("kept", "lost", "patina", "cannot_tell")
_OF_IRON = {Hatch.KEPT: "bright", Hatch.LOST: "rust"}


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineStroke:
    """A stroke: what it says (one of KINDS), its points and half its width in pixels."""

    kind: str
    points: tuple[Point, ...]
    radius: float


def area_word(hatch: Hatch, *, rust: bool) -> str:
    """Return the word for a judged area: kept or lost finish; bright, patina or rust."""
    return _OF_IRON.get(hatch, hatch.value) if rust else hatch.value


def stroke_overlaps(stroke: OutlineStroke, outline: PixelOutline) -> bool:
    """Return whether a stroke touches an outline's area, its holes excluded."""
    return any(_reaches(stroke, polygon) for polygon in outline.polygons)


def outline_under(stroke: OutlineStroke, outlines: Sequence[Outline]) -> OutlineId | None:
    """Return the first outline whose area a stroke touches."""
    return next(
        (one.id for one in outlines if stroke_overlaps(stroke, outline_from_json(one.polygons))),
        None,
    )


def _reaches(stroke: OutlineStroke, polygon: Polygon) -> bool:
    outer, *holes = (
        np.array(ring, dtype=np.float32).reshape(-1, 1, 2)
        for ring in (polygon.outer, *polygon.holes)
    )
    for point in stroke.points:
        inside = cv2.pointPolygonTest(outer, point, measureDist=True)
        out_of_holes = [-cv2.pointPolygonTest(hole, point, measureDist=True) for hole in holes]
        if min([inside, *out_of_holes]) > -stroke.radius:
            return True
    return False


def strokes_to_json(
    strokes: Sequence[OutlineStroke], *, second_light: str = "", whole: str = ""
) -> Json:
    """Return strokes as JSON by kind, each with its number in the order of drawing.

    `second_light` is the id of the photograph that is judged together with the outline's own;
    `whole`, one of KINDS, says what all of the outline is, save where strokes say otherwise.
    """
    written: Json = {"second_light": second_light} if second_light else {}
    if whole:
        written["whole"] = whole
    for kind in KINDS:
        of_kind = [
            {
                "points": [list(point) for point in stroke.points],
                "radius": stroke.radius,
                "number": number,
            }
            for number, stroke in enumerate(strokes, start=1)
            if stroke.kind == kind
        ]
        if of_kind:
            written[kind] = of_kind
    return written


def strokes_from_json(data: Mapping[str, object]) -> tuple[OutlineStroke, ...]:
    """Parse strokes in the order of drawing; those without a number come last."""
    found: list[tuple[float, OutlineStroke]] = []
    for kind in KINDS:
        rows = data.get(kind)
        for row in rows if isinstance(rows, list) else []:
            points = tuple((float(x), float(y)) for x, y in row["points"])
            stroke = OutlineStroke(kind=kind, points=points, radius=float(row["radius"]))
            found.append((float(row.get("number", "inf")), stroke))
    return tuple(stroke for _, stroke in sorted(found, key=lambda pair: pair[0]))


HATCHES = {
    "kept": Hatch.KEPT,
    "lost": Hatch.LOST,
    "patina": Hatch.PATINA,
    "cannot_tell": Hatch.CANNOT_TELL,
}
_USUAL, _LEAST, _MOST, _TIMES = 11.0, 3.0, 120.0, 1.3
_THINNEST = 5.0
_STEP = 0.25


class Brush:
    """The width of a stroke in screen pixels, shared by all stroke tools."""

    def __init__(self) -> None:
        self.wide = _USUAL

    def grow(self, steps: int) -> None:
        """Make it wider by so many steps, narrower if negative."""
        self.wide = min(_MOST, max(_LEAST, self.wide * _TIMES**steps))


class StrokeTool(CanvasTool):
    """Draws strokes of one kind.

    Signals: `stroked(OutlineStroke)` when one was drawn.
    """

    stroked = Signal(object)

    def __init__(self, view: PhotographView, brush: Brush, kind: str, parent: QObject) -> None:
        """`kind` is one of KINDS."""
        super().__init__(parent)
        self._view = view
        self._brush = brush
        self._kind = kind
        self._points: list[Point] = []
        self._at: QPointF | None = None

    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        """Paint the stroke being drawn and the ring of the brush."""
        if self._points:
            stroke = StrokePath(
                hatch=HATCHES[self._kind], points=tuple(self._points), wide=self._brush.wide
            )
            StrokeLayer(strokes=(stroke,)).paint(painter, viewport)
        if self._at is not None:
            _paint_ring(painter, viewport.to_screen(self._at), self._brush.wide / 2)

    @property
    @override
    def drags(self) -> bool:
        return True

    @override
    def deactivate(self) -> None:
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
        if away.manhattanLength() > _STEP * self._brush.wide / self._view.viewport.zoom:
            self._points.append((spot.x(), spot.y()))
        self._see(spot)

    @override
    def release(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        points, self._points = tuple(self._points), []
        if points:
            radius = self._brush.wide / 2 / self._view.viewport.zoom
            self.stroked.emit(OutlineStroke(kind=self._kind, points=points, radius=radius))
        self._see(spot)

    @override
    def hover(self, spot: QPointF) -> None:
        self._see(spot)

    def _see(self, spot: QPointF) -> None:
        self._at = spot
        self._view.update()


class StrokesLayer:
    """Paints the strokes so far, to the scale of the photograph."""

    def __init__(self) -> None:
        self.strokes: Sequence[OutlineStroke] = ()

    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        """Paint them in the order in which they were set."""
        shown = tuple(
            StrokePath(
                hatch=HATCHES[one.kind],
                points=one.points,
                wide=max(_THINNEST, 2 * one.radius * viewport.zoom),
            )
            for one in self.strokes
        )
        StrokeLayer(strokes=shown).paint(painter, viewport)


def _paint_ring(painter: QPainter, at: QPointF, radius: float) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for color, wide in ((ON_PHOTOGRAPH.shade, 3.0), (ON_PHOTOGRAPH.paper, 1.5)):
        painter.setPen(QPen(QColor(color), wide))
        painter.drawEllipse(at, radius + 2, radius + 2)
