"""What was put in the bin; each thing can be put back."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
)

from planebench.catalog.bin import BinEntry
from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label

_THING = Qt.ItemDataRole.UserRole


class BinScreen(Screen):
    """The bin, newest first."""

    def __init__(self, given: ScreenContext) -> None:
        super().__init__()
        self._given = given
        self._reading = LatestRead(given.jobs, self)
        self.rows = QTreeWidget()
        self._help = Label(ink=Ink.MUTED).wrapped()
        self._back = ActionButton("Put it back", weight=ButtonWeight.MAIN, key="Enter")
        self._lay_out()
        given.edits.happened.connect(self._look_again)
        self._ask()

    def _lay_out(self) -> None:
        rows = self.rows
        rows.setAccessibleName("Things in the bin")
        rows.setRootIsDecorated(False)
        rows.setUniformRowHeights(True)
        rows.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        rows.setHeaderLabels(["Since", "What"])
        rows.header().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        rows.itemActivated.connect(lambda _item: self._put_back())
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(self._help)
        column.addWidget(rows, 1)
        column.addStretch()  # holds the words at the top while there are no rows
        self._back.clicked.connect(self._put_back)
        self.set_title_buttons(self._back)
        self.set_title("The bin", up="Back")
        self.set_regions(rows)
        self.set_keys(("Enter", "put the chosen things back"))

    def _ask(self) -> None:
        catalog = self._given.catalog
        self._reading.ask(lambda _job: catalog.bin.entries(), done=self._show)

    def _show(self, things: tuple[BinEntry, ...]) -> None:
        self.rows.clear()
        for thing in things:
            item = QTreeWidgetItem([f"{thing.binned_at.astimezone():%d %b %Y  %H:%M}", thing.words])
            item.setData(0, _THING, thing)
            self.rows.addTopLevelItem(item)
        self.rows.resizeColumnToContents(0)
        self.rows.setCurrentIndex(self.rows.model().index(0, 0))
        self.rows.setVisible(bool(things))
        self._back.set_disabled_reason("" if things else "The bin is empty.")
        self._help.setText(
            "Nothing leaves the bin but by being put back; a batch brings its tools along."
            if things
            else "The bin is empty. What you delete comes here and can be put back."
        )

    def _put_back(self) -> None:
        catalog = self._given.catalog
        chosen = [item.data(0, _THING) for item in self.rows.selectedItems()]
        for thing in chosen:
            self._given.jobs.edit(
                partial(_put_back, catalog, thing), done=self._given.edits.happened.emit
            )

    def _look_again(self, _changes: Changes) -> None:
        self._ask()


def _put_back(catalog: Catalog, thing: BinEntry, _job: Job) -> Changes:
    return catalog.bin.restore(thing)
