"""Esc for a widget that has something to leave, before the window's shortcut leaves the place."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
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


class LeavesByEsc(QObject):
    """Lets Esc leave a widget and what it holds, and nothing around it."""

    def __init__(self, widget: QWidget, leave: Callable[[], object]) -> None:
        super().__init__(widget)
        self._leave = leave
        widget.installEventFilter(self)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if keeps_esc(event):
            return True
        if not isinstance(event, QKeyEvent) or event.type() is not QEvent.Type.KeyPress:
            return False
        if event.key() != Qt.Key.Key_Escape:
            return False
        self._leave()
        return True
