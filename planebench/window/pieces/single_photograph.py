"""One photograph that fills its box."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QAccessible, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.thumbnails import paint_whole

_SHAPE = 0.64


class SinglePhotograph(QWidget):
    """One photograph, whole, in its box; the height of the box follows its width."""

    spoken_role = QAccessible.Role.Graphic

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pixmap: QPixmap | None = None
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setMinimumSize(200, 128)

    def show_pixmap(self, pixmap: QPixmap | None, description: str) -> None:
        """Show a photograph, or a dashed frame for one that is not there."""
        self._pixmap = pixmap
        self.setAccessibleName(description)
        self.update()

    @override
    def heightForWidth(self, width: int) -> int:
        return round(width * _SHAPE)

    @override
    def sizeHint(self) -> QSize:
        return QSize(368, round(368 * _SHAPE))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        paint_whole(QPainter(self), QRectF(self.rect()), self._pixmap)
