"""Photographs in: asked, taken in while one works on, filed."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Mapping, Sequence
from functools import reduce
from operator import or_
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, PhotographId, ToolId
from planebench.catalog.intake import take_in
from planebench.catalog.intake_filing import Filed
from planebench.catalog.intake_values import (
    Became,
    Destination,
    FileOutcome,
    IntakeResult,
    Progress,
)
from planebench.catalog.intake_watch import watch
from planebench.window.given import Given
from planebench.window.jobs import Job, LatestRead
from planebench.window.pieces.place import Place
from planebench.window.screens.intake.asking import Asking
from planebench.window.screens.intake.by_tool import WAIT_FOR_ALL, WAIT_FOR_YOU, ByTool
from planebench.window.screens.intake.decisions import Decisions, unknown_in
from planebench.window.screens.intake.making import make_tools
from planebench.window.screens.intake.model import (
    Known,
    NamedTool,
    Where,
    read,
    titles_of,
    tools_like,
)
from planebench.window.screens.intake.running import Running
from planebench.window.screens.intake.tray import Filing, Tray
from planebench.window.thumbnails import Thumbnails

# The window shows this often how far it is; each photograph would keep it from all else.
_TELL_EVERY_SECONDS = 0.2


class _Relay(QObject):
    """Carries progress from the working thread to the window's."""

    progressed = Signal(object)


