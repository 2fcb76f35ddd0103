"""Scale cards and tags as they will be, for a printer that may not be quite true."""

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
_NOTHING = "Neither cards nor tags are chosen."
_NO_TOOL = "No tool was chosen. Add tools to a batch first: a card carries a tool’s stock number."


class CardsScreen(Screen):
    """The pages at the left, the choices and the acts at the right."""

    def __init__(
        self,
        given: ScreenContext,
        tools: tuple[ToolId, ...],
        *,
        outlets: SystemDialogs | None = None,
    ) -> None:
        super().__init__()
        self._given = given
        self._tools = tools
        self._outlets = outlets or SystemDialogs()
        self._ready = False
        self.pages = PagesView("Pages of cards as they will be")
        self.bar = PagesBar(self.pages)
        self.column = CardsPanel(len(tools))
        self._asking = LatestRead(given.jobs, self)
        self._reading = LatestRead(given.jobs, self)
        self._kept = SavedChoices(given, self)
        self._pause = Throttle(_PAUSE_MS, self)
        self._lay_out()
        self._connect()
        self.set_title("Scale cards and tags", up="Back")
        if tools:
            self._read_settings()
        else:
            self.pages.set_placeholder(_NO_TOOL)
            self.column.set_disabled_reason("No tool was chosen.")

    @property
    def wish(self) -> CardRequest:
        """What is chosen now."""
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
        """Ask for a printer and print there."""
        wish = self.wish
        if wish.empty:
            return
        papers = Papers(name="Scale cards", pdfs=(), paper=wish.paper)
        self._outlets.printer(
            self,
            lambda printer: set_up(printer, papers),
            lambda printer: self._print(wish, papers, printer),
        )

    def save_cards(self) -> None:
        """Ask for a place and write a PDF there."""
        wish = self.wish
        if not wish.empty:
            name = "Scale cards.pdf" if wish.cards else "Tags.pdf"
            self._outlets.file(self, documents() / name, lambda path: self._save(wish, path))

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
        self.set_keys(*PAGES_KEYS, ("Ctrl P", "print"))

    def _connect(self) -> None:
        self.column.chosen.connect(self._ask)
        self.column.kept.connect(self._kept.keep)
        self.column.print.clicked.connect(self.print_cards)
        self.column.save.clicked.connect(self.save_cards)
        self.pages.dots_wanted.connect(lambda _dots: self._pause.ask(self._ask))
        self._given.edits.happened.connect(self._look_again)
        shortcut = QShortcut(QKeySequence("Ctrl+P"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.column.print.click)

    def _read_settings(self) -> None:
        settings = self._given.catalog.settings
        self._reading.ask(lambda _job: settings.read(), done=self._settings_read)

    def _settings_read(self, settings: CatalogSettings) -> None:
        if not self._kept.writing:
            self.column.take_settings(settings)
        self._ready = True
        self._ask()

    def _look_again(self, changes: Changes) -> None:
        if changes.catalog_wide and self._tools and not self._kept.writing:
            self._read_settings()
        elif changes.tools & set(self._tools):
            self._pause.ask(self._ask)

    def _ask(self) -> None:
        if not self._ready:
            return
        wish, catalog, dots = self.wish, self._given.catalog, self.pages.dots
        self.column.set_disabled_reason(_NOTHING if wish.empty else "")
        if wish.empty:
            self.pages.set_placeholder(_NOTHING)
            self.pages.show_pages((), self.pages.points)
            return
        self._asking.ask(
            lambda job: set_pages(catalog, wish, dots, job), done=self._show, failed=self._not_set
        )

    def _show(self, shown: CardPages) -> None:
        if self.wish.empty:
            return
        self.pages.show_pages(shown.pages, shown.points)
        count = len(shown.stocks)
        remark = "one tool" if count == 1 else f"{count} tools"
        self.set_title("Scale cards and tags", up=shown.place, remark=remark)

    def _not_set(self, error: Exception) -> None:
        self.pages.set_placeholder("The pages could not be set.")
        self._given.notices.trouble(error)

    def _print(self, wish: CardRequest, papers: Papers, printer: QPrinter) -> None:
        catalog = self._given.catalog

        def work(job: Job) -> int:
            pdf = set_pages(catalog, wish, None, job).pdf
            return print_papers(replace(papers, pdfs=(pdf,)), printer, job)

        self.column.set_disabled_reason("They are being printed.")
        job = self._given.jobs.read(
            work,
            done=lambda pages: self._printed(printer, pages),
            failed=self._failed,
            owner=self,
            text="Printing",
        )
        job.stopped.connect(self._over)

    def _save(self, wish: CardRequest, path: Path) -> None:
        catalog = self._given.catalog
        self.column.set_disabled_reason("They are being saved.")
        job = self._given.jobs.read(
            lambda job: write_file(path, set_pages(catalog, wish, None, job).pdf),
            done=self._saved,
            failed=self._failed,
            owner=self,
        )
        job.stopped.connect(self._over)

    def _saved(self, path: Path) -> None:
        self._over()
        self._given.notices.advise(
            f"Saved as {path}.", remedy="Print it at full size, 100%, not fitted to the page."
        )

    def _printed(self, printer: QPrinter, pages: int) -> None:
        self._over()
        self._given.notices.advise(format_print_result(printer, pages))

    def _over(self) -> None:
        self.column.set_disabled_reason(_NOTHING if self.wish.empty else "")

    def _failed(self, error: Exception) -> None:
        self._over()
        self._given.notices.trouble(error)
