"""The bin: deleted items that can be restored."""

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
from planebench.trade.days import DayOrder
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.row_menu import MenuEntry, open_row_menu
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label
from planebench.window.timestamps import format_timestamp

_THING = Qt.ItemDataRole.UserRole


class BinScreen(Screen):
    """The bin, newest first."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__()
        self._context = context
        self._reading = LatestRead(context.jobs, self)
        self.rows = QTreeWidget()
        self._help = Label(ink=Ink.MUTED).wrapped()
        self._restore_button = ActionButton("Restore", weight=ButtonWeight.MAIN, key="Enter")
        self._lay_out()
        context.edits.happened.connect(self._refresh)
        self._ask()

    def _lay_out(self) -> None:
        rows = self.rows
        rows.setAccessibleName("Deleted items")
        rows.setRootIsDecorated(False)
        rows.setUniformRowHeights(True)
        rows.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        rows.setHeaderLabels(["Deleted", "Item"])
        rows.header().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        rows.itemActivated.connect(lambda _item: self._restore())
        rows.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        rows.customContextMenuRequested.connect(
            lambda at: open_row_menu(
                rows, at, [MenuEntry(words="Restore", act=self._restore, key="Enter")]
            )
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(self._help)
        column.addWidget(rows, 1)
        column.addStretch()  # keeps the text at the top while there are no rows
        self._restore_button.clicked.connect(self._restore)
        self.set_title_buttons(self._restore_button)
        self.set_title("The bin", up="Back")
        self.set_regions(rows)
        self.set_keys(("Enter", "restore the selected items"))

    def _ask(self) -> None:
        catalog = self._context.catalog
        self._reading.ask(
            lambda _job: (catalog.bin.entries(), catalog.settings.read().order_of_days),
            done=self._show,
        )

    def _show(self, read: tuple[tuple[BinEntry, ...], DayOrder]) -> None:
        things, order = read
        self.rows.clear()
        for thing in things:
            item = QTreeWidgetItem([format_timestamp(thing.binned_at, order), thing.words])
            item.setData(0, _THING, thing)
            self.rows.addTopLevelItem(item)
        self.rows.resizeColumnToContents(0)
        self.rows.setCurrentIndex(self.rows.model().index(0, 0))
        self.rows.setVisible(bool(things))
        self._restore_button.set_disabled_reason("" if things else "The bin is empty.")
        self._help.setText(
            "Items stay here until restored. Restoring a batch also restores its tools."
            if things
            else "The bin is empty. Deleted items come here and can be restored."
        )

    def _restore(self) -> None:
        catalog = self._context.catalog
        chosen = [item.data(0, _THING) for item in self.rows.selectedItems()]
        for thing in chosen:
            self._context.jobs.edit(
                partial(_restore, catalog, thing), done=self._context.edits.happened.emit
            )

    def _refresh(self, _changes: Changes) -> None:
        self._ask()


def _restore(catalog: Catalog, thing: BinEntry, _job: Job) -> Changes:
    return catalog.bin.restore(thing)
