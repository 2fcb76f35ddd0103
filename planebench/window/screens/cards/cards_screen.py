"""Scale cards and tags: preview, print and save, corrected for the printer."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout
from typing_extensions import override

from planebench.catalog.changes import Changes
from planebench.catalog.ids import ToolId
from planebench.catalog.settings import CatalogSettings
from planebench.sheet.content import Paper
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead, Throttle
from planebench.window.pieces.pages_bar import PagesBar
from planebench.window.pieces.pages_view import PAGES_KEYS, PagesView
from planebench.window.pieces.screen import Screen
from planebench.window.printing import Papers, format_print_result, print_papers, set_up, write_file
from planebench.window.saved_choices import SavedChoices
from planebench.window.screens.cards.card_pages import CardPages, CardRequest, set_pages
from planebench.window.screens.cards.cards_panel import CardsPanel
from planebench.window.system_dialogs import SystemDialogs, documents

_ROOMY_FROM = 1400
_WIDE_COLUMN, _COLUMN = 432, 376
_PAUSE_MS = 250
_NOTHING = "Choose cards, tags or both."
_NO_TOOL = "No tool is selected. Add tools to a batch first: each card carries a stock number."


class CardsScreen(Screen):
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
        self._outlets = outlets or SystemDialogs()
        self._ready = False
        self.pages = PagesView("Pages of cards")
        self.bar = PagesBar(self.pages)
        self.column = CardsPanel(len(tools))
        self._preview_read = LatestRead(context.jobs, self)
        self._settings_read_job = LatestRead(context.jobs, self)
        self._saved_choices = SavedChoices(context, self)
        self._pause = Throttle(_PAUSE_MS, self)
        self._lay_out()
        self._connect()
        self.set_title("Scale cards and tags", up="Back")
        if tools:
            self._read_settings()
        else:
            self.pages.set_placeholder(_NO_TOOL)
            self.column.set_disabled_reason("No tool is selected.")

    @property
    def request(self) -> CardRequest:
        """The print run as chosen now."""
        return CardRequest(
            tools=self._tools,
            paper=Paper(self.column.paper.held),
            cards=self.column.cards.isChecked(),
            tags=self.column.tags_each,
            scale=self.column.scale,
        )

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.column.setFixedWidth(_WIDE_COLUMN if self.width() >= _ROOMY_FROM else _COLUMN)

    def print_cards(self) -> None:
        """Ask for a printer and print."""
        request = self.request
        if request.empty:
            return
        papers = Papers(name="Scale cards", pdfs=(), paper=request.paper)
        self._outlets.printer(
            self,
            lambda printer: set_up(printer, papers),
            lambda printer: self._print(request, papers, printer),
        )

    def save_cards(self) -> None:
        """Ask for a file name and save a PDF."""
        request = self.request
        if not request.empty:
            name = "Scale cards.pdf" if request.cards else "Tags.pdf"
            self._outlets.file(self, documents() / name, lambda path: self._save(request, path))

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
        self.set_regions(self.pages, self.column.paper, self.column.print)
        self.set_keys(*PAGES_KEYS, ("Ctrl+P", "print"))

    def _connect(self) -> None:
        self.column.chosen.connect(self._ask)
        self.column.kept.connect(self._saved_choices.keep)
        self.column.print.clicked.connect(self.print_cards)
        self.column.save.clicked.connect(self.save_cards)
        self.pages.dots_wanted.connect(lambda _dots: self._pause.ask(self._ask))
        self._context.edits.happened.connect(self._look_again)
        shortcut = QShortcut(QKeySequence("Ctrl+P"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.column.print.click)

    def _read_settings(self) -> None:
        settings = self._context.catalog.settings
        self._settings_read_job.ask(lambda _job: settings.read(), done=self._settings_read)

    def _settings_read(self, settings: CatalogSettings) -> None:
        if not self._saved_choices.writing:
            self.column.take_settings(settings)
        self._ready = True
        self._ask()

    def _look_again(self, changes: Changes) -> None:
        if changes.catalog_wide and self._tools and not self._saved_choices.writing:
            self._read_settings()
        elif changes.tools & set(self._tools):
            self._pause.ask(self._ask)

    def _ask(self) -> None:
        if not self._ready:
            return
        request, catalog, dots = self.request, self._context.catalog, self.pages.dots
        self.column.set_disabled_reason(_NOTHING if request.empty else "")
        if request.empty:
            self.pages.set_placeholder(_NOTHING)
            self.pages.show_pages((), self.pages.points)
            return
        self._preview_read.ask(
            lambda job: set_pages(catalog, request, dots, job),
            done=self._show,
            failed=self._not_set,
        )

    def _show(self, shown: CardPages) -> None:
        if self.request.empty:
            return
        self.pages.show_pages(shown.pages, shown.points)
        count = len(shown.stocks)
        remark = "one tool" if count == 1 else f"{count} tools"
        self.set_title("Scale cards and tags", up=shown.place, remark=remark)

    def _not_set(self, error: Exception) -> None:
        self.pages.set_placeholder("The pages could not be made.")
        self._context.notices.trouble(error)

    def _print(self, request: CardRequest, papers: Papers, printer: QPrinter) -> None:
        catalog = self._context.catalog

        def work(job: Job) -> int:
            pdf = set_pages(catalog, request, None, job).pdf
            return print_papers(replace(papers, pdfs=(pdf,)), printer, job)

        self.column.set_disabled_reason("Printing.")
        job = self._context.jobs.read(
            work,
            done=lambda pages: self._printed(printer, pages),
            failed=self._failed,
            owner=self,
            text="Printing",
        )
        job.stopped.connect(self._over)

    def _save(self, request: CardRequest, path: Path) -> None:
        catalog = self._context.catalog
        self.column.set_disabled_reason("Saving.")
        job = self._context.jobs.read(
            lambda job: write_file(path, set_pages(catalog, request, None, job).pdf),
            done=self._saved,
            failed=self._failed,
            owner=self,
        )
        job.stopped.connect(self._over)

    def _saved(self, path: Path) -> None:
        self._over()
        self._context.notices.advise(
            f"Saved as {path}.", remedy="Print it at full size (100%, not “fit to page”)."
        )

    def _printed(self, printer: QPrinter, pages: int) -> None:
        self._over()
        self._context.notices.advise(format_print_result(printer, pages))

    def _over(self) -> None:
        self.column.set_disabled_reason(_NOTHING if self.request.empty else "")

    def _failed(self, error: Exception) -> None:
        self._over()
        self._context.notices.trouble(error)
