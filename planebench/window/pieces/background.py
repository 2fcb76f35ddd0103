"""A plain ground in one of the theme's colors, with a rule at an edge."""

from __future__ import annotations

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.tokens import tokens_now


class Background(QWidget):
    """A surface in the color of a token (`ground`, `panel`, `field`), ruled at one edge."""

    def __init__(
        self,
        tone: str = "ground",
        parent: QWidget | None = None,
        *,
        ruled: Qt.Edge | None = None,
    ) -> None:
        super().__init__(parent)
        self._tone = tone
        self._ruled = ruled

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(str(getattr(tokens, self._tone))))
        if self._ruled is not None:
            painter.fillRect(self._edge(self._ruled), QColor(tokens.line))

    def _edge(self, edge: Qt.Edge) -> QRect:
        wide, high = self.width(), self.height()
        return {
            Qt.Edge.TopEdge: QRect(0, 0, wide, 1),
            Qt.Edge.BottomEdge: QRect(0, high - 1, wide, 1),
            Qt.Edge.LeftEdge: QRect(0, 0, 1, high),
            Qt.Edge.RightEdge: QRect(wide - 1, 0, 1, high),
        }[edge]
