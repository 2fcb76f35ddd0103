"""The list of tools: filters, header, rows, and the form that adds tools."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QItemSelectionModel, QPoint, QPointF, QRect, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QShortcut,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QListView,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.catalog.ids import ToolId
from planebench.catalog.reference import Kind
from planebench.catalog.tools import MissingCounts
from planebench.trade.terms import TOOL_STATUS_WORDS, ToolStatus
from planebench.window.context import ScreenContext
from planebench.window.fonts import text_font
from planebench.window.pieces.choice_controls import CountSwitch, DropDown
from planebench.window.pieces.focus_ring import no_ring
from planebench.window.pieces.text import Ink, Label, LinkButton, heading
from planebench.window.screens.batch.add_tools_form import AddToolsForm
from planebench.window.screens.batch.batch_model import ToolListModel
from planebench.window.screens.batch.purchase_bill import counted
from planebench.window.screens.batch.tool_row_painter import ToolRowPainter, columns_for
from planebench.window.thumbnails import Thumbnails
from planebench.window.tokens import NOTE, tokens_now

_CHOICE = 168
_MISSING = (
    ("finished", "without a finished photograph"),
    ("date", "not dated"),
    ("measure", "not measured"),
    ("agreement", "with parts that disagree"),
)


class ToolListView(QListView):
    """The rows.

    Signals: `searched(str)` when letters are typed on them; `fitted(int)` with the width in pixels
    that a row has now, less where a scroll bar stands.
    """

    searched = Signal(str)
    fitted = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Tools")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setUniformItemSizes(True)
        self.setMouseTracking(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        no_ring(self)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fitted.emit(self.viewport().width())

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        text = event.text()
        plain = event.modifiers() in {
            Qt.KeyboardModifier.NoModifier,
            Qt.KeyboardModifier.ShiftModifier,
        }
        if plain and text.isprintable() and text.strip():
            self.searched.emit(text)
            return
        super().keyPressEvent(event)


class _Head(QWidget):
    """The column header."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.alone = False
        self._row = 0
        self.setFixedHeight(36)

    def fit(self, row: int) -> None:
        """Match rows of this width in px."""
        self._row = row
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.setFont(text_font(NOTE))
        painter.setPen(QColor(tokens.muted))
        columns = columns_for(self._row, alone=self.alone)
        for (left, wide), name in (
            (columns.photo, "Latest"),
            (columns.tool, "Tool"),
            (columns.finish, "Finish left, main surface"),
            (columns.made, "Made"),
            (columns.known, "Recorded"),
            (columns.missing, "Next step"),
        ):
            if wide:
                painter.drawText(QPointF(left, 22), name)
        painter.fillRect(QRect(0, self.height() - 1, self.width(), 1), QColor(tokens.edge))


