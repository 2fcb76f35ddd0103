"""Setting pins: a click places the one chosen."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt, Signal
from typing_extensions import override

from planebench.window.screens.photograph.means import CanvasTool


class PinMeans(CanvasTool):
    """Places a pin where one clicks.

    Signals: `placed(QPointF)`.
    """

    placed = Signal(QPointF)

    @override
    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        self.placed.emit(spot)
