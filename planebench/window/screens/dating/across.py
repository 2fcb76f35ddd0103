"""Where things stand across the chart: words at the left, one scale of years at the right."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.trade.dating_ranges import YearRange
from planebench.window.fonts import words
from planebench.window.tokens import NOTE, tokens_now

LEFT = 24
RIGHT = 40
"""At the right end: the scroll bar, and half of the last year's number."""
_GAP = 24
_WORDS_SHARE, _WORDS_LEAST, _WORDS_MOST = 0.4, 280, 430
_STEPS = (1, 2, 5, 10, 20, 25, 50, 100, 200, 500)
_LEAST_STEP = 44
_LEAST_TICK = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """The columns of the chart in a width, and the scale from the start of `first` to `last`."""

    width: float
    first: int
    last: int

    @property
    def words_width(self) -> float:
        """Width of the words of a row."""
        return min(max(self.width * _WORDS_SHARE, _WORDS_LEAST), _WORDS_MOST)

    @property
    def start(self) -> float:
        """Where the scale begins."""
        return LEFT + self.words_width + _GAP

    @property
    def end(self) -> float:
        """Where the scale ends."""
        return max(self.start + 1, self.width - RIGHT)

    @property
    def year_width(self) -> float:
        """Pixels a year."""
        return (self.end - self.start) / max(1, self.last - self.first)

    def x(self, year: float) -> float:
        """Return the place of a year's start."""
        return self.start + (year - self.first) * self.year_width

    def within(self, year: float) -> float:
        """Return the place of a year's start, kept on the scale."""
        return min(max(self.x(year), self.start), self.end)

    def steps(self) -> list[int]:
        """Return the years at which lines and numbers stand."""
        step = next((s for s in _STEPS if s * self.year_width >= _LEAST_STEP), _STEPS[-1])
        begin = -(-self.first // step) * step
        return list(range(begin, self.last + 1, step))


@dataclass(slots=True, kw_only=True)
class Scale:
    """What all parts of the chart share and repaint by: the columns and the likeliest years."""

    across: Across
    bands: tuple[YearRange, ...] = ()

    @property
    def band(self) -> YearRange | None:
        """First and last of the likeliest years, None where there are none."""
        return (self.bands[0][0], self.bands[-1][1]) if self.bands else None

    def paint_ground(self, painter: QPainter, height: float, *, top: float = 0) -> None:
        """Paint the bands and the lines of years behind rows or columns."""
        tokens = tokens_now()
        for first, last in self.bands:
            left, right = self.across.within(first), self.across.within(last + 1)
            painter.fillRect(QRectF(left, top, right - left, height), QColor(tokens.chosen))
        for year in self.across.steps():
            line = QRectF(round(self.across.x(year)), top, 1, height)
            painter.fillRect(line, QColor(tokens.line))


class Axis(QWidget):
    """The scale over the rows."""

    def __init__(self, scale: Scale, parent: QWidget | None = None) -> None:
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


def paint_numbers(painter: QPainter, across: Across, room: QRectF, steps: list[int]) -> None:
    """Paint the numbers of years in the middle over their lines."""
    painter.setFont(words(NOTE))
    painter.setPen(QColor(tokens_now().muted))
    for year in steps:
        box = QRectF(across.x(year) - 24, room.top(), 48, room.height())
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(year))
