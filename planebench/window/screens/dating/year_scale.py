"""The scale of years shared by the dating chart, and the bars drawn on it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.trade.dating_ranges import YearRange
from planebench.window.fonts import text_font
from planebench.window.screens.dating.dating_model import EvidenceLine, EvidenceWeight
from planebench.window.tokens import NOTE, tokens_now

LEFT = 24
RIGHT = 40  # px: room for the scroll bar and half of the last year label
_GAP = 24
_WORDS_SHARE, _WORDS_LEAST, _WORDS_MOST = 0.4, 280, 430
_STEPS = (1, 2, 5, 10, 20, 25, 50, 100, 200, 500)
_LEAST_STEP = 44  # px between labels, so that four digits do not touch
_LEAST_TICK = 5  # px between ticks; closer ones are left out


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartLayout:
    """Text and year columns for a chart `width` in px; years run from `first` to `last`."""

    width: float
    first: int
    last: int

    @property
    def words_width(self) -> float:
        """Width of the text column in px."""
        return min(max(self.width * _WORDS_SHARE, _WORDS_LEAST), _WORDS_MOST)

    @property
    def start(self) -> float:
        """Left end of the scale in px."""
        return LEFT + self.words_width + _GAP

    @property
    def end(self) -> float:
        """Right end of the scale in px."""
        return max(self.start + 1, self.width - RIGHT)

    @property
    def year_width(self) -> float:
        """Pixels per year."""
        return (self.end - self.start) / max(1, self.last - self.first)

    def x(self, year: float) -> float:
        """Return the x of the start of a year."""
        return self.start + (year - self.first) * self.year_width

    def within(self, year: float) -> float:
        """Return the x of the start of a year, clamped to the scale."""
        return min(max(self.x(year), self.start), self.end)

    def steps(self) -> list[int]:
        """Return the years that get a line and a label."""
        step = next((s for s in _STEPS if s * self.year_width >= _LEAST_STEP), _STEPS[-1])
        begin = -(-self.first // step) * step
        return list(range(begin, self.last + 1, step))


@dataclass(slots=True, kw_only=True)
class ChartScale:
    """What all parts of the chart share: the columns and the likeliest years."""

    across: ChartLayout
    bands: tuple[YearRange, ...] = ()

    @property
    def band(self) -> YearRange | None:
        """First and last of the likeliest years; None without any."""
        return (self.bands[0][0], self.bands[-1][1]) if self.bands else None

    def paint_ground(self, painter: QPainter, height: float, *, top: float = 0) -> None:
        """Paint the likeliest years and the year lines behind rows or columns."""
        tokens = tokens_now()
        for first, last in self.bands:
            left, right = self.across.within(first), self.across.within(last + 1)
            painter.fillRect(QRectF(left, top, right - left, height), QColor(tokens.chosen))
        for year in self.across.steps():
            line = QRectF(round(self.across.x(year)), top, 1, height)
            painter.fillRect(line, QColor(tokens.line))


class YearAxis(QWidget):
    """The scale above the rows."""

    def __init__(self, scale: ChartScale, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scale = scale
        self.setFixedHeight(40)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        across, foot = self._scale.across, self.height() - 1
        tokens = tokens_now()
        painter.setPen(QPen(QColor(tokens.edge), 1))
        painter.drawLine(QPointF(across.start, foot), QPointF(across.end, foot))
        steps = across.steps()
        for year in range(across.first, across.last + 1):
            if across.year_width < _LEAST_TICK and year not in steps:
                continue
            high = 11 if year in steps else 4
            x = round(across.x(year)) + 0.5
            painter.drawLine(QPointF(x, foot - high), QPointF(x, foot))
        paint_numbers(painter, across, QRectF(0, 4, self.width(), 20), steps)


def paint_numbers(painter: QPainter, across: ChartLayout, room: QRectF, steps: list[int]) -> None:
    """Paint year labels centered over their lines."""
    painter.setFont(text_font(NOTE))
    painter.setPen(QColor(tokens_now().muted))
    for year in steps:
        box = QRectF(across.x(year) - 24, room.top(), 48, room.height())
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(year))


_HIGH = 12
_THICK = 22
_ARROW = 5
_PALE = 0.5


@dataclass(slots=True, kw_only=True)
class BarPainter:
    """Paints the bar of one row; `middle` is its y in px."""

    painter: QPainter
    across: ChartLayout
    middle: float

    def paint(self, line: EvidenceLine, band: tuple[int, int] | None) -> None:
        """Paint a bar with its looseness, its hard end and its gap to the date of the tool."""
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
        """Paint an arrowhead where a side is open."""
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
        """Paint an arrow from the date of the tool to a bar outside it."""
        ends = self._gap(line, band)
        if ends is None:
            return
        text = f"{line.apart} years or more apart" if line.apart > 1 else "1 year apart"
        self.painter.setPen(QPen(self._color(EvidenceWeight.DISAGREES), 1.5))
        self._level_with_words(min(ends), max(ends), text)
        self._tips(*ends)

    def _gap(self, line: EvidenceLine, band: tuple[int, int]) -> tuple[float, float] | None:
        """Return the x of the end of the tool's range and of the start of the loose bar."""
        within = self.across.within
        if line.low is not None and line.low > band[1]:
            return within(band[1] + 1), within(line.low - line.loose_before)
        if line.high is not None:
            return within(band[0]), within(line.high + 1 + line.loose_after)
        return None

    def _level_with_words(self, left: float, right: float, text: str) -> None:
        """Paint a line with text in its middle if there is room for it."""
        font = text_font(NOTE, strong=True)
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
