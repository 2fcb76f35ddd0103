"""A slip of paper on the photograph that says what the hatching means, alike in both themes."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.pieces.hatching import Hatch, photo_brushes
from planebench.window.screens.photograph.strokes import judged_word
from planebench.window.tokens import ON_PHOTOGRAPH

_HATCHES = (Hatch.KEPT, Hatch.LOST, Hatch.CANNOT_TELL)
_HIGH, _EDGE, _GAP, _BETWEEN = 32, 12, 8, 16
_SWATCH = (26.0, 14.0)


class KeySlip(QWidget):
    """The three hatches with their words, as they are drawn on the photograph."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAccessibleName("What the hatching means")
        self._told: dict[Hatch, str] = {}
        self.show_words(rust=False)
        self.hide()

    def show_words(self, *, rust: bool) -> None:
        """Say what the hatches stand for: a finish kept and lost, or metal clean and rusted."""
        self._told = {hatch: judged_word(hatch, rust=rust) for hatch in _HATCHES}
        self.setAccessibleDescription(", ".join(self._told.values()))
        measure = QFontMetricsF(text_font())
        texts = sum(measure.horizontalAdvance(word) for word in self._told.values())
        each = _SWATCH[0] + _GAP
        wide = texts + each * len(_HATCHES) + _BETWEEN * (len(_HATCHES) - 1) + 2 * _EDGE
        self.setFixedSize(round(wide) + 1, _HIGH)
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(ON_PHOTOGRAPH.paper))
        measure = QFontMetricsF(text_font())
        painter.setFont(text_font())
        left = float(_EDGE)
        for hatch, word in self._told.items():
            swatch = QRectF(left, (_HIGH - _SWATCH[1]) / 2, *_SWATCH)
            painter.fillRect(swatch, QColor(ON_PHOTOGRAPH.shade))
            for brush in photo_brushes(hatch):
                painter.fillRect(swatch, brush)
            left += _SWATCH[0] + _GAP
            painter.setPen(QColor(ON_PHOTOGRAPH.ink))
            room = QRectF(left, 0, self.width(), _HIGH - 1)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, word)
            left += measure.horizontalAdvance(word) + _BETWEEN
