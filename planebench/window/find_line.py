"""The find field at the right end of the menu line."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLineEdit, QWidget
from typing_extensions import override

from planebench.window.pieces.act import key_width, paint_key

_KEY = "Ctrl F"


class FindLine(QLineEdit):
    """Finds in every word of the catalog.

    Signals: `typed(str)` at each change by a person; Enter gives it again.
    """

    typed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("find")
        self.setAccessibleName("Find in every word of the catalog")
        self.setPlaceholderText("Find in every word of the catalog")
        self.setFixedWidth(304)
        self.textEdited.connect(self.typed)
        self.returnPressed.connect(lambda: self.typed.emit(self.text()))

    def take_keyboard(self) -> None:
        """Come here with the keyboard, what was written chosen."""
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self.text():
            wide = key_width(_KEY)
            place = QRectF(self.width() - wide - 8, 0, wide, self.height())
            paint_key(QPainter(self), place, _KEY)
