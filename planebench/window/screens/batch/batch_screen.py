"""The tools of a batch or of the whole catalog, each with its next step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence, QPixmap, QResizeEvent, QShortcut
from PySide6.QtWidgets import QApplication, QHBoxLayout
from typing_extensions import override

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, PhotographId, ToolId
from planebench.catalog.tools import MissingCounts, NewTool, ToolFilter
from planebench.catalog.values import Batch, Tool
from planebench.errors import InputError
from planebench.trade.stock import stock_numbers
from planebench.trade.terms import TOOL_STATUS_WORDS, PartStatus, ToolStatus
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead, Throttle
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.row_menu import MenuEntry, open_row_menu
from planebench.window.pieces.screen import Screen
from planebench.window.screens.batch.batch_list import BatchList
from planebench.window.screens.batch.purchase_bill import PurchaseBill, bill_of
from planebench.window.screens.batch.tool_preview import ToolPreview

_ALONE_UNDER = 1100
_NARROW_UNDER = 1400
_ROOMY = 1800


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """What was read for the list: tools, counts of what is missing, the purchase."""

    tools: tuple[ToolId, ...]
    counts: MissingCounts
    batch: Batch | None
    bill: PurchaseBill | None
    next_number: str
    waiting: int


class BatchScreen(Screen):
    """The list of tools with a preview beside it. `batch` None shows the whole catalog."""

    def __init__(self, context: ScreenContext, batch: BatchId | None, *, words: str = "") -> None:
        super().__init__()
        self._context = context
        self._batch_id = batch
        self._wanted = ToolFilter(batch=batch, words=words)
        self._added = 0
        self._select_after_read: ToolId | None = None
        self._kinds = context.basics.kinds
        self.list = BatchList(context, self._kinds, in_batch=batch is not None)
        self.preview = ToolPreview()
        self._rule = Rule(upright=True)
        self._add = ActionButton("Add tools", key="Ins")
        self._listing = LatestRead(context.jobs, self)
        self._showing = LatestRead(context.jobs, self)
        self._picturing = LatestRead(context.jobs, self)
        self._typing = Throttle(120, self)
        self._words_pending: str | None = None
        self._open_when_found = False
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._refresh)
        self._ask()

    @property
    def current(self) -> ToolId | None:
        """The current tool of the list."""
        return self.list.current

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The selected tools, for the menus."""
        return self.list.chosen

    @property
    @override
    def current_batch(self) -> BatchId | None:
        """The batch shown, for the menus."""
        return self._batch_id

    @property
    @override
    def find_words(self) -> str:
        """The search words, for the find field."""
        return self._wanted.words

    def search(self, words: str) -> None:
        """Show only tools whose texts contain all these words."""
        self._words_pending = words
        self._open_when_found = False
        self._typing.ask(lambda: self._narrow(replace(self._wanted, words=words)))

    @override
    def open_selected(self) -> None:
        """Open the selected tool, once the words typed last were searched for."""
        if self._words_pending is None:
            self._open()
        else:
            self._open_when_found = True

    def begin_adding(self) -> None:
        """Open the form that adds tools."""
        if self._batch_id is not None:
            self.list.show_adding(shown=True)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        width = self.width()
        alone = width < _ALONE_UNDER
        self.preview.setVisible(not alone)
        self._rule.setVisible(not alone)
        self.list.set_alone(alone=alone)
        self.list.set_roomy(roomy=width >= _ROOMY)
        self.preview.setFixedWidth(416 if width < _NARROW_UNDER else round(width * 0.37))

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.preview)
        row.addWidget(self._rule)
        row.addWidget(self.list, 1)
        self.set_regions(self.list.rows, self.preview)
        self.set_keys(
            ("Up, Down", "previous or next tool"),
            ("Enter, double click", "open the tool"),
            ("Ctrl+click, Shift+click", "select several tools"),
            ("Menu, right click", "actions for the selected tools"),
            ("Ins", "add tools, one line each"),
            ("Delete", "delete the selected tools"),
            ("Alt+1 to 4", "show only tools that lack something"),
            ("letters", "search"),
        )

    def _connect(self) -> None:
        self.list.moved.connect(self._show_current)
        self.list.opened.connect(self._open)
        self.list.narrowed.connect(self._narrow_by)
        self.list.searched.connect(self._search)
        self.list.menu_wanted.connect(self._open_menu)
        self.list.line_wanted.connect(self._add_tool)
        self.preview.open_wanted.connect(self._open)
        self.preview.sheet_wanted.connect(self._sheet)
        self.preview.photographs_wanted.connect(self._photographs_of_tool)
        self.list.waiting.clicked.connect(
            lambda: self.go.emit(routes.ImportRoute(batch=self._batch_id, waiting=True))
        )
        self.list.kinds_wanted.connect(lambda: self.go.emit(routes.KindsRoute()))
        self._add.clicked.connect(self.begin_adding)
        photographs = ActionButton("Add photographs")
        photographs.clicked.connect(lambda: self.go.emit(routes.ImportRoute(batch=self._batch_id)))
        sheets = ActionButton("Print sheets")
        sheets.clicked.connect(self._sheets)
        if self._batch_id is None:
            self.set_title_buttons(photographs)
        else:
            self.set_title_buttons(self._add, photographs, sheets)
        # For the whole screen: an empty batch has no rows to take the focus.
        QShortcut(QKeySequence("Ins"), self).activated.connect(self.begin_adding)
        bin_them = QShortcut(QKeySequence("Del"), self.list.rows)
        bin_them.setContext(Qt.ShortcutContext.WidgetShortcut)
        bin_them.activated.connect(self._delete_selected)

    def _ask(self) -> None:
        wanted, catalog = self._wanted, self._context.catalog
        self._listing.ask(lambda _job: _found(catalog, wanted), done=self._show)

    def _show(self, found: _Found) -> None:
        keep = self._select_after_read or self.current
        self._select_after_read = None
        self._title(found)
        self.list.show_found(found.tools, found.counts, narrowed=self._is_narrowed())
        self.list.show_waiting(found.waiting)
        self.list.adding.say_next(found.next_number, self._added)
        if found.bill is not None:
            self.preview.show_bill(found.bill)
        self.list.select_tool(keep)
        self._show_current()
        self._highlight_add(empty=not found.tools and not self._is_narrowed())
        if self._words_pending == self._wanted.words:
            self._words_pending = None
            if self._open_when_found:
                self._open_when_found = False
                self._open()

    def _highlight_add(self, *, empty: bool) -> None:
        """Make adding tools the next step of an empty batch."""
        self._add.set_weight(ButtonWeight.MAIN if empty else ButtonWeight.NORMAL)
        held = QApplication.focusWidget()
        idle = held is None or held is self or self.isAncestorOf(held)
        if empty and idle and self.isVisible() and not self.list.adding.isVisible():
            self._add.setFocus()

    def _title(self, found: _Found) -> None:
        batch = found.batch
        if batch is None:
            words = self._wanted.words
            text = f"Tools with “{words}”" if words else "All tools"
            self.set_title(text, up="All batches", remark=f"{found.counts.tools} found")
        else:
            self.set_title(f"{batch.code}  {batch.title}", up="All batches")

    def _is_narrowed(self) -> bool:
        return self._wanted != ToolFilter(batch=self._batch_id)

    def _narrow(self, wanted: ToolFilter) -> None:
        self._wanted = wanted
        self._ask()

    def _narrow_by(
        self, lacks: frozenset[str], statuses: frozenset[ToolStatus], kinds: frozenset[str]
    ) -> None:
        self._narrow(replace(self._wanted, lacks=lacks, statuses=statuses, kinds=kinds))

    def _search(self, letters: str) -> None:
        window = self.window()
        line = getattr(window, "find_field", None)
        if line is not None:
            line.take_keyboard()
            line.setText(letters)
            line.typed.emit(letters)

    def _show_current(self) -> None:
        tool = self.current
        if tool is None:
            self.preview.show_tool(None)
            return
        catalog = self._context.catalog
        self._showing.ask(lambda _job: catalog.tools.one(tool), done=self._show_tool)

    def _show_tool(self, tool: Tool) -> None:
        if tool.id != self.current:
            return
        kind = self._kinds.get(tool.kind)
        self.preview.show_tool(tool, "other" if kind is None else kind.drawing)
        photo = tool.line.latest_photograph
        if photo is None:
            self.preview.photograph.show_pixmap(None, "no photograph yet")
            return
        catalog = self._context.catalog
        self._picturing.ask(
            lambda _job: _preview(catalog, PhotographId(photo)), done=self._show_picture
        )

    def _show_picture(self, data: bytes) -> None:
        pixmap = QPixmap()
        pixmap.loadFromData(data)
        self.preview.photograph.show_pixmap(pixmap, "latest photograph of the tool")

    def _open(self) -> None:
        if self.current is not None:
            self.go.emit(routes.ToolRoute(tool=self.current))

    def _sheet(self) -> None:
        if self.current is not None:
            self.go.emit(routes.SheetRoute(tools=(self.current,)))

    def _sheets(self) -> None:
        tools = self.list.chosen if len(self.list.chosen) > 1 else self.list.model.tools
        if tools:
            self.go.emit(routes.SheetRoute(tools=tuple(tools)))

    def _photographs_of_tool(self) -> None:
        if self.current is not None:
            self.go.emit(routes.ImportRoute(tool=self.current, batch=self._batch_id))

    def _open_menu(self, at: QPoint) -> None:
        """Open the actions for the selected tools."""
        tools = self.list.chosen
        if tools:
            open_row_menu(self.list.rows, at, self._menu_entries(tools))

    def _menu_entries(self, tools: tuple[ToolId, ...]) -> list[MenuEntry]:
        go = self.go.emit
        entries = [
            MenuEntry(
                words="Set status",
                below=tuple(
                    MenuEntry(words=words, act=partial(self._set_status, tools, status))
                    for status, words in TOOL_STATUS_WORDS.items()
                ),
            ),
            MenuEntry(words="Mark all parts present", act=partial(self._mark_present, tools)),
            MenuEntry(words="Condition sheet", act=lambda: go(routes.SheetRoute(tools=tools))),
            MenuEntry(words="Print cards", act=lambda: go(routes.CardsRoute(tools=tools))),
            MenuEntry(words="Delete", act=self._delete_selected, key="Del"),
        ]
        if len(tools) == 1:
            entries[:0] = [
                MenuEntry(words="Open", act=self._open, key="Enter"),
                MenuEntry(words="Add photographs", act=self._photographs_of_tool),
            ]
        return entries

    def _set_status(self, tools: tuple[ToolId, ...], status: ToolStatus) -> None:
        catalog = self._context.catalog
        self._edit(lambda: catalog.tools.set_status(tools, status))

    def _mark_present(self, tools: tuple[ToolId, ...]) -> None:
        """Mark every part present that nobody looked for, but those not every model had."""
        catalog = self._context.catalog

        def mark() -> Changes:
            parts = (part for tool in tools for part in catalog.tools.one(tool).parts)
            rest = [
                part.id
                for part in parts
                if part.status is PartStatus.NOT_SEEN and not part.optional
            ]
            return catalog.parts.set_status(tuple(rest), PartStatus.PRESENT)

        self._edit(mark)

    def _edit(self, verb: Callable[[], Changes]) -> None:
        self._context.jobs.edit(
            lambda _job: verb(), done=self._context.edits.happened.emit, owner=self
        )

    def _delete_selected(self) -> None:
        tools, catalog = self.list.chosen, self._context.catalog
        if tools:
            self._context.jobs.edit(
                lambda _job: catalog.tools.bin(tools), done=self._context.edits.happened.emit
            )

    def _add_tool(self, new: NewTool) -> None:
        batch, catalog = self._batch_id, self._context.catalog
        if batch is None:
            return
        self._context.jobs.edit(
            lambda _job: catalog.tools.add(batch, new),
            done=lambda added: self._tool_added(added.id, added.changes),
            failed=self._add_refused,
            owner=self,
        )

    def _tool_added(self, tool: ToolId, changes: Changes) -> None:
        self._added += 1
        self._select_after_read = tool
        self.list.adding.ready_for_next()
        self._context.edits.happened.emit(changes)

    def _add_refused(self, error: Exception) -> None:
        if isinstance(error, InputError):
            self.list.adding.refuse(error)
        else:
            self._context.notices.trouble(error)

    def _refresh(self, changes: Changes) -> None:
        self.list.model.refresh(changes.tools)
        if changes.tools or changes.batches or changes.photographs or changes.catalog_wide:
            self._ask()


def _found(catalog: Catalog, wanted: ToolFilter) -> _Found:
    tools = catalog.tools.find(wanted)
    counts = catalog.tools.counts(wanted)
    waiting = catalog.photographs.waiting(wanted.batch)
    if wanted.batch is None:
        return _Found(
            tools=tools, counts=counts, batch=None, bill=None, next_number="", waiting=waiting
        )
    batch = catalog.batches.one(wanted.batch)
    whole = catalog.tools.find(ToolFilter(batch=wanted.batch))
    sold = catalog.tools.sold_prices(wanted.batch)
    settings = catalog.settings.read()
    free = stock_numbers(
        settings.stock_pattern,
        batch.code,
        catalog.tools.stock_numbers(),
        start=settings.first_stock_number,
    )
    return _Found(
        tools=tools,
        counts=counts,
        batch=batch,
        bill=bill_of(batch, len(whole), sold, settings.order_of_days),
        next_number=next(free),
        waiting=waiting,
    )


def _preview(catalog: Catalog, photograph: PhotographId) -> bytes:
    return catalog.pictures.preview(catalog.photographs.one(photograph), 1600)
