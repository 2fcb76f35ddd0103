"""A tool's photographs beside the form, to look at while saying what it shows."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.ids import PhotographId
from planebench.catalog.values import Tool
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.photo_view import PhotoView
from planebench.window.pieces.text import LinkAct, Words
from planebench.window.screens.dating.pinned import photo_words, picture_of


class Looking(QWidget):
    """One photograph of a tool, at any zoom, and the way to the next.

    Signals: `photographs_wanted()` where the tool has none.
    """

    photographs_wanted = Signal()

    def __init__(self, given: ScreenContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._given = given
        self._reading = LatestRead(given.jobs, self)
        self._shown = ""
        self.view = PhotoView()
        self.choice = DropDown("Photograph")
        self._next = ActionButton("Next")
        self._none = Words("No photograph of this tool yet.").wrapped()
        self._bring = LinkAct("Photographs in")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 24, 24, 16)
        column.setSpacing(8)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.choice, 1)
        row.addWidget(self._next)
        column.addLayout(row)
        column.addWidget(self.view, 1)
        column.addWidget(self._none)
        column.addWidget(self._bring)
        column.addStretch(0)
        self.choice.chosen.connect(lambda _photo: self._look())
        self._next.clicked.connect(self._look_at_next)
        self._bring.clicked.connect(self.photographs_wanted)

    def show_tool(self, tool: Tool) -> None:
        """Offer a tool's photographs; the one looked at stays."""
        held = self.choice.held
        photos = tool.photographs
        there = {photo.id for photo in photos}
        best = held if held in there else (photos[0].id if photos else "")
        self.choice.offer([(photo.id, photo_words(photo)) for photo in photos], holds=best)
        for part in (self.choice, self.view):
            part.setVisible(bool(photos))
        self._next.setVisible(len(photos) > 1)
        for words in (self._none, self._bring):
            words.setVisible(not photos)
        self._look()

    def _look_at_next(self) -> None:
        self.choice.setCurrentIndex((self.choice.currentIndex() + 1) % self.choice.count())
        self._look()

    def _look(self) -> None:
        held, catalog = self.choice.held, self._given.catalog
        if held and held != self._shown:
            self._shown = held
            photo = PhotographId(held)
            self._reading.ask(lambda _job: picture_of(catalog, photo), done=self.view.show_picture)
