"""What lies over the photograph: hatched areas, outlines, strokes, and what is in hand."""

from __future__ import annotations

from typing import Any, Protocol

from PySide6.QtCore import QPointF, QSizeF
from PySide6.QtGui import QImage, QPainter
from typing_extensions import override

from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.photo_canvas import Layer
from planebench.window.pieces.photo_layers import MaskLayer
from planebench.window.pieces.viewport import Viewport
from planebench.window.screens.photograph.judging import CANNOT_TELL, KEPT, LOST, Judged, Map
from planebench.window.screens.photograph.points import Rings
from planebench.window.screens.photograph.stroking import StrokesLayer

_HATCHES = {KEPT: Hatch.KEPT, LOST: Hatch.LOST, CANNOT_TELL: Hatch.CANNOT_TELL}


class PaintedJudgment(Protocol):
    """Something that a means paints while it is in hand."""

    def paint(self, painter: QPainter, sight: Viewport) -> None:
        """Paint in screen pixels."""


class WorkLayers(Layer):
    """All that is painted over the photograph, in one order."""

    def __init__(self) -> None:
        self.strokes = StrokesLayer()
        self.chosen: Rings | None = None
        self.points_shown = False
        self.others: list[Rings] = []
        self.in_hand: list[PaintedJudgment] = []
        self._masks: list[MaskLayer] = []

    def show_judged(self, judged: Judged | None) -> None:
        """Hatch what was judged, or nothing."""
        self._masks = []
        if judged is None:
            return
        left, top, right, bottom = judged.verdict.window
        size, corner = QSizeF(right - left, bottom - top), QPointF(left, top)
        for code, mask in judged.masks.items():
            self._masks.append(MaskLayer(_image(mask), _HATCHES[code], size, corner))

    @override
    def paint(self, painter: QPainter, sight: Viewport) -> None:
        for mask in self._masks:
            mask.paint(painter, sight)
        for rings in self.others:
            for layer in rings.layers(quiet=True):
                layer.paint(painter, sight)
        if self.chosen is not None:
            for layer in self.chosen.layers(plain=not self.points_shown):
                layer.paint(painter, sight)
        self.strokes.paint(painter, sight)
        for painted in self.in_hand:
            painted.paint(painter, sight)


def _image(mask: Map) -> QImage:
    high, wide = mask.shape
    data: Any = mask.data  # the buffer's type differs between releases of the binding
    return QImage(data, wide, high, wide, QImage.Format.Format_Grayscale8).copy()
