"""The item model of the tool list: ids at once, lines read when they become visible."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from typing_extensions import override

from planebench.catalog.ids import ToolId
from planebench.catalog.values import ToolLine
from planebench.trade.terms import TOOL_STATUS_WORDS
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job

LINE_ROLE = Qt.ItemDataRole.UserRole
_PAGE = 60  # rows read at once; a few screens full
AnyIndex = QModelIndex | QPersistentModelIndex


class ToolListModel(QAbstractListModel):
    """Tools in order. Old lines stay until new ones are read."""

    def __init__(self, context: ScreenContext, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._tools: list[ToolId] = []
        self._places: dict[ToolId, int] = {}
        self._lines: dict[ToolId, ToolLine] = {}
        self._asked: set[ToolId] = set()

    def show_tools(self, tools: Sequence[ToolId]) -> None:
        """Show these tools in this order."""
        if list(tools) == self._tools:
            return
        self.beginResetModel()
        self._tools = list(tools)
        self._places = {tool: row for row, tool in enumerate(tools)}
        self.endResetModel()

    def refresh(self, tools: frozenset[ToolId]) -> None:
        """Read the lines of changed tools again."""
        seen = [tool for tool in tools if tool in self._lines]
        if seen:
            self._fetch(seen)

    @property
    def tools(self) -> tuple[ToolId, ...]:
        """The tools shown, in order."""
        return tuple(self._tools)

    def tool_at(self, row: int) -> ToolId | None:
        """Return the tool of a row."""
        return self._tools[row] if 0 <= row < len(self._tools) else None

    def row_of(self, tool: ToolId | None) -> int:
        """Return the row of a tool, -1 when it is not shown."""
        return -1 if tool is None else self._places.get(tool, -1)

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._tools)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        tool = self.tool_at(index.row()) if index.isValid() else None
        if tool is None:
            return None
        line = self._lines.get(tool)
        if line is None:
            self._ask_around(index.row())
        if role == LINE_ROLE:
            return line
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return "…" if line is None else row_description(line)
        return None

    def _ask_around(self, row: int) -> None:
        page = row // _PAGE * _PAGE
        wanted = [
            tool
            for tool in self._tools[page : page + _PAGE]
            if tool not in self._lines and tool not in self._asked
        ]
        if wanted:
            self._fetch(wanted)

    def _fetch(self, tools: list[ToolId]) -> None:
        self._asked.update(tools)
        catalog = self._context.catalog

        def ask(_job: Job) -> dict[ToolId, ToolLine]:
            return catalog.tools.lines(tools)

        self._context.jobs.read(ask, done=self._come, owner=self)

    def _come(self, lines: dict[ToolId, ToolLine]) -> None:
        self._asked.difference_update(lines)
        self._lines.update(lines)
        rows = [row for tool in lines if (row := self._places.get(tool)) is not None]
        if rows:
            self.dataChanged.emit(self.index(min(rows)), self.index(max(rows)))


def row_description(line: ToolLine) -> str:
    """Return a row in words, for a screen reader."""
    share = "finish not measured"
    if line.main_share is not None:
        share = f"finish left {float(line.main_share.value):.0%}"
    words = chain(
        (line.stock_number, TOOL_STATUS_WORDS[line.status], line.title, line.subtitle, share),
        (f"made {line.made}", f"next: {line.next_act.words}"),
    )
    return ", ".join(word for word in words if word)
