"""The condition sheets of one or several tools: preview, issue, print and save."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout
from typing_extensions import override

from planebench.catalog.changes import Changes
from planebench.catalog.ids import ToolId
from planebench.catalog.settings import CatalogSettings
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead, Throttle
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import LabeledControl
from planebench.window.pieces.pages_bar import PagesBar
from planebench.window.pieces.pages_view import PAGES_KEYS, PagesView
from planebench.window.pieces.screen import Screen
from planebench.window.saved_choices import SavedChoices
from planebench.window.screens.sheet.section_choice import LAYOUTS
from planebench.window.screens.sheet.sheet_messages import title_of
from planebench.window.screens.sheet.sheet_output import SheetOutput, Supplies
from planebench.window.screens.sheet.sheet_panel import SheetPanel
from planebench.window.screens.sheet.sheet_preview import Preview, SheetDesk, SheetRequest
from planebench.window.system_dialogs import SystemDialogs

_ROOMY_FROM = 1400
_WIDE_COLUMN, _COLUMN = 432, 376
_PAUSE_MS = 250


class SheetScreen(Screen):
    """The pages on the left, choices and buttons on the right."""

    def __init__(
        self,
        context: ScreenContext,
        tools: tuple[ToolId, ...],
        *,
        outlets: SystemDialogs | None = None,
    ) -> None:
        super().__init__()
        self._context = context
        self._tools = tools
        self._desk = SheetDesk(context.catalog)
        self._at = 0
        self._land_on: int | None = None
        self._ready = False
        self.preview: Preview | None = None
        self.pages = PagesView("Pages of the sheet")
        self.bar = PagesBar(self.pages)
        self.column = SheetPanel(several=len(tools) > 1)
        self.layouts = DropDown("Layout", LAYOUTS, holds="all")
        self._outgoing = SheetOutput(
            Supplies(
                context=context, desk=self._desk, outlets=outlets or SystemDialogs(), tools=tools
            ),
            self.column,
        )
        self._preview_read = LatestRead(context.jobs, self)
        self._settings_read_job = LatestRead(context.jobs, self)
        self._saved_choices = SavedChoices(context, self)
        self._pause = Throttle(_PAUSE_MS, self)
        self._lay_out()
        self._connect()
        self._begin()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.column.setFixedWidth(_WIDE_COLUMN if self.width() >= _ROOMY_FROM else _COLUMN)

    def step_tool(self, step: int) -> None:
        """Go to the previous (-1) or next (1) tool of those chosen."""
        to = self._at + step
        if 0 <= to < len(self._tools):
            self._at = to
            self._land_on = 0 if step > 0 else -1
            self._ask()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setSpacing(0)
        left.addWidget(self.pages, 1)
        left.addWidget(self.bar)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addLayout(left, 1)
        row.addWidget(self.column)
        self._previous = ActionButton("Previous tool")
        self._next = ActionButton("Next tool")
        labeled = LabeledControl("Layout", self.layouts, beside=52)
        labeled.setContentsMargins(16, 0, 0, 0)
        labeled.setFocusProxy(self.layouts)
        several = (self._previous, self._next) if len(self._tools) > 1 else ()
        self.set_title_buttons(*several, labeled)
        self.set_regions(self.pages, self.column.paper, self.column.issue_print)
        tool_keys = (("Ctrl+Page Up, Ctrl Page Down", "previous or next tool"),)
        self.set_keys(
            *PAGES_KEYS,
            *(tool_keys if several else ()),
            ("Ctrl+P", "issue and print"),
            ("Ctrl+Shift+P", "print a draft"),
        )

    def _connect(self) -> None:
        column = self.column
        column.chosen.connect(self._choose)
        column.kept.connect(self._saved_choices.keep)
        column.settings_wanted.connect(lambda: self.go.emit(routes.SettingsRoute()))
        self.layouts.chosen.connect(self._take_layout)
        self.pages.dots_wanted.connect(lambda _dots: self._ask_soon())
        self.pages.beyond.connect(self.step_tool)
        self._previous.clicked.connect(lambda: self.step_tool(-1))
        self._next.clicked.connect(lambda: self.step_tool(1))
        for keys, act in (
            ("Ctrl+P", column.issue_print.click),
            ("Ctrl+Shift+P", column.draft_print.click),
            ("Ctrl+PgUp", partial(self.step_tool, -1)),
            ("Ctrl+PgDown", partial(self.step_tool, 1)),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(act)
        self._context.edits.happened.connect(self._look_again)

    def _begin(self) -> None:
        if not self._tools:
            self.set_title("Condition sheets", up="Back")
            self.pages.set_placeholder(
                "No tool is selected. Select one in a batch, then open this screen again."
            )
            self.column.set_disabled_reason("No tool is selected.")
            return
        self.set_title("Condition sheet", up="Back")
        self._read_settings()

    def _read_settings(self) -> None:
        desk = self._desk
        self._settings_read_job.ask(lambda _job: desk.settings(), done=self._settings_read)

    def _settings_read(self, settings: CatalogSettings) -> None:
        if not self._saved_choices.writing:
            self.column.take_settings(settings)
        self._ready = True
        self._ask()

    def _choose(self) -> None:
        self.layouts.hold(self.column.shows.layout_held)
        self._ask()

    def _take_layout(self, key: str) -> None:
        self.column.shows.take_layout(key)
        self._choose()

    def _look_again(self, changes: Changes) -> None:
        if not self._ready:
            return
        if changes.catalog_wide and not self._saved_choices.writing:
            self._read_settings()
        elif changes.catalog_wide or changes.tools & set(self._tools):
            self._ask_soon()

    def _ask_soon(self) -> None:
        if self._ready:
            self._pause.ask(self._ask)

    def _ask(self) -> None:
        if not self._ready:
            return
        desk, before = self._desk, self.preview
        request = SheetRequest(
            tools=self._tools, at=self._at, choices=self.column.choices, dots=self.pages.dots
        )
        self._preview_read.ask(
            lambda job: desk.preview(request, before, job), done=self._show, failed=self._not_set
        )

    def _show(self, preview: Preview) -> None:
        self.preview = preview
        self.pages.show_pages(preview.pages, preview.points)
        if self._land_on is not None:
            self.pages.turn_to(self._land_on)
            self._land_on = None
        self.column.show_preview(preview)
        self._outgoing.seen = preview
        self._previous.set_disabled_reason("This is the first tool." if self._at == 0 else "")
        last = self._at == len(self._tools) - 1
        self._next.set_disabled_reason("This is the last tool." if last else "")
        title = title_of(preview)
        self.set_title(title.text, up=title.up, remark=title.remark)

    def _not_set(self, error: Exception) -> None:
        self.pages.set_placeholder("The pages could not be made.")
        self._context.notices.trouble(error)
