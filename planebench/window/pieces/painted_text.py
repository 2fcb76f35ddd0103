"""One line of words painted at a point, shortened where it finds no room."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter


@dataclass(frozen=True, slots=True)
class TextStyle:
    """In which face and which color words are written."""

    font: QFont
    ink: str


def paint_text_line(
    painter: QPainter, at: QPointF, text: str, room: float, lettering: TextStyle
) -> float:
    """Write words on the base line that begins at `at`, on `room` pixels; give the width used."""
    metrics = QFontMetricsF(lettering.font)
    shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, room)
    painter.setFont(lettering.font)
    painter.setPen(QColor(lettering.ink))
    painter.drawText(at, shown)
    return metrics.horizontalAdvance(shown)
