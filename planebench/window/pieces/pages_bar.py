"""The bar beneath pages: which are shown, leafing, and how close."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget
from typing_extensions import override

from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.pages_view import PagesView
from planebench.window.pieces.text import Label, small_label

_ROOMY_FROM = 720


class PagesBar(Background):
    """Leafs a view of pages and brings it closer."""

    def __init__(self, view: PagesView, parent: QWidget | None = None) -> None:
        super().__init__("panel", parent, ruled=Qt.Edge.TopEdge)
        self._view = view
        self.setFixedHeight(48)
        self.before = self._act("Page before", lambda: view.leaf(-1))
        self.after = self._act("Page after", lambda: view.leaf(1))
        self.which = Label()
        self.size_told = small_label()
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 0, 16, 0)
        row.setSpacing(4)
        row.addWidget(self.before)
        row.addWidget(self.after)
        row.addSpacing(8)
        row.addWidget(self.which)
        row.addStretch(1)
        row.addWidget(self.size_told)
        row.addSpacing(8)
        for words, act in (
            ("Farther", lambda: view.closer(-1)),
            ("Closer", lambda: view.closer(1)),
            ("Whole pages", view.see_whole),
            ("Full size", view.full_size),
        ):
            row.addWidget(self._act(words, act))
        view.moved.connect(self._tell)
        self._tell()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        roomy = self.width() >= _ROOMY_FROM
        self.size_told.setVisible(roomy)
        for act, words in ((self.before, "before"), (self.after, "after")):
            act.set_words(f"Page {words}" if roomy else words.capitalize())
            act.setAccessibleName(f"Page {words}")

    def _act(self, words: str, act: object) -> ActionButton:
        button = ActionButton(words, weight=ButtonWeight.QUIET)
        button.clicked.connect(act)
        return button

    def _tell(self) -> None:
        view = self._view
        shown, count = view.shown, view.count
        leafed = count > len(shown)
        self.before.setVisible(leafed)
        self.after.setVisible(leafed)
        self.before.set_disabled_reason("This is the first page." if shown.start == 0 else "")
        self.after.set_disabled_reason("This is the last page." if shown.stop >= count else "")
        told = format_page_range(shown, count)
        self.which.setText(told)
        view.setAccessibleDescription(told)
        self.size_told.setText(f"{view.scale:.0%} of full size" if count else "")


def format_page_range(shown: range, count: int) -> str:
    """Say which pages of how many are shown: "Pages 1 and 2 of 5"."""
    if not shown:
        return ""
    if len(shown) == 1:
        return f"Page {shown.start + 1} of {count}"
    joined = " and " if len(shown) == 2 else " to "  # noqa: PLR2004 (two pages are named both)
    return f"Pages {shown.start + 1}{joined}{shown.stop} of {count}"
