"""Points clicked on both photographs of a pair, matched by their order, to align the two."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from planebench.photo.homography import Points
from planebench.window.fonts import text_font
from planebench.window.pieces.photo_label import paint_tag
from planebench.window.tokens import NOTE, ON_PHOTOGRAPH

# Three points fix position, turn and scale each way; a fourth corrects for the camera's tilt.
FEWEST = 3
_ARM = 7.0


class MatchingPoints:
    """The points of each photograph in its own pixels, in the order in which they were set."""

    def __init__(self) -> None:
        self.sides: tuple[list[QPointF], list[QPointF]] = ([], [])
        self._order: list[int] = []

    def add(self, point: QPointF, *, after: bool) -> None:
        """Add a point of the photograph before or after."""
        self.sides[int(after)].append(point)
        self._order.append(int(after))

    def remove_last(self) -> None:
        """Remove the point that was added last."""
        if self._order:
            self.sides[self._order.pop()].pop()

    @property
    def is_complete(self) -> bool:
        """Whether both photographs have the same number of points, and enough of them."""
        before, after = map(len, self.sides)
        return before == after >= FEWEST

    @property
    def words(self) -> str:
        """What to click next."""
        before, after = map(len, self.sides)
        if after < before:
            return f"Click point {after + 1} on the photograph after, at the right."
        if before < after:
            return f"Click point {before + 1} on the photograph before, at the left."
        if self.is_complete:
            return f"{before} points set. Align now, or add more for a better fit."
        return (
            f"Click point {before + 1} on the photograph before, then the same spot on the one "
            f"after. At least {FEWEST}; {FEWEST + 1} also correct the camera’s tilt."
        )

    def arrays(self) -> tuple[Points, Points]:
        """Return the points before and after, N x 2 pixels each."""
        before, after = (
            np.array([(point.x(), point.y()) for point in side], dtype=np.float64).reshape(-1, 2)
            for side in self.sides
        )
        return before, after


def paint_numbered(painter: QPainter, at: QPointF, number: int) -> None:
    """Paint a cross with its number, at a point of the screen."""
    for color, width in ((ON_PHOTOGRAPH.shade, 4.0), (ON_PHOTOGRAPH.outline, 2.0)):
        painter.setPen(QPen(QColor(color), width, Qt.PenStyle.SolidLine))
        painter.drawLine(at - QPointF(_ARM, 0), at + QPointF(_ARM, 0))
        painter.drawLine(at - QPointF(0, _ARM), at + QPointF(0, _ARM))
    width = QFontMetricsF(text_font(NOTE)).horizontalAdvance(str(number)) + 17
    paint_tag(painter, QRectF(at.x() + _ARM + 3, at.y() + 4, round(width), 24), str(number))
