"""A share drawn like a dimension on a drawing: an interval over a scale of 0 to 100."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from planebench.trade.shares import Share
from planebench.window.fonts import text_font
from planebench.window.pieces.lines import BASES
from planebench.window.tokens import ICON_LINE, NOTE, tokens_now

_LARGE = 1.5
_SURE = ("measured", "counted", "read-off")


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareReading:
    """A share of 0 to 1 with its interval; `basis` is a key of BASES.

    Measured, counted and read off are drawn solid; by eye and told are dashed. `faint` is for
    what stands beside the reading, such as what it was before.
    """

    value: float
    low: float
    high: float
    basis: str
    faint: bool = False

    @property
    def told(self) -> str:
        """The reading in words."""
        about = "" if self.basis in _SURE else "about "
        low, high = self.low * 100, self.high * 100
        return f"{about}{self.value * 100:.0f}% ({low:.0f} to {high:.0f}), {BASES[self.basis]}"


def reading_of(share: Share, *, faint: bool = False) -> ShareReading:
    """Return a share as it is drawn."""
    return ShareReading(
        value=float(share.value),
        low=float(share.low),
        high=float(share.high),
        basis=share.basis.value.replace("_", "-"),
        faint=faint,
    )


class ShareScale(QWidget):
    """Readings over a scale; without readings only the bare scale is drawn, never a zero."""

    spoken_role = QAccessible.Role.Graphic

    def __init__(
        self, name: str, parent: QWidget | None = None, *, large: bool = False, width: int = 140
    ) -> None:
        """`large` fills the width given by its place and carries labels."""
        super().__init__(parent)
        self._name = name
        self._large = large
        self._above: tuple[ShareReading, ...] = ()
        self._below: tuple[ShareReading, ...] = ()
        if large:
            self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            self.setMinimumWidth(width)
        else:
            self.setFixedWidth(width)
            self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.show_readings()

    def show_readings(self, *above: ShareReading, below: Sequence[ShareReading] = ()) -> None:
        """Show readings above the scale, upper line first, and beneath it; or nothing."""
        self._above = above
        self._below = tuple(below)
        told = "; ".join(reading.told for reading in (*above, *self._below)) or "not measured"
        self.setAccessibleName(f"{self._name}: {told}")
        self.setToolTip("" if told == "not measured" else told)
        self.setFixedHeight(self.sizeHint().height())
        self.update()

    @override
    def sizeHint(self) -> QSize:
        lines = max(1, len(self._above))
        if self._large:
            return QSize(320, 16 * lines + 8 + 16 * len(self._below) + 20)
        return QSize(self.width(), 12 * lines + 8 + 12 * len(self._below))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        if self._large:
            paint_large_scale(painter, QRectF(self.rect()), self._above, self._below)
        else:
            paint_scale(painter, QRectF(self.rect()), self._above, self._below)


def paint_scale(
    painter: QPainter,
    box: QRectF,
    above: Sequence[ShareReading],
    below: Sequence[ShareReading] = (),
) -> None:
    """Paint the small figure: a line with graduations at each quarter, readings around it."""
    tokens = tokens_now()
    left, right = box.left() + 5, box.right() - 5
    base = round(box.top() + 12 * max(1, len(above))) + 2.5
    painter.save()
    painter.setPen(QPen(QColor(tokens.line), 1))
    painter.drawLine(QPointF(left, base), QPointF(right, base))
    painter.setPen(QPen(QColor(tokens.edge), 1))
    for quarter in range(5):
        x = round(left + (right - left) * quarter / 4) + 0.5
        up = 3 if quarter % 2 == 0 else 2
        painter.drawLine(QPointF(x, base - up), QPointF(x, base + 3))
    for row, reading in enumerate(above):
        y = base - 7 - 12 * (len(above) - 1 - row)
        _paint_reading(painter, reading, _Line(left=left, right=right, y=y))
    for row, reading in enumerate(below):
        y = base + 9 + 12 * row
        _paint_reading(painter, reading, _Line(left=left, right=right, y=y))
    painter.restore()


def paint_large_scale(
    painter: QPainter,
    box: QRectF,
    above: Sequence[ShareReading],
    below: Sequence[ShareReading] = (),
) -> None:
    """Paint the full figure: a graduation at each 5, labels at each 25."""
    tokens = tokens_now()
    left, right = box.left() + 8, box.right() - 8
    base = round(box.top() + 16 * max(1, len(above))) + 4.5
    painter.save()
    painter.setPen(QPen(QColor(tokens.edge), 1))
    painter.drawLine(QPointF(left, base), QPointF(right, base))
    for step in range(21):
        x = round(left + (right - left) * step / 20) + 0.5
        long = step % 5 == 0
        painter.drawLine(QPointF(x, base), QPointF(x, base + (7 if long else 4)))
    for row, reading in enumerate(above):
        y = base - 12 - 16 * (len(above) - 1 - row)
        _paint_reading(painter, reading, _Line(left=left, right=right, y=y, size=_LARGE))
    for row, reading in enumerate(below):
        y = base + 17 + 16 * row
        _paint_reading(painter, reading, _Line(left=left, right=right, y=y, size=_LARGE * 0.8))
    painter.setFont(text_font(NOTE))
    painter.setPen(QColor(tokens.muted))
    top = base + 7 + 16 * len(below)
    for step in range(5):
        x = left + (right - left) * step / 4
        # The two ends keep within the figure.
        x = min(max(x, box.left() + 4), box.right() - 11)
        place = QRectF(x - 20, top, 40, 16)
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, str(step * 25))
    painter.restore()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """Where a reading is drawn: the ends of the scale, the height, and how large the marks are."""

    left: float
    right: float
    y: float
    size: float = 1.0

    def at(self, share: float) -> float:
        return self.left + (self.right - self.left) * share


def _paint_reading(painter: QPainter, reading: ShareReading, line: _Line) -> None:
    tokens = tokens_now()
    color = QColor(tokens.muted if reading.faint else tokens.ink)
    low, value, high = (line.at(share) for share in (reading.low, reading.value, reading.high))
    y, half = line.y, _END * line.size
    sure = reading.basis in _SURE
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = QPen(color, ICON_LINE)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    for x in (low, high):
        painter.drawLine(QPointF(x, y - half), QPointF(x, y + half))
    if not sure:
        pen.setDashPattern([2.2, 1.6])
        painter.setPen(pen)
    reach = 0.0 if sure else _RING * line.size
    painter.drawLine(QPointF(low, y), QPointF(max(low, value - reach), y))
    painter.drawLine(QPointF(min(high, value + reach), y), QPointF(high, y))
    paint_mark = _paint_lozenge if sure else _paint_ring
    paint_mark(painter, QPointF(value, y), color, line.size)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # noqa: FBT003 (Qt's own call)


# Half the height of the ends, half a lozenge's, and a ring's radius, in pixels.
_END, _LOZENGE, _RING = 4.5, (3.5, 4.5), 3.5


def _paint_lozenge(painter: QPainter, at: QPointF, color: QColor, size: float) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(color)
    wide, high = _LOZENGE[0] * size, _LOZENGE[1] * size
    corners = [(-wide, 0.0), (0.0, -high), (wide, 0.0), (0.0, high)]
    painter.drawPolygon(QPolygonF([at + QPointF(dx, dy) for dx, dy in corners]))


def _paint_ring(painter: QPainter, at: QPointF, color: QColor, size: float) -> None:
    painter.setPen(QPen(color, ICON_LINE))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(at, _RING * size, _RING * size)
