"""Who changed what when, in the catalog or of one tool."""

from __future__ import annotations

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
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label

_MOST = 2000


class HistoryScreen(Screen):
    """Every edit, the newest first; what was taken back stays in the list and says so."""

    def __init__(self, given: ScreenContext, tool: ToolId | None) -> None:
        super().__init__()
        self._given = given
        self._tool = tool
        self._reading = LatestRead(given.jobs, self)
        self.rows = QTreeWidget()
        self._help = Label(
            "Nothing is lost: what was taken back can be brought again (Ctrl Shift Z) until "
            "something new is written down.",
            ink=Ink.MUTED,
        ).wrapped()
        self._back = ActionButton("Take back the last", icon="undo", key="Ctrl Z")
        self._again = ActionButton("Bring it again", key="Ctrl Shift Z")
        self._lay_out()
        given.edits.happened.connect(self._look_again)
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
        self._back.clicked.connect(self._take_back)
        self._again.clicked.connect(self._bring_again)
        self.set_title_buttons(self._again, self._back)
        self.set_title("Who changed what when", up="Back")
        self.set_regions(rows)
        self.set_keys(
            ("Ctrl Z", "take back the last edit"),
            ("Ctrl Shift Z", "bring it again"),
            ("Esc", "back"),
        )

    def _ask(self) -> None:
        catalog, tool = self._given.catalog, self._tool
        self._reading.ask(lambda _job: _read(catalog, tool), done=self._show)

    def _show(self, read: tuple[str, tuple[PastEdit, ...]]) -> None:
        title, lines = read
        self.set_title(title, up="Back", remark=f"{len(lines)} edits")
        self.rows.clear()
        for line in lines:
            when = line.at.astimezone()
            item = QTreeWidgetItem(
                [
                    f"{when:%d %b %Y  %H:%M}",
                    line.who,
                    line.words,
                    "taken back" if line.undone else "",
                ]
            )
            if line.undone:
                for at in range(4):
                    item.setForeground(at, self.palette().placeholderText())
            self.rows.addTopLevelItem(item)
        for at in (0, 1, 3):
            self.rows.resizeColumnToContents(at)
        self.rows.setCurrentIndex(self.rows.model().index(0, 0))

    def _take_back(self) -> None:
        catalog = self._given.catalog
        self._given.jobs.edit(
            lambda _job: catalog.history.undo(), done=self._given.edits.happened.emit
        )

    def _bring_again(self) -> None:
        catalog = self._given.catalog
        self._given.jobs.edit(
            lambda _job: catalog.history.redo(), done=self._given.edits.happened.emit
        )

    def _look_again(self, _changes: Changes) -> None:
        self._ask()


def _read(catalog: Catalog, tool: ToolId | None) -> tuple[str, tuple[PastEdit, ...]]:
    if tool is None:
        return "Who changed what when", catalog.history.lines(limit=_MOST)
    number = catalog.tools.one(tool).stock_number
    return f"History of {number}", catalog.history.lines(tool=tool, limit=_MOST)
