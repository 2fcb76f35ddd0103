"""What lies over the photograph: hatched areas, outlines, strokes, the legend."""

from __future__ import annotations

from typing import Any, Protocol

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.pieces.hatching import Hatch, photo_brushes
from planebench.window.pieces.photo_canvas import Layer
from planebench.window.pieces.photo_layers import MaskLayer
from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.judging import (
    CANNOT_TELL,
    KEPT,
    LOST,
    PATINA,
    JudgingResult,
    Map,
)
from planebench.window.screens.photograph.outline_rings import EditableOutline
from planebench.window.screens.photograph.stroke_tool import StrokesLayer, area_word
from planebench.window.tokens import ON_PHOTOGRAPH

_HATCHES = {
    KEPT: Hatch.KEPT,
    LOST: Hatch.LOST,
    CANNOT_TELL: Hatch.CANNOT_TELL,
    PATINA: Hatch.PATINA,
}


class PaintedTool(Protocol):
    """A canvas tool that paints while it is active."""

    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        """Paint in screen pixels."""


class PhotographOverlay(Layer):
    """All that is painted over the photograph, in order."""

    def __init__(self) -> None:
        self.strokes = StrokesLayer()
        self.chosen: EditableOutline | None = None
        self.points_shown = False
        self.others: list[EditableOutline] = []
        self.active: list[PaintedTool] = []
        self._masks: list[MaskLayer] = []

    def show_judged(self, judged: JudgingResult | None) -> None:
        """Hatch a judging result, or nothing."""
        self._masks = []
        if judged is None:
            return
        left, top, right, bottom = judged.verdict.window
        size, corner = QSizeF(right - left, bottom - top), QPointF(left, top)
        for code, mask in judged.masks.items():
            self._masks.append(MaskLayer(_image(mask), _HATCHES[code], size, corner))

    @override
    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        for mask in self._masks:
            mask.paint(painter, viewport)
        for rings in self.others:
            for layer in rings.layers(quiet=True):
                layer.paint(painter, viewport)
        if self.chosen is not None:
            for layer in self.chosen.layers(plain=not self.points_shown):
                layer.paint(painter, viewport)
        self.strokes.paint(painter, viewport)
        for painted in self.active:
            painted.paint(painter, viewport)


def _image(mask: Map) -> QImage:
    high, wide = mask.shape
    data: Any = mask.data  # the buffer's type differs between releases of the binding
    return QImage(data, wide, high, wide, QImage.Format.Format_Grayscale8).copy()


_LEGEND = (Hatch.KEPT, Hatch.LOST, Hatch.CANNOT_TELL)
_IRON_LEGEND = (Hatch.KEPT, Hatch.PATINA, Hatch.LOST, Hatch.CANNOT_TELL)
_HIGH, _EDGE, _GAP, _BETWEEN = 32, 12, 8, 16
_SWATCH = (26.0, 14.0)


class HatchLegend(QWidget):
    """The hatches with their words, as they are drawn on the photograph."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAccessibleName("Legend of the hatching")
        self._words: dict[Hatch, str] = {}
        self.show_words(rust=False)
        self.hide()

    def show_words(self, *, rust: bool) -> None:
        """Show the words for a finish (kept, lost) or for bare iron (bright, patina, rust)."""
        shown = _IRON_LEGEND if rust else _LEGEND
        self._words = {hatch: area_word(hatch, rust=rust) for hatch in shown}
        self.setAccessibleDescription(", ".join(self._words.values()))
        measure = QFontMetricsF(text_font())
        texts = sum(measure.horizontalAdvance(word) for word in self._words.values())
        each = _SWATCH[0] + _GAP
        wide = texts + each * len(shown) + _BETWEEN * (len(shown) - 1) + 2 * _EDGE
        self.setFixedSize(round(wide) + 1, _HIGH)
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(ON_PHOTOGRAPH.paper))
        measure = QFontMetricsF(text_font())
        painter.setFont(text_font())
        left = float(_EDGE)
        for hatch, word in self._words.items():
            swatch = QRectF(left, (_HIGH - _SWATCH[1]) / 2, *_SWATCH)
            painter.fillRect(swatch, QColor(ON_PHOTOGRAPH.shade))
            for brush in photo_brushes(hatch):
                painter.fillRect(swatch, brush)
            left += _SWATCH[0] + _GAP
            painter.setPen(QColor(ON_PHOTOGRAPH.ink))
            room = QRectF(left, 0, self.width(), _HIGH - 1)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, word)
            left += measure.horizontalAdvance(word) + _BETWEEN
