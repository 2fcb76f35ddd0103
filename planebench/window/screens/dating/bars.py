"""One sign's years as a bar: solid where allowed, dashed as far as it is loose."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from planebench.window.fonts import words
from planebench.window.screens.dating.across import Across
from planebench.window.screens.dating.model import EvidenceLine, EvidenceWeight
from planebench.window.tokens import NOTE, tokens_now

_HIGH = 12
_THICK = 22
_ARROW = 5
_PALE = 0.5


@dataclass(slots=True, kw_only=True)
class BarPainter:
    """Paints bars at one height of a row."""

    painter: QPainter
    across: Across
    middle: float

    def paint(self, line: EvidenceLine, band: tuple[int, int] | None) -> None:
        """Paint a sign's bar, its looseness, its hard end, and how far it lies apart."""
        if line.low is None and line.high is None:
            return
        color = self._color(line.trust)
        self._dashes(line, color)
        self._bar(line, color)
        if line.read.never_before and line.low is not None:
            box = QRectF(self.across.x(line.low) - 1, self.middle - _THICK / 2, 3, _THICK)
            self.painter.fillRect(box, color)
        if line.apart and band is not None:
            self._apart(line, band)

    def _color(self, trust: EvidenceWeight) -> QColor:
        tokens = tokens_now()
        return QColor(
            {EvidenceWeight.DISAGREES: tokens.rust, EvidenceWeight.LEFT_OUT: tokens.muted}.get(
                trust, tokens.ink
            )
        )

    def _bar(self, line: EvidenceLine, color: QColor) -> None:
        across = self.across
        left = across.start if line.low is None else across.within(line.low)
        right = across.end if line.high is None else across.within(line.high + 1)
        box = QRectF(left, self.middle - _HIGH / 2, max(2.0, right - left), _HIGH)
        if line.trust is EvidenceWeight.LEFT_OUT:
            pen = QPen(color, 1)
            pen.setDashPattern([3, 3])
            self.painter.setPen(pen)
            self.painter.setBrush(Qt.BrushStyle.NoBrush)
            self.painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
        elif line.trust is EvidenceWeight.HALF:
            pale = QColor(color)
            pale.setAlphaF(_PALE)
            self.painter.fillRect(box, pale)
            self.painter.setPen(QPen(color, 1))
            self.painter.setBrush(Qt.BrushStyle.NoBrush)
            self.painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
        else:
            self.painter.fillRect(box, color)
        self._open_ends(line, color)

    def _open_ends(self, line: EvidenceLine, color: QColor) -> None:
        """Point beyond the scale where nothing bounds a side."""
        ends = ((line.low, self.across.start, -1), (line.high, self.across.end, 1))
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(color)
        for year, x, way in ends:
            if year is None:
                tip = QPointF(x + way * 9, self.middle)
                back = [QPointF(x, self.middle - 9), QPointF(x, self.middle + 9)]
                self.painter.drawPolygon(QPolygonF([tip, *back]))

    def _dashes(self, line: EvidenceLine, color: QColor) -> None:
        pen = QPen(color, 2)
        pen.setDashPattern([1.5, 1.5])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        self.painter.setPen(pen)
        across = self.across
        if line.low is not None and line.loose_before:
            self._level(across.within(line.low), across.within(line.low - line.loose_before))
        if line.high is not None and line.loose_after:
            end = line.high + 1
            self._level(across.within(end), across.within(end + line.loose_after))

    def _level(self, start: float, end: float) -> None:
        self.painter.drawLine(QPointF(start, self.middle), QPointF(end, self.middle))

    def _apart(self, line: EvidenceLine, band: tuple[int, int]) -> None:
        """Paint an arrow from the range of the tool to a bar that lies outside it."""
        ends = self._gap(line, band)
        if ends is None:
            return
        text = f"{line.apart} years or more apart" if line.apart > 1 else "1 year apart"
        self.painter.setPen(QPen(self._color(EvidenceWeight.DISAGREES), 1.5))
        self._level_with_words(min(ends), max(ends), text)
        self._tips(*ends)

    def _gap(self, line: EvidenceLine, band: tuple[int, int]) -> tuple[float, float] | None:
        """Return where the range of the tool ends and where the bar with its looseness begins."""
        within = self.across.within
        if line.low is not None and line.low > band[1]:
            return within(band[1] + 1), within(line.low - line.loose_before)
        if line.high is not None:
            return within(band[0]), within(line.high + 1 + line.loose_after)
        return None

    def _level_with_words(self, left: float, right: float, text: str) -> None:
        """Paint a line with words in its middle, or without them where they find no room."""
        font = words(NOTE, strong=True)
        wide = QFontMetricsF(font).horizontalAdvance(text)
        if wide > right - left - 40:
            self._level(left, right)
            return
        hole = (left + right - wide) / 2 - 4
        self._level(left, hole)
        self._level(hole + wide + 8, right)
        self.painter.setFont(font)
        box = QRectF(hole, self.middle - 10, wide + 8, 20)
        self.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _tips(self, start: float, end: float) -> None:
        up = QPointF(0, 6)
        foot, tip = QPointF(start, self.middle), QPointF(end, self.middle)
        way = 1 if end > start else -1
        self.painter.drawLine(foot - up, foot + up)
        for high in (-_ARROW, _ARROW):
            self.painter.drawLine(tip, tip + QPointF(-way * _ARROW * 1.3, high))
