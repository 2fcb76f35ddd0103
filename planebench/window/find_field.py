"""The find field at the right end of the menu line."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QLineEdit, QWidget
from typing_extensions import override

from planebench.window.pieces.buttons import key_width, paint_key
from planebench.window.pieces.esc_key import keeps_esc

_KEY = "Ctrl+F"


class FindField(QLineEdit):
    """Searches every word of the catalog.

    Signals: `typed(str)` at each change by a person, empty when Esc clears it; `accepted()` by
    Enter; `down_pressed()` by Down, to go to what was found; `left()` by Esc when it is empty.
    """

    typed = Signal(str)
    accepted = Signal()
    down_pressed = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("find")
        self.setAccessibleName("Find anything in this catalog")
        self.setPlaceholderText("Find anything in this catalog")
        self.setFixedWidth(304)
        # Not by Tab: where nothing else can take it, the keyboard would land here unasked.
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.textEdited.connect(self.typed)
        self.returnPressed.connect(self.accepted)

    def take_keyboard(self) -> None:
        """Take the keyboard focus and select what was typed."""
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    def show_words(self, words: str) -> None:
        """Show the words that the current screen was searched for."""
        if self.text() != words:
            self.setText(words)

    def empty(self) -> None:
        """Clear the search."""
        self.clear()
        self.typed.emit("")

    @override
    def event(self, event: QEvent) -> bool:
        # Esc clears the field, then leaves it, before it leaves the screen.
        return keeps_esc(event) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Down:
            self.down_pressed.emit()
        elif event.key() != Qt.Key.Key_Escape:
            super().keyPressEvent(event)
        elif self.text():
            self.empty()
        else:
            self.left.emit()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self.text():
            wide = key_width(_KEY)
            place = QRectF(self.width() - wide - 8, 0, wide, self.height())
            paint_key(QPainter(self), place, _KEY)
