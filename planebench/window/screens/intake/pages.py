"""The pages of an intake: Esc goes back from one that was opened over another."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedWidget, QWidget
from typing_extensions import override

from planebench.window.pieces.esc_key import keeps_esc


class Pages(QStackedWidget):
    """Pages of which one is seen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._over: QWidget | None = None
        self._behind: QWidget | None = None

    def open_over(self, page: QWidget) -> None:
        """Show a page from which Esc goes back to the one seen now."""
        if page is not self.currentWidget():
            self._over, self._behind = page, self.currentWidget()
            self.setCurrentWidget(page)

    def open_alone(self, page: QWidget) -> None:
        """Show a page that Esc leaves with the whole place."""
        self._over = self._behind = None
        self.setCurrentWidget(page)

    @override
    def event(self, event: QEvent) -> bool:
        return (self._page_behind() is not None and keeps_esc(event)) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        behind = self._page_behind()
        if event.key() == Qt.Key.Key_Escape and behind is not None:
            self.setCurrentWidget(behind)
        else:
            super().keyPressEvent(event)

    def _page_behind(self) -> QWidget | None:
        return self._behind if self.currentWidget() is self._over else None
