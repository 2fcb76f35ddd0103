"""Esc for a widget that has something to leave, before the window's shortcut leaves the place."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override


def keeps_esc(event: QEvent) -> bool:
    """Claim Esc where an event asks who wants it; True if it did and is answered.

    Qt asks the widget with the focus, and those around it, before a shortcut gets the key; what
    is claimed then comes as a key press.
    """
    if not isinstance(event, QKeyEvent) or event.type() is not QEvent.Type.ShortcutOverride:
        return False
    if event.key() != Qt.Key.Key_Escape:
        return False
    event.accept()
    return True


class EscLeavesWidget(QWidget):
    """A widget that Esc leaves before it leaves the place. Signals: `left()`."""

    left = Signal()

    @override
    def event(self, event: QEvent) -> bool:
        return keeps_esc(event) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
