"""Adding photographs: choose them, import them while other work goes on, file them."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, PhotographId, ToolId, new_id
from planebench.catalog.import_filing import Filed
from planebench.catalog.import_followup import undo_import
from planebench.catalog.import_types import Destination, FileFate, FileOutcome, ImportResult
from planebench.catalog.picture_cache import PREVIEWS
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.screen import Screen
from planebench.window.routes import ImportRoute
from planebench.window.screens.photo_import.filing_reasons_page import FilingReasonsPage
from planebench.window.screens.photo_import.import_counts import (
    WAIT_FOR_ALL,
    WAIT_FOR_YOU,
    ToolCounts,
)
from planebench.window.screens.photo_import.import_job import ImportJob, ImportUpdate, find_watch
from planebench.window.screens.photo_import.import_model import (
    ImportContext,
    ImportRequest,
    ImportTarget,
    ToolChoice,
    ToolCreation,
    find_tools,
    load_import_context,
    make_tools,
)
from planebench.window.screens.photo_import.import_progress_page import ImportProgressPage
from planebench.window.screens.photo_import.import_start_page import ImportStartPage
from planebench.window.screens.photo_import.import_summary import ImportSummary
from planebench.window.screens.photo_import.unfiled_page import Filing, UnfiledPage
from planebench.window.thumbnails import Thumbnails


class ImportPages(QStackedWidget):
    """A stack of pages; Esc goes back from one that was opened over another."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._over: QWidget | None = None
        self._behind: QWidget | None = None

    def open_over(self, page: QWidget) -> None:
        """Show a page from which Esc goes back to the one seen now."""
        if page is not self.currentWidget():
            self._over, self._behind = page, self.currentWidget()
            self.setCurrentWidget(page)

    def open_alone(self, page: QWidget) -> None:
        """Show a page from which Esc leaves the screen."""
        self._over = self._behind = None
        self.setCurrentWidget(page)

    @override
    def event(self, event: QEvent) -> bool:
        return (self._page_behind() is not None and keeps_esc(event)) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        behind = self._page_behind()
        if event.key() == Qt.Key.Key_Escape and behind is not None:
            self.setCurrentWidget(behind)
        else:
            super().keyPressEvent(event)

    def _page_behind(self) -> QWidget | None:
        return self._behind if self.currentWidget() is self._over else None


