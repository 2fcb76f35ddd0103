"""Labels on a photograph, the same in both themes."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.icons import paint_icon
from planebench.window.pieces.text import Label
from planebench.window.tokens import NOTE, ON_PHOTOGRAPH, faded

_HIGH, _SIDE, _ICON = 24, 8, 18


class Tag(Label):
    """A label on a photograph: which one it is, where its scale came from."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent, size=NOTE)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @override
    def sizeHint(self) -> QSize:
        return QSize(
            round(QFontMetricsF(text_font(NOTE)).horizontalAdvance(self.text())) + 18, _HIGH
        )

    @override
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint_tag(painter, QRectF(self.rect()), self.text())


class TagAct(QAbstractButton):
    """A button with an icon, on a photograph.

    Signals: those of a button.
    """

    def __init__(self, text: str, icon: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._icon = icon
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setText(text)
        self.setAccessibleName(text)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @override
    def sizeHint(self) -> QSize:
        wide = QFontMetricsF(text_font(NOTE)).horizontalAdvance(self.text())
        return QSize(round(wide) + 2 * _SIDE + _ICON + 8, _HIGH)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        held = self.isDown() or self.isChecked()
        ground = ON_PHOTOGRAPH.ink if held else ON_PHOTOGRAPH.paper
        ink = ON_PHOTOGRAPH.paper if held else ON_PHOTOGRAPH.ink
        edge = ON_PHOTOGRAPH.brass if self.underMouse() else ON_PHOTOGRAPH.edge
        paint_tag(painter, QRectF(self.rect()), "", ground=ground, edge=edge)
        box = QRectF(_SIDE, (_HIGH - _ICON) / 2, _ICON, _ICON)
        paint_icon(painter, self._icon, box, ink)
        painter.setFont(text_font(NOTE))
        painter.setPen(QColor(ink))
        room = QRectF(self.rect()).adjusted(_SIDE + _ICON + 8, 0, 0, -1)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, self.text())


class ScaleBar(QWidget):
    """A scale bar on the photograph."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._long = 0.0
        self._text = ""
        self.hide()

    def show_length(self, pixels: float, text: str) -> None:
        """Show a length of so many screen pixels with its words; 0 hides it."""
        self._long, self._text = pixels, text
        self.setVisible(pixels > 0)
        wide = QFontMetricsF(text_font(NOTE)).horizontalAdvance(text)
        self.setFixedSize(QSize(round(pixels + wide) + 36, 28))
        self.setAccessibleName(f"scale: {text}")
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), faded(ON_PHOTOGRAPH.paper, 0.92))
        painter.setPen(QPen(QColor(ON_PHOTOGRAPH.ink), 1.5))
        y, start, end = self.height() / 2, 12.0, 12.0 + self._long
        painter.drawLine(round(start), round(y), round(end), round(y))
        for x in (start, end):
            painter.drawLine(round(x), round(y) - 5, round(x), round(y) + 5)
        painter.setFont(text_font(NOTE))
        room = QRectF(end + 8, 0, self.width(), self.height() - 1)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, self._text)


def paint_tag(
    painter: QPainter,
    box: QRectF,
    text: str,
    *,
    ground: str = ON_PHOTOGRAPH.paper,
    edge: str = ON_PHOTOGRAPH.edge,
) -> None:
    """Paint a label."""
    painter.fillRect(box, QColor(ground))
    painter.setPen(QColor(edge))
    painter.drawRect(box.adjusted(0, 0, -1, -1))
    painter.setFont(text_font(NOTE))
    painter.setPen(QColor(ON_PHOTOGRAPH.ink))
    painter.drawText(box.adjusted(_SIDE, 0, 0, -1), Qt.AlignmentFlag.AlignVCenter, text)