class IntakeScreen(Place):
    """Taking photographs in for a batch, a tool or the whole catalog."""

    def __init__(
        self,
        given: Given,
        batch: BatchId | None = None,
        tool: ToolId | None = None,
        paths: tuple[str, ...] = (),
    ) -> None:
        super().__init__()
        self._given = given
        self._batch = batch
        self._tool = tool
        self._job: Job | None = None
        self._run = ""
        self._by_tool = ByTool()
        self._suggested: dict[PhotographId, str] = {}
        self._known: Known | None = None
        self._titles: dict[ToolId, str] = {}
        self._outcomes: tuple[FileOutcome, ...] = ()
        self._to = Destination()
        self._asking_catalog = LatestRead(given.jobs, self)
        self._finding_tools = LatestRead(given.jobs, self)
        self._make_pages()
        self._relay = _Relay(self)
        self._lay_out()
        self._connect()
        given.edits.happened.connect(self._look_again)
        self._ask()
        if paths:
            self.take(tuple(Path(path) for path in paths))

    def _make_pages(self) -> None:
        catalog = self._given.catalog
        thumbnails = Thumbnails(self._given, self)
        kinds = catalog.kinds.all()
        self.asking = Asking(kinds, minutes=catalog.settings.read().follow_minutes)
        self.running = Running(thumbnails, kinds)
        self.decisions = Decisions()
        self.tray = Tray(thumbnails)
        self.pages = QStackedWidget()

    @property
    def busy(self) -> bool:
        """Whether photographs are coming in: then the place is kept when one leaves."""
        return self._job is not None

    def take(self, paths: tuple[Path, ...], *, watching: bool = False) -> None:
        """Take in files and folders, or watch one folder, as chosen on the first page."""
        to = self.asking.destination(self._batch, self._tool)
        if to is None or self._job is not None:
            return
        self._to = to
        waiting = WAIT_FOR_ALL if to.follow_cards else WAIT_FOR_YOU
        self._by_tool = ByTool(titles=self._titles, waiting=waiting)
        self.running.begin()
        self.pages.setCurrentWidget(self.running)
        catalog, relay = self._given.catalog, self._relay

        def work(job: Job) -> list[IntakeResult]:
            return _taken(catalog, paths, to, (job, relay, watching))

        self._job = self._given.jobs.read(
            work, done=self._ended, failed=self._failed, owner=self, text="Taking in"
        )

    def _lay_out(self) -> None:
        for page in (self.asking, self.running, self.tray, self.decisions):
            self.pages.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.pages)
        self.set_title("Photographs in", up="Back")
        self.set_regions(self.asking.first, self.tray.photographs)
        self.set_keys(
            ("Esc", "back; an intake goes on meanwhile"),
            ("Enter", "file the chosen photographs under the tool marked"),
            ("Delete", "put the chosen photographs in the bin"),
        )

    def _connect(self) -> None:
        self.asking.wanted.connect(self.take)
        self.asking.tray_wanted.connect(self._show_tray)
        self.asking.watch_wanted.connect(lambda folder: self.take((folder,), watching=True))
        self.running.stop_wanted.connect(self._stop)
        self.running.tray_wanted.connect(self._show_tray)
        self.running.back_wanted.connect(self._take_back)
        self.running.more_wanted.connect(lambda: self.pages.setCurrentWidget(self.asking))
        self.running.reasons_wanted.connect(lambda: self.pages.setCurrentWidget(self.decisions))
        self.running.unknown.make_wanted.connect(self._make_tools)
        self.decisions.done.connect(lambda: self.pages.setCurrentWidget(self.running))
        self.tray.filed.connect(self._file)
        self.tray.tools_wanted.connect(self._find_tools)
        self.tray.bin_wanted.connect(self._bin)
        self.tray.done.connect(self._leave_tray)
        self._relay.progressed.connect(self._progressed)

    def _ask(self) -> None:
        catalog, where = self._given.catalog, Where(batch=self._batch, tool=self._tool)
        suggested, filed = dict(self._suggested), _filed_under(self._outcomes)
        self._asking_catalog.ask(
            lambda _job: read(catalog, where, suggested=suggested, filed=filed), done=self._show
        )

    def _show(self, known: Known) -> None:
        self._known = known
        self._titles.update(known.titles)
        self.set_title(known.title, up="Back")
        self.asking.say_where(known.where, cards=self._tool is None)
        self.tray.show_waiting(known.waiting, known.suggested)
        self.asking.say_waiting(len(known.waiting))
        self.running.show_tools(self._by_tool.rows)

    def _find_tools(self, words: str) -> None:
        catalog, batch = self._given.catalog, self._batch
        first = set(self._known.suggested.values()) if self._known is not None else set()

        def found(tools: tuple[NamedTool, ...]) -> None:
            self.tray.show_tools(words, tools)

        self._finding_tools.ask(
            lambda _job: tools_like(catalog, batch, words, first=first), done=found
        )

    def _progressed(
        self, told: tuple[Progress, tuple[FileOutcome, ...], Mapping[ToolId, str]]
    ) -> None:
        progress, outcomes, titles = told
        self._titles.update(titles)
        for outcome in outcomes:
            self._by_tool.add(outcome)
        self.running.refuse([o for o in outcomes if o.became == Became.REFUSED])
        self.running.show_progress(progress)
        self.running.show_tools(self._by_tool.rows)

    def _ended(self, results: list[IntakeResult]) -> None:
        self._job = None
        self._given.edits.happened.emit(reduce(or_, (r.changes for r in results), Changes()))
        if not results:
            return
        self._run = results[-1].run
        self._outcomes = tuple(outcome for result in results for outcome in result.outcomes)
        self.decisions.show_results(results)
        self.running.unknown.show_numbers(unknown_in(results))
        self._count_anew(self._outcomes)
        became = Counter(outcome.became for outcome in self._outcomes)
        counts = (became[Became.NEW], became[Became.HERE_ALREADY], became[Became.REFUSED])
        self.running.end(results[-1], counts, _waiting(self._outcomes))
        self._ask()

    def _count_anew(self, outcomes: Sequence[FileOutcome]) -> None:
        """Count by tool what is known at the end: cards may have filed what came before them."""
        self._by_tool = ByTool(titles=self._titles)
        for outcome in outcomes:
            self._by_tool.add(outcome)
            if outcome.suggestion and outcome.photograph is not None:
                self._suggested[outcome.photograph] = outcome.suggestion
        self.running.show_tools(self._by_tool.rows)

    def _failed(self, error: Exception) -> None:
        self._job = None
        self.pages.setCurrentWidget(self.asking)
        self._given.notices.trouble(error)

    def _stop(self) -> None:
        if self._job is not None:
            self._job.stop()

    def _take_back(self) -> None:
        catalog, run = self._given.catalog, self._run
        self._given.jobs.edit(
            lambda _job: catalog.history.take_back_run(run),
            done=self._taken_back,
            owner=self,
        )

    def _taken_back(self, changes: Changes) -> None:
        self._given.edits.happened.emit(changes)
        if not changes.words:
            self._given.notices.advise(
                "Something was done after this intake, so it is not the next to be taken back.",
                remedy="Take the later edits back first (Ctrl Z), or bin single photographs.",
            )
            return
        self.running.begin()
        self.pages.setCurrentWidget(self.asking)

    def _make_tools(self, kind: str) -> None:
        catalog, outcomes, to = self._given.catalog, self._outcomes, self._to
        stocks = self.running.unknown.stocks
        self._given.jobs.edit(
            lambda _job: make_tools(catalog, outcomes, to=to, kind=kind, stocks=stocks),
            done=self._tools_made,
            owner=self,
        )

    def _tools_made(self, filed: Filed) -> None:
        self._outcomes = filed.outcomes
        self.running.unknown.show_numbers(filed.unknown_stocks)
        self._count_anew(filed.outcomes)
        self.decisions.show_outcomes(filed.outcomes, filed.look_alikes)
        groups = len(filed.look_alikes)
        self.running.tell_filed(filed.outcomes, groups, _waiting(filed.outcomes))
        self._given.edits.happened.emit(filed.changes)

    def _show_tray(self) -> None:
        self.pages.setCurrentWidget(self.tray)
        self.tray.photographs.setFocus()

    def _leave_tray(self) -> None:
        self.up_wanted.emit()

    def _file(self, filing: Filing) -> None:
        catalog = self._given.catalog
        self._given.jobs.edit(
            lambda _job: catalog.photographs.file_under(filing.photographs, filing.tool, by="hand"),
            done=self._given.edits.happened.emit,
        )

    def _bin(self, photographs: tuple[PhotographId, ...]) -> None:
        catalog = self._given.catalog
        self._given.jobs.edit(
            lambda _job: catalog.photographs.bin(photographs),
            done=self._given.edits.happened.emit,
        )

    def _look_again(self, changes: Changes) -> None:
        if changes.photographs or changes.tools:
            self._ask()


