"""The UK registration diamond, drawn with a field in each corner."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from planebench.errors import InputError
from planebench.window.fonts import title_font
from planebench.window.pieces.field import Field
from planebench.window.pieces.text import Ink, small_label
from planebench.window.tokens import tokens_now

CORNERS = ("class", "top", "right", "bottom", "left")
_NAMES = {
    "class": "Class, in the circle",
    "top": "Top corner",
    "right": "Right corner",
    "bottom": "Bottom corner",
    "left": "Left corner",
}
_WIDE, _HIGH, _CELL = 300, 268, 60
_PLACES = {
    "class": (150, 22),
    "top": (150, 84),
    "right": (246, 156),
    "bottom": (150, 228),
    "left": (54, 156),
}


class _Drawing(QWidget):
    """The drawn outline with its fields."""

    def __init__(self, fields: Mapping[str, Field]) -> None:
        super().__init__()
        self.setFixedSize(_WIDE, _HIGH)
        for corner, field in fields.items():
            x, y = _PLACES[corner]
            field.setParent(self)
            field.setGeometry(x - _CELL // 2, y - 16, _CELL, 32)
            field.line.setAlignment(Qt.AlignmentFlag.AlignCenter)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tokens = tokens_now()
        painter.setPen(QPen(QColor(tokens.edge), 1.5))
        middle = QPointF(150, 156)
        across = [QPointF(0, -112), QPointF(146, 0), QPointF(0, 111), QPointF(-146, 0)]
        painter.drawPolygon(QPolygonF([middle + way for way in across]))
        painter.drawEllipse(QPointF(150, 22), 40, 21)
        painter.setFont(title_font(24))
        painter.setPen(QColor(tokens.muted))
        box = self.rect().translated(0, 22)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, "Rd")


class DiamondMarkFields(QWidget):
    """Five fields on a drawn mark. Signals: `typed()`."""

    typed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fields = {corner: Field(_NAMES[corner]) for corner in CORNERS}
        self._trouble = small_label(ink=Ink.RUST).wrapped()
        self._trouble.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(_Drawing(self.fields), 0, Qt.AlignmentFlag.AlignHCenter)
        column.addWidget(
            small_label("A letter at the top means 1842 to 1867, a number 1868 to 1883.").wrapped()
        )
        column.addWidget(self._trouble)
        for field in self.fields.values():
            field.typed.connect(lambda _text: self._edited())

    @property
    def mark(self) -> dict[str, str]:
        """The texts of the corners, empty ones left out."""
        texts = {corner: field.text.strip() for corner, field in self.fields.items()}
        return {corner: text for corner, text in texts.items() if text}

    def show_mark(self, mark: Mapping[str, object]) -> None:
        """Fill the corners."""
        for corner, field in self.fields.items():
            field.set_text(str(mark.get(corner, "")))
        self.show_trouble(None)

    def show_trouble(self, error: InputError | None) -> None:
        """Show an error, or remove it."""
        self._trouble.setText("" if error is None else str(error))
        self._trouble.setVisible(error is not None)

    def _edited(self) -> None:
        self.show_trouble(None)
        self.typed.emit()
