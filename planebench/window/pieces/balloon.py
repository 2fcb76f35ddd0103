"""Numbered balloons, with a leader to the exact spot."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.tokens import NOTE, ON_PHOTOGRAPH, tokens_now

RADIUS = 11.5
SPOT = 3.5


def paint_leader(painter: QPainter, spot: QPointF, balloon: QPointF) -> None:
    """Paint the line from a balloon to its spot: ink cased in paper, seen on any photograph."""
    away = hypot(balloon.x() - spot.x(), balloon.y() - spot.y())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if away > RADIUS + SPOT:
        start = spot + (balloon - spot) * (SPOT / away)
        end = balloon - (balloon - spot) * (RADIUS / away)
        for color, wide in ((ON_PHOTOGRAPH.paper, 3.5), (ON_PHOTOGRAPH.ink, 1.5)):
            pen = QPen(QColor(color), wide)
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            painter.setPen(pen)
            painter.drawLine(start, end)
    painter.setPen(QPen(QColor(ON_PHOTOGRAPH.paper), 1.5))
    painter.setBrush(QColor(ON_PHOTOGRAPH.ink))
    painter.drawEllipse(spot, SPOT, SPOT)
    painter.restore()


def paint_balloon(painter: QPainter, at: QPointF, number: int | str, *, lit: bool = False) -> None:
    """Paint a balloon on a photograph, its middle at `at`; a lit one has a brass ring."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    edge = ON_PHOTOGRAPH.outline if lit else ON_PHOTOGRAPH.paper
    disc = _Disc(
        ground=ON_PHOTOGRAPH.ink,
        edge=edge,
        ink=ON_PHOTOGRAPH.paper,
        wide=2.5 if lit else 1.5,
        radius=RADIUS,
    )
    disc.paint(painter, at, number)
    painter.restore()


class BalloonMark(QWidget):
    """A balloon before a row of a list, in the colors of the theme."""

    def __init__(
        self, number: int | str, parent: QWidget | None = None, *, lit: bool = False
    ) -> None:
        super().__init__(parent)
        self._number = number
        self._lit = lit
        self.setFixedSize(QSize(24, 24))

    def set_lit(self, lit: bool) -> None:  # noqa: FBT001 (a setter, to be connected to)
        """Show or hide the brass ring."""
        self._lit = lit
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        paint_mark(QPainter(self), QRectF(self.rect()).center(), self._number, lit=self._lit)


def paint_mark(painter: QPainter, at: QPointF, number: int | str, *, lit: bool = False) -> None:
    """Paint the balloon of a list's row."""
    tokens = tokens_now()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    edge = tokens.brass if lit else tokens.ink
    disc = _Disc(ground=tokens.ink, edge=edge, ink=tokens.ground, wide=2.0, radius=9)
    disc.paint(painter, at, number)
    painter.restore()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Disc:
    ground: str
    edge: str
    ink: str
    wide: float
    radius: float

    def paint(self, painter: QPainter, at: QPointF, number: int | str) -> None:
        painter.setPen(QPen(QColor(self.edge), self.wide))
        painter.setBrush(QColor(self.ground))
        painter.drawEllipse(at, self.radius - self.wide / 2, self.radius - self.wide / 2)
        painter.setFont(text_font(NOTE, strong=True))
        painter.setPen(QColor(self.ink))
        side = 2 * self.radius
        box = QRectF(at.x() - self.radius, at.y() - self.radius, side, side - 1)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(number))
