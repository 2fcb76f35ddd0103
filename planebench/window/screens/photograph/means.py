"""What can be taken in hand over the photograph: what each does with pointer and keys."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF, Qt
from PySide6.QtGui import QKeyEvent


class CanvasTool(QObject):
    """The base: a means that does nothing. Points are in pixels of the photograph."""

    @property
    def unfinished(self) -> bool:
        """Whether something was begun that a step back would shorten."""
        return False

    def take(self) -> None:
        """Be taken in hand."""

    def lay_down(self) -> None:
        """Be laid down; what is unfinished goes."""

    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        """Hear the button go down."""

    def drag(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        """Hear the pointer move with the button down."""

    def release(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        """Hear the button go up."""

    def hover(self, spot: QPointF) -> None:
        """Hear the pointer move."""

    def double(self, spot: QPointF) -> None:
        """Hear a double click."""

    def key(self, event: QKeyEvent) -> bool:
        """Hear a key; say whether it was meant for this."""
        del event
        return False