class BatchList(QWidget):
    """The right side of the batch.

    Signals: `moved()` to another tool; `opened()`; `narrowed(lacks, statuses, kinds)`;
    `searched(str)`; `line_wanted(NewTool)`; `kinds_wanted()`; `menu_wanted(QPoint)` in the rows.
    `waiting` leads to photographs that are not filed yet.
    """

    moved = Signal()
    opened = Signal()
    narrowed = Signal(object, object, object)
    searched = Signal(str)
    line_wanted = Signal(object)
    kinds_wanted = Signal()
    menu_wanted = Signal(QPoint)

    def __init__(
        self,
        context: ScreenContext,
        kinds: Mapping[str, Kind],
        parent: QWidget | None = None,
        *,
        in_batch: bool,
    ) -> None:
        super().__init__(parent)
        self._in_batch = in_batch
        self._row = 0
        self.model = ToolListModel(context, self)
        self.rows = ToolListView()
        thumbnails = Thumbnails(context, self)
        self._painter = ToolRowPainter(thumbnails, self)
        self._head = _Head()
        self._count = Label(ink=Ink.MUTED)
        self.waiting = LinkButton("")
        self.waiting.hide()
        self.selection = LinkButton("")
        self.selection.hide()
        self.switches = {key: CountSwitch(0, text) for key, text in _MISSING}
        self.status = DropDown("Status", [("", "any status"), *_statuses()])
        self.kind = DropDown(
            "Kind", [("", "any kind"), *((k.code, k.name) for k in kinds.values())]
        )
        self.adding = AddToolsForm(kinds)
        self.adding.hide()
        self._empty = heading()
        self._empty_help = Label(ink=Ink.MUTED).wrapped()
        self._lay_out()
        self._connect(thumbnails)

    @property
    def current(self) -> ToolId | None:
        """The current tool of the list."""
        return self.model.tool_at(self.rows.currentIndex().row())

    @property
    def chosen(self) -> tuple[ToolId, ...]:
        """The selected tools in order."""
        indexes = self.rows.selectionModel().selectedIndexes()
        tools = (self.model.tool_at(row) for row in sorted(index.row() for index in indexes))
        return tuple(tool for tool in tools if tool is not None)

    def show_found(self, tools: Sequence[ToolId], counts: MissingCounts, *, narrowed: bool) -> None:
        """Show the tools and how many lack something."""
        self._row = max(0, self.rows.currentIndex().row())
        self.model.show_tools(tools)
        numbers = (
            counts.no_finished_photograph,
            counts.not_dated,
            counts.not_measured,
            counts.parts_disagree,
        )
        for (key, _), number in zip(_MISSING, numbers, strict=True):
            switch = self.switches[key]
            switch.set_count(number)
            switch.setVisible(bool(number) or switch.isChecked())
        to_do = " Still to do:" if any(numbers) else ""
        self._count.setText(f"{counted(counts.tools)}.{to_do}")
        self._show_empty(nothing=not tools, narrowed=narrowed)

    def show_waiting(self, photographs: int) -> None:
        """Show how many photographs are not filed under a tool yet."""
        many = f"{photographs} photographs wait" if photographs > 1 else "1 photograph waits"
        self.waiting.setText(f"{many} to be filed")
        self.waiting.setVisible(photographs > 0)

    def select_tool(self, tool: ToolId | None) -> None:
        """Select a tool; where it is gone, the row above where one was, else the first."""
        row = self.model.row_of(tool)
        if row < 0:
            row = min(max(0, self._row - 1), self.model.rowCount() - 1)
        index = self.model.index(row)
        if index.isValid() and index != self.rows.currentIndex():
            self.rows.selectionModel().setCurrentIndex(
                index, QItemSelectionModel.SelectionFlag.ClearAndSelect
            )
            self.rows.scrollTo(index)

    def show_adding(self, *, shown: bool) -> None:
        """Open or close the form that adds tools."""
        self.adding.setVisible(shown)
        if shown:
            self.adding.begin()
        else:
            self.rows.setFocus()

    def set_roomy(self, *, roomy: bool) -> None:
        """Move the status and kind filters beside the counts, or below them where it is narrow."""
        line, other = (self._above, self._filters) if roomy else (self._filters, self._above)
        if line.indexOf(self.status) >= 0:
            return
        for at, choice in enumerate((self.status, self.kind)):
            other.removeWidget(choice)
            line.insertWidget(line.count() if roomy else at, choice)
        if not roomy:
            line.setAlignment(Qt.AlignmentFlag.AlignLeft)

    def set_alone(self, *, alone: bool) -> None:
        """Enlarge the photographs in the rows when there is no preview beside them."""
        if self._painter.alone != alone:
            self._painter.alone = alone
            self._head.alone = alone
            self.rows.scheduleDelayedItemsLayout()
            self._head.update()

    def _show_empty(self, *, nothing: bool, narrowed: bool) -> None:
        self.rows.setVisible(not nothing)
        self._head.setVisible(not nothing)
        for words_ in (self._empty, self._empty_help):
            words_.setVisible(nothing)
        if narrowed:
            self._empty.setText("No matching tools")
            self._empty_help.setText(
                "Remove a filter or search for fewer words. Esc clears the find field."
            )
        elif self._in_batch:
            self._empty.setText("No tools in this batch yet")
            self._empty_help.setText(
                "Press Ins or choose Add tools. One line each; stock numbers are assigned."
            )
        else:
            self._empty.setText("No tools in this catalog yet")
            self._empty_help.setText("Add a purchase first, then its tools.")

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 24, 0)
        column.setSpacing(0)
        above = QHBoxLayout()
        above.setContentsMargins(16, 12, 0, 4)
        above.setSpacing(8)
        above.addWidget(self._count)
        above.addWidget(self.waiting)
        for switch in self.switches.values():
            above.addWidget(switch)
        above.addStretch(1)
        column.addLayout(above)
        self._filters = self._choices()
        self._above = above
        column.addLayout(self._filters)
        column.addWidget(self.adding)
        column.addWidget(self._head)
        self.rows.setModel(self.model)
        self.rows.setItemDelegate(self._painter)
        column.addWidget(self.rows, 1)
        self.rows.fitted.connect(self._head.fit)
        for words_ in (self._empty, self._empty_help):
            words_.setContentsMargins(16, 24, 0, 0)
            words_.hide()
            column.addWidget(words_)
        column.addStretch(0)

    def _choices(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(16, 0, 0, 0)
        row.setSpacing(8)
        for choice in (self.status, self.kind):
            choice.setFixedWidth(_CHOICE)
        row.addWidget(self.selection)
        return row

    def _connect(self, thumbnails: Thumbnails) -> None:
        thumbnails.ready.connect(lambda _photo: self.rows.viewport().update())
        self.rows.selectionModel().currentChanged.connect(lambda *_: self.moved.emit())
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._show_selection())
        self.rows.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.rows.customContextMenuRequested.connect(self.menu_wanted)
        self.selection.clicked.connect(lambda: self.menu_wanted.emit(self._menu_corner()))
        self.rows.activated.connect(lambda _index: self.opened.emit())
        self.rows.searched.connect(self.searched)
        self.adding.wanted.connect(self.line_wanted)
        self.adding.kinds_wanted.connect(self.kinds_wanted)
        self.adding.left.connect(lambda: self.show_adding(shown=False))
        for number, switch in enumerate(self.switches.values(), start=1):
            switch.toggled.connect(lambda _on: self._narrow())
            shortcut = QShortcut(QKeySequence(f"Alt+{number}"), self)
            shortcut.activated.connect(switch.toggle)
        self.status.chosen.connect(lambda _key: self._narrow())
        self.kind.chosen.connect(lambda _key: self._narrow())

    def _show_selection(self) -> None:
        """Show how many tools are selected, as a link to what can be done with all of them."""
        count = len(self.rows.selectionModel().selectedIndexes())
        self.selection.setText(f"{count} selected: actions")
        self.selection.setVisible(count > 1)

    def _menu_corner(self) -> QPoint:
        below = self.selection.mapTo(self, QPoint(0, self.selection.height()))
        return self.rows.mapFrom(self, below)

    def _narrow(self) -> None:
        lacks = frozenset(key for key, switch in self.switches.items() if switch.isChecked())
        statuses = frozenset({ToolStatus(self.status.held)}) if self.status.held else frozenset()
        kinds = frozenset({self.kind.held}) if self.kind.held else frozenset()
        self.narrowed.emit(lacks, statuses, kinds)


def _statuses() -> list[tuple[str, str]]:
    return [(status.value, told) for status, told in TOOL_STATUS_WORDS.items()]