class PhotoImportScreen(Screen):
    """Adds photographs for a batch, a tool or the whole catalog."""

    def __init__(
        self,
        context: ScreenContext,
        batch: BatchId | None = None,
        tool: ToolId | None = None,
        paths: tuple[str, ...] = (),
    ) -> None:
        super().__init__()
        self._context = context
        self._batch = batch
        self._tool = tool
        self._by_tool = ToolCounts()
        self._summary = ImportSummary()
        # Outcomes of the batch of files under way; they move to the summary when it ends.
        self._pending_outcomes: list[FileOutcome] = []
        self._known: ImportContext | None = None
        self._titles: dict[ToolId, str] = {}
        self._to = Destination()
        self._taking = ImportJob(context, self)
        self._asking_catalog = LatestRead(context.jobs, self)
        self._finding_tools = LatestRead(context.jobs, self)
        self._make_pages()
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._look_again)
        self._ask()
        if paths:
            self.take(tuple(Path(path) for path in paths))

    def _make_pages(self) -> None:
        basics = self._context.basics
        thumbnails = Thumbnails(self._context, self)
        kinds = basics.kinds
        self.start_page = ImportStartPage(kinds, minutes=basics.settings.follow_minutes)
        large = Thumbnails(self._context, self, edge=PREVIEWS[0])
        self.progress_page = ImportProgressPage(thumbnails, large, kinds)
        self.reasons_page = FilingReasonsPage()
        self.unfiled_page = UnfiledPage(thumbnails, large)
        self.pages = ImportPages()

    @property
    @override
    def busy(self) -> bool:
        """Whether photographs are coming in, or a folder is watched."""
        return self._taking.busy

    @override
    def serves(self, route: object) -> bool:
        """Lead back what asks for the watch, for the same destination, or for none while busy."""
        if not isinstance(route, ImportRoute) or route.needs_new_screen:
            return False
        if route.watch:
            return self.busy and self._taking.watched is not None
        wanted = (route.batch, route.tool)
        return wanted == (self._batch, self._tool) or (self.busy and wanted == (None, None))

    @property
    @override
    def current_batch(self) -> BatchId | None:
        return self._batch

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        return () if self._tool is None else (self._tool,)

    def ask_watch(self) -> None:
        """Ask which folder to watch, once this screen is visible."""
        QTimer.singleShot(0, self.start_page.ask_watch)

    def take(self, paths: tuple[Path, ...], *, watching: bool = False) -> None:
        """Import files and folders, or watch one folder, as set on the start page."""
        to = self.start_page.destination(self._batch, self._tool)
        if to is None or self.busy or (watching and self._watched_already(paths[0])):
            return
        self._to = to
        self._summary = ImportSummary()
        self._pending_outcomes = []
        self._by_tool = ToolCounts(titles=self._titles, waiting=self._what_waits_for())
        self.progress_page.begin(paths[0] if watching else None)
        self.progress_page.show_tools(())
        self.pages.setCurrentWidget(self.progress_page)
        self._taking.begin(paths, to, watching=watching)

    def _watched_already(self, folder: Path) -> bool:
        """Return whether a folder is watched already, and say so."""
        other = find_watch(self.window(), folder)
        if other is not None:
            self._context.notices.advise(
                f"New files from {other} are already being imported.",
                remedy="Stop that first, or choose another folder.",
            )
        return other is not None

    def _lay_out(self) -> None:
        for page in (self.start_page, self.progress_page, self.unfiled_page, self.reasons_page):
            self.pages.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.pages)
        self.set_title("Add photographs", up="Back")
        self.set_regions(self.start_page.first, self.unfiled_page.photographs)
        self.set_keys(
            ("Esc", "back; an import continues meanwhile"),
            ("Enter", "file the selected photographs under the selected tool"),
            ("Delete", "delete the selected photographs"),
        )

    def _connect(self) -> None:
        self.start_page.wanted.connect(self.take)
        self.start_page.filing_wanted.connect(self._open_unfiled)
        self.start_page.watch_wanted.connect(lambda folder: self.take((folder,), watching=True))
        self.progress_page.stop_wanted.connect(self._taking.stop)
        self.progress_page.filing_wanted.connect(self._open_unfiled)
        self.progress_page.back_wanted.connect(self._undo_import)
        self.progress_page.more_wanted.connect(self._import_more)
        self.progress_page.reasons_wanted.connect(self._show_reasons)
        self.progress_page.unknown.make_wanted.connect(self._make_tools)
        self.progress_page.unknown.alias_wanted.connect(self._use_aliases)
        self.reasons_page.done.connect(lambda: self.pages.setCurrentWidget(self.progress_page))
        self.unfiled_page.filed.connect(self._file)
        self.unfiled_page.tools_wanted.connect(self._find_tools)
        self.unfiled_page.bin_wanted.connect(self._bin)
        self.unfiled_page.done.connect(self._leave_unfiled)
        self._taking.progressed.connect(self._progressed)
        self._taking.seen.connect(self.progress_page.look)
        self._taking.batch_imported.connect(self._batch_imported)
        self._taking.ended.connect(self._ended)
        self._taking.failed.connect(self._failed)

    def _ask(self) -> None:
        catalog, where = self._context.catalog, ImportTarget(batch=self._batch, tool=self._tool)
        summary = self._summary
        asked = ImportRequest(
            suggested=summary.suggested,
            photographs=summary.photographs,
            unknown=summary.unknown,
        )
        self._asking_catalog.ask(
            lambda _job: (summary, load_import_context(catalog, where, asked)), done=self._show
        )

    def _show(self, answer: tuple[ImportSummary, ImportContext]) -> None:
        summary, known = answer
        self._known = known
        self._titles.update(known.titles)
        if summary is self._summary and summary.began:
            summary.stand(known.asked, known.now)
            summary.written, summary.aliases = known.written, known.aliases
            self.progress_page.refresh(summary)
            self._count_anew()
        self.set_title(known.title, up="Back")
        self.start_page.say_where(known.where, cards=self._tool is None)
        self.unfiled_page.show_waiting(known.waiting, known.suggested)
        self.start_page.set_placeholder(len(known.waiting))
        self.progress_page.show_tools(self._by_tool.rows)

    def _find_tools(self, words: str) -> None:
        catalog, batch = self._context.catalog, self._batch
        first = set(self._known.suggested.values()) if self._known is not None else set()

        def found(tools: tuple[ToolChoice, ...]) -> None:
            self.unfiled_page.show_tools(words, tools)

        self._finding_tools.ask(
            lambda _job: find_tools(catalog, batch, words, first=first), done=found
        )

    def _progressed(self, told: ImportUpdate) -> None:
        self._titles.update(told.titles)
        self._by_tool.waiting = self._what_waits_for()
        for outcome in told.outcomes:
            self._by_tool.add(outcome)
        self._pending_outcomes += told.outcomes
        self.progress_page.refuse([o for o in told.outcomes if o.became == FileFate.REFUSED])
        self.progress_page.show_progress(told.progress)
        self.progress_page.show_tools(self._by_tool.rows)

    def _batch_imported(self, result: ImportResult) -> None:
        self._summary.add(result)
        self._pending_outcomes = []
        self._count_anew()
        self.progress_page.show_summary(self._summary)
        self._context.edits.happened.emit(result.changes)
        self._ask()

    def _ended(self) -> None:
        self.progress_page.end(self._summary)
        self.went_idle.emit()

    def _failed(self, error: Exception) -> None:
        self._context.notices.trouble(error)
        if self._summary.began:
            self._ended()
        else:
            self.pages.setCurrentWidget(self.start_page)
            self.went_idle.emit()

    def _count_anew(self) -> None:
        """Count by tool again: cards may have filed photographs taken before them."""
        waiting = self._what_waits_for() if self._pending_outcomes else WAIT_FOR_YOU
        self._by_tool = ToolCounts(titles=self._titles, waiting=waiting)
        for outcome in (*self._summary.outcomes, *self._pending_outcomes):
            self._by_tool.add(outcome)
        self.progress_page.show_tools(self._by_tool.rows)
        if self.pages.currentWidget() is self.reasons_page:
            self.reasons_page.show_summary(self._summary)

    def _what_waits_for(self) -> str:
        """Return what unfiled photographs are waiting for."""
        return WAIT_FOR_ALL if self._to.follow_cards else WAIT_FOR_YOU

    def _import_more(self) -> None:
        if self.busy:
            self.go.emit(ImportRoute(batch=self._batch, tool=self._tool, separate=True))
        else:
            self.pages.setCurrentWidget(self.start_page)

    def _show_reasons(self) -> None:
        self.reasons_page.show_summary(self._summary)
        self.pages.open_over(self.reasons_page)

    def _undo_import(self) -> None:
        catalog, runs = self._context.catalog, tuple(self._summary.runs)
        self._context.jobs.edit(
            lambda _job: undo_import(catalog, runs),
            done=lambda answer: self._undo_done(*answer),
            owner=self,
        )

    def _undo_done(self, changes: Changes, back: int, left: int) -> None:
        self._context.edits.happened.emit(changes)
        if left:
            self._context.notices.advise(
                _left_standing(back),
                remedy="Undo the later changes first (Ctrl+Z), or delete single photographs.",
            )
            return
        self.pages.setCurrentWidget(self.start_page)

    def _use_aliases(self) -> None:
        """File what waits under the tools that the unknown numbers stand for."""
        aliases = self.progress_page.unknown.aliases
        self._settle_unknown(ToolCreation(run=new_id(), aliases=aliases))

    def _make_tools(self, kind: str) -> None:
        stocks = self.progress_page.unknown.stocks
        self._settle_unknown(ToolCreation(run=new_id(), kind=kind, stocks=stocks))

    def _settle_unknown(self, making: ToolCreation) -> None:
        catalog, to, outcomes = self._context.catalog, self._to, self._summary.outcomes
        self._context.jobs.edit(
            lambda _job: make_tools(catalog, outcomes, to=to, making=making),
            done=lambda filed: self._unknown_settled(filed, making),
            owner=self,
        )

    def _unknown_settled(self, filed: Filed, making: ToolCreation) -> None:
        self._summary.file(filed, making.run, settled=making.aliases)
        self._count_anew()
        self.progress_page.refresh(self._summary)
        self._context.edits.happened.emit(filed.changes)

    def show_waiting(self) -> None:
        """Show the photographs that are not filed yet."""
        self.pages.open_alone(self.unfiled_page)
        self.unfiled_page.photographs.setFocus()

    def _open_unfiled(self) -> None:
        self.pages.open_over(self.unfiled_page)
        self.unfiled_page.photographs.setFocus()

    def _leave_unfiled(self) -> None:
        if self.busy:
            self.pages.setCurrentWidget(self.progress_page)
        else:
            self.up_wanted.emit()

    def _file(self, filing: Filing) -> None:
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.photographs.file_under(
                filing.photographs, filing.tool, by="hand", stage=filing.stage
            ),
            done=self._context.edits.happened.emit,
        )

    def _bin(self, photographs: tuple[PhotographId, ...]) -> None:
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.photographs.bin(photographs),
            done=self._context.edits.happened.emit,
        )

    def _look_again(self, changes: Changes) -> None:
        if changes.photographs or changes.tools:
            self._ask()


def _left_standing(back: int) -> str:
    """Return why part of an import is left after undoing it."""
    if not back:
        return "Other changes were made after this import, so it cannot be undone yet."
    return (
        "The latest photographs are undone. Other changes were made before those, so the "
        "rest of this import stays."
    )
