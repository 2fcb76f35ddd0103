"""The bar below the pages: which are shown, page turning and zoom."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget
from typing_extensions import override

from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.pages_view import PagesView
from planebench.window.pieces.text import Label, small_label

# In pixels; below it the words of all buttons no longer fit on one line.
_ROOMY_FROM = 720


class PagesBar(Background):
    """Turns and zooms a view of pages."""

    def __init__(self, view: PagesView, parent: QWidget | None = None) -> None:
        super().__init__("panel", parent, ruled=Qt.Edge.TopEdge)
        self._view = view
        self.setFixedHeight(48)
        self.previous = self._button("Previous page", lambda: view.turn(-1))
        self.next = self._button("Next page", lambda: view.turn(1))
        self.range_label = Label()
        self.zoom_label = small_label()
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 0, 16, 0)
        row.setSpacing(4)
        row.addWidget(self.previous)
        row.addWidget(self.next)
        row.addSpacing(8)
        row.addWidget(self.range_label)
        row.addStretch(1)
        row.addWidget(self.zoom_label)
        row.addSpacing(8)
        for words, act in (
            ("Zoom out", lambda: view.zoom(-1)),
            ("Zoom in", lambda: view.zoom(1)),
            ("Fit", view.fit_pages),
            ("Actual size", view.actual_size),
        ):
            row.addWidget(self._button(words, act))
        view.moved.connect(self._show_range)
        self._show_range()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        roomy = self.width() >= _ROOMY_FROM
        self.zoom_label.setVisible(roomy)
        for button, words in ((self.previous, "Previous"), (self.next, "Next")):
            button.set_words(f"{words} page" if roomy else words)
            button.setAccessibleName(f"{words} page")

    def _button(self, words: str, act: object) -> ActionButton:
        button = ActionButton(words, weight=ButtonWeight.QUIET)
        button.clicked.connect(act)
        return button

    def _show_range(self) -> None:
        view = self._view
        shown, count = view.shown, view.count
        turns = count > len(shown)
        self.previous.setVisible(turns)
        self.next.setVisible(turns)
        self.previous.set_disabled_reason("This is the first page." if shown.start == 0 else "")
        self.next.set_disabled_reason("This is the last page." if shown.stop >= count else "")
        shown_pages = format_page_range(shown, count)
        self.range_label.setText(shown_pages)
        view.setAccessibleDescription(shown_pages)
        self.zoom_label.setText(f"{view.scale:.0%} of actual size" if count else "")


def format_page_range(shown: range, count: int) -> str:
    """Return which pages of how many are shown: "Pages 1 and 2 of 5"."""
    if not shown:
        return ""
    if len(shown) == 1:
        return f"Page {shown.start + 1} of {count}"
    joined = " and " if len(shown) == 2 else " to "  # noqa: PLR2004 (two pages are named both)
    return f"Pages {shown.start + 1}{joined}{shown.stop} of {count}"