def _waiting(outcomes: Sequence[FileOutcome]) -> int:
    return sum(outcome.photograph is not None and not outcome.stock for outcome in outcomes)


def _filed_under(outcomes: Sequence[FileOutcome]) -> frozenset[ToolId]:
    return frozenset(outcome.tool for outcome in outcomes if outcome.tool is not None)


class _Telling:
    """Tells the window how far an intake is, now and then; nothing of it is left untold."""

    def __init__(self, catalog: Catalog, job: Job, relay: _Relay) -> None:
        self._catalog, self._job, self._relay = catalog, job, relay
        self._pending: list[FileOutcome] = []
        self._latest: Progress | None = None
        self._told_at = 0.0

    def report(self, progress: Progress) -> None:
        self._pending.append(progress.latest)
        self._latest = progress
        if time.monotonic() - self._told_at >= _TELL_EVERY_SECONDS:
            self.tell()

    def tell(self) -> None:
        """Tell what was not told yet."""
        progress, outcomes = self._latest, tuple(self._pending)
        if progress is None or not outcomes:
            return
        self._told_at = time.monotonic()
        if not self._job.stop_asked:
            self._job.step(progress.done, progress.total or 0)
        titles = titles_of(self._catalog, _filed_under(outcomes))
        self._relay.progressed.emit((progress, outcomes, titles))
        self._pending.clear()

    def stopped(self) -> bool:
        return self._job.stop_asked


def _taken(
    catalog: Catalog,
    paths: tuple[Path, ...],
    to: Destination,
    told: tuple[Job, _Relay, bool],
) -> list[IntakeResult]:
    job, relay, watching = told
    telling = _Telling(catalog, job, relay)
    report, stopped = telling.report, telling.stopped
    lots = (
        watch(catalog, paths, to=to, report=report, stopped=stopped)
        if watching
        else iter([take_in(catalog, paths, to=to, report=report, stopped=stopped)])
    )
    results = []
    for lot in lots:
        results.append(lot)
        telling.tell()
    return results
