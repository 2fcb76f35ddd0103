"""Photographs still to be taken across a batch: a list to take to the camera."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHeaderView, QTreeWidget, QTreeWidgetItem, QVBoxLayout

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.photographed_views import photographed_views
from planebench.catalog.reference import name_of
from planebench.trade.tool_photographs import MissingViews, missing_views
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label

# More rows would slow the window down, and nobody photographs more in one session.
_MOST_SHOWN = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    tool: ToolId
    stock: str
    title: str
    missing: MissingViews


class ViewsMissingScreen(Screen):
    """One row per tool: the views missing as found and finished."""

    def __init__(self, context: ScreenContext, batch: BatchId | None) -> None:
        super().__init__()
        self._context = context
        self._batch = batch
        self._rows: tuple[_Row, ...] = ()
        self._reading = LatestRead(context.jobs, self)
        self.rows = QTreeWidget()
        self._help = Label(ink=Ink.MUTED).wrapped()
        self._lay_out()
        context.edits.happened.connect(self._refresh)
        self._ask()

    def as_text(self) -> str:
        """Return the list as plain text, for a phone or paper."""
        lines = []
        for row in self._rows:
            for words, views in (
                ("as found", row.missing.as_found),
                ("finished", row.missing.finished),
            ):
                if views:
                    lines.append(f"{row.stock} {row.title}, {words}: {_named(views)}")
        return "\n".join(lines)

    def _lay_out(self) -> None:
        rows = self.rows
        rows.setAccessibleName("Tools with views missing")
        rows.setRootIsDecorated(False)
        rows.setHeaderLabels(["Tool", "", "Missing as found", "Missing finished"])
        for at in (2, 3):
            rows.header().setSectionResizeMode(at, QHeaderView.ResizeMode.Stretch)
        rows.itemActivated.connect(lambda _item: self._open())
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(self._help)
        column.addWidget(rows, 1)
        copy = ActionButton("Copy list", weight=ButtonWeight.MAIN)
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.as_text()))
        self.set_title_buttons(copy)
        self.set_title("Photographs still to take", up="Back")
        self.set_regions(rows)
        self.set_keys(("Enter", "open the tool"))

    def _ask(self) -> None:
        catalog, batch = self._context.catalog, self._batch
        self._reading.ask(lambda _job: _read(catalog, batch), done=self._show)

    def _show(self, found: tuple[_Row, ...]) -> None:
        self._rows = found
        self.rows.clear()
        self.rows.addTopLevelItems([_item(row) for row in found[:_MOST_SHOWN]])
        for at in (0, 1):
            self.rows.resizeColumnToContents(at)
        self.rows.setCurrentIndex(self.rows.model().index(0, 0))
        self.rows.setVisible(bool(found))
        self._help.setText(
            "The views a buyer expects for each kind of plane that are not photographed yet. "
            f"Finished views are listed once a tool is finished.{_not_shown(len(found))}"
            if found
            else "Every view a buyer expects is photographed."
        )

    def _open(self) -> None:
        at = self.rows.currentIndex().row()
        if 0 <= at < len(self._rows):
            self.go.emit(routes.ToolRoute(tool=self._rows[at].tool))

    def _refresh(self, changes: Changes) -> None:
        if changes.photographs or changes.tools:
            self._ask()


def _item(row: _Row) -> QTreeWidgetItem:
    missing = row.missing
    return QTreeWidgetItem(
        [row.stock, row.title, _named(missing.as_found), _named(missing.finished)]
    )


def _not_shown(count: int) -> str:
    if count <= _MOST_SHOWN:
        return ""
    return f" The first {_MOST_SHOWN} of {count} tools are shown; Copy list copies all."


def _named(views: tuple[str, ...]) -> str:
    return ", ".join(name_of("views", view) for view in views)


def _read(catalog: Catalog, batch: BatchId | None) -> tuple[_Row, ...]:
    kinds = catalog.kinds.all()
    rows = []
    for tool in photographed_views(catalog, batch):
        kind = kinds.get(tool.kind)
        missing = missing_views(() if kind is None else kind.views, tool.there, tool.status)
        if missing.as_found or missing.finished:
            rows.append(_Row(tool=tool.tool, stock=tool.stock, title=tool.title, missing=missing))
    return tuple(rows)
