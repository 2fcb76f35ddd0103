"""The history of edits, of the catalog or of one tool."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
)

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.history import PastEdit
from planebench.catalog.ids import ToolId
from planebench.trade.days import DayOrder
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label
from planebench.window.timestamps import format_timestamp

_MOST = 2000  # rows; more would slow the list down, and older edits are seldom looked for


_HELP = (
    "Nothing is lost: what was undone can be redone (Ctrl+Shift+Z) until you change something else."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _History:
    """What was read: the title, the edits, newest first, and how days are written."""

    title: str
    lines: tuple[PastEdit, ...]
    order: DayOrder


class HistoryScreen(Screen):
    """Every edit, newest first; undone edits stay in the list and are marked."""

    def __init__(self, context: ScreenContext, tool: ToolId | None) -> None:
        super().__init__()
        self._context = context
        self._tool = tool
        self._reading = LatestRead(context.jobs, self)
        self.rows = QTreeWidget()
        self._help = Label(ink=Ink.MUTED).wrapped()
        self._undo_button = ActionButton("Undo", icon="undo", key="Ctrl+Z")
        self._redo_button = ActionButton("Redo", key="Ctrl+Shift+Z")
        self._lay_out()
        context.edits.happened.connect(self._refresh)
        self._ask()

    def _lay_out(self) -> None:
        rows = self.rows
        rows.setAccessibleName("Edits")
        rows.setRootIsDecorated(False)
        rows.setUniformRowHeights(True)
        rows.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        rows.setHeaderLabels(["When", "Who", "What", ""])
        rows.header().setStretchLastSection(False)
        rows.header().setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(self._help)
        column.addWidget(rows, 1)
        column.addStretch()  # keeps the text at the top while there are no rows
        self._undo_button.clicked.connect(self._undo)
        self._redo_button.clicked.connect(self._redo)
        self.set_title_buttons(self._redo_button, self._undo_button)
        self.set_title("History", up="Back")
        self.set_regions(rows)
        self.set_keys(
            ("Ctrl+Z", "undo the last edit"),
            ("Ctrl+Shift+Z", "redo it"),
            ("Esc", "back"),
        )

    def _ask(self) -> None:
        catalog, tool = self._context.catalog, self._tool
        self._reading.ask(lambda _job: _read(catalog, tool), done=self._show)

    def _show(self, read: _History) -> None:
        title, lines = read.title, read.lines
        self.set_title(title, up="Back", remark=f"{len(lines)} edits")
        self.rows.clear()
        self.rows.setVisible(bool(lines))
        self._help.setText(_HELP if lines else "No changes yet. Every change is listed here.")
        for line in lines:
            item = QTreeWidgetItem(
                [
                    format_timestamp(line.at, read.order),
                    line.who,
                    line.words,
                    "undone" if line.undone else "",
                ]
            )
            if line.undone:
                for at in range(4):
                    item.setForeground(at, self.palette().placeholderText())
            self.rows.addTopLevelItem(item)
        for at in (0, 1, 3):
            self.rows.resizeColumnToContents(at)
        self.rows.setCurrentIndex(self.rows.model().index(0, 0))

    def _undo(self) -> None:
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.history.undo(), done=self._context.edits.happened.emit
        )

    def _redo(self) -> None:
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.history.redo(), done=self._context.edits.happened.emit
        )

    def _refresh(self, _changes: Changes) -> None:
        self._ask()


def _read(catalog: Catalog, tool: ToolId | None) -> _History:
    title = "History" if tool is None else f"History of {catalog.tools.one(tool).stock_number}"
    return _History(
        title=title,
        lines=catalog.history.lines(tool=tool, limit=_MOST),
        order=catalog.settings.read().order_of_days,
    )
