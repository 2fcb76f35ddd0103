"""An import, or new files from a folder, on a job that reports to the window now and then."""

from __future__ import annotations

import time
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from planebench.catalog.catalog import Catalog
from planebench.catalog.continuous_import import FolderReport, ImportObserver, import_continuously
from planebench.catalog.ids import ToolId
from planebench.catalog.import_types import Destination, FileOutcome, ImportResult, Progress
from planebench.catalog.photo_import import import_photographs
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, Stopped
from planebench.window.screens.photo_import.import_model import titles_of

# Five updates per second look continuous; one per photograph would keep the window busy.
_TELL_EVERY_SECONDS = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportUpdate:
    """Progress of an import: the photographs since the last update, and their tools' titles."""

    progress: Progress
    outcomes: tuple[FileOutcome, ...]
    titles: Mapping[ToolId, str]


class ImportJob(QObject):
    """Imports files and folders, or new files from a folder, until it is done or stopped.

    Signals: `progressed(ImportUpdate)`; `seen(WatchReport)` when the folder looks different
    than before; `batch_imported(ImportResult)` for each batch of files; at last `ended()` or
    `failed(Exception)`.
    """

    progressed = Signal(object)
    seen = Signal(object)
    batch_imported = Signal(object)
    ended = Signal()
    failed = Signal(object)

    def __init__(self, context: ScreenContext, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._job: Job | None = None
        self.watched: Path | None = None

    @property
    def busy(self) -> bool:
        """Whether photographs are coming in, or a folder is watched."""
        return self._job is not None

    def begin(self, paths: tuple[Path, ...], to: Destination, *, watching: bool = False) -> None:
        """Import files and folders, or watch one folder for new files."""
        self.watched = paths[0] if watching else None
        catalog = self._context.catalog

        def work(job: Job) -> None:
            telling = _Telling(catalog, job)
            for result in _import_in_runs(catalog, paths, to, telling, watching=watching):
                telling.tell()
                job.reported.emit(result)
                telling.rest()

        text = (
            f"Waiting for new files in {paths[0].name or paths[0]}"
            if watching
            else "Adding photographs"
        )
        self._job = self._context.jobs.read(
            work, done=self._end, failed=self._fail, on_report=self._hear, owner=self, text=text
        )
        self._job.stopped.connect(self._end)

    def stop(self) -> None:
        """Ask the job to stop; what is imported stays."""
        if self._job is not None:
            self._job.stop()

    def _hear(self, told: object) -> None:
        if isinstance(told, ImportUpdate):
            self.progressed.emit(told)
        elif isinstance(told, FolderReport):
            self.seen.emit(told)
        elif isinstance(told, ImportResult):
            self.batch_imported.emit(told)

    def _end(self, _none: object = None) -> None:
        self._job = None
        self.ended.emit()

    def _fail(self, error: Exception) -> None:
        self._job = None
        self.failed.emit(error)


def find_watch(window: QObject, folder: Path) -> Path | None:
    """Return the folder already watched in a window that overlaps this folder, or None.

    Two watches of one folder, or of a folder within the other, would compete for each file.
    """
    wanted = folder.resolve()
    for taking in window.findChildren(ImportJob):
        other = taking.watched.resolve() if taking.busy and taking.watched is not None else None
        if other is not None and (wanted.is_relative_to(other) or other.is_relative_to(wanted)):
            return taking.watched
    return None


def _import_in_runs(
    catalog: Catalog,
    paths: tuple[Path, ...],
    to: Destination,
    telling: _Telling,
    *,
    watching: bool,
) -> Iterator[ImportResult]:
    report, stopped = telling.report, telling.stopped
    if watching:
        observer = ImportObserver(report=report, stopped=stopped, seen=telling.look)
        yield from import_continuously(catalog, paths, to=to, observer=observer)
    else:
        yield import_photographs(catalog, paths, to=to, report=report, stopped=stopped)


class _Telling:
    """Reports progress to the window now and then, without losing any outcome."""

    def __init__(self, catalog: Catalog, job: Job) -> None:
        self._catalog, self._job = catalog, job
        self._pending: list[FileOutcome] = []
        self._latest: Progress | None = None
        self._sight: FolderReport | None = None
        self._told_at = 0.0

    def report(self, progress: Progress) -> None:
        self._pending.append(progress.latest)
        self._latest = progress
        if time.monotonic() - self._told_at >= _TELL_EVERY_SECONDS:
            self.tell()

    def tell(self) -> None:
        """Report what was not reported yet."""
        progress, outcomes = self._latest, tuple(self._pending)
        if progress is None or not outcomes:
            return
        self._told_at = time.monotonic()
        self._step(progress.done, progress.total or 0)
        tools = _tools_of(outcomes)
        titles = titles_of(self._catalog, tools)
        self._job.reported.emit(ImportUpdate(progress=progress, outcomes=outcomes, titles=titles))
        self._pending.clear()

    def rest(self) -> None:
        """Show no count until the next batch of files."""
        self._step(0, 0)

    def look(self, sight: FolderReport) -> None:
        """Report the state of the watched folder if it changed."""
        if self._sight is None or _as_told(sight) != _as_told(self._sight):
            self._sight = sight
            self._job.reported.emit(sight)

    def stopped(self) -> bool:
        return self._job.stop_asked

    def _step(self, done: int, total: int) -> None:
        # What was imported before Stop is reported like all else.
        with suppress(Stopped):
            self._job.step(done, total)


def _tools_of(outcomes: Collection[FileOutcome]) -> frozenset[ToolId]:
    return frozenset(outcome.tool for outcome in outcomes if outcome.tool is not None)


def _as_told(sight: FolderReport) -> tuple[object, ...]:
    return (sight.arriving, *((error.subject, error.happened) for error in sight.away))
