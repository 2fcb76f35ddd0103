"""An import or a watched folder on a job; the window hears of it now and then."""

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

# The window shows this often how far it is; each photograph would keep it from all else.
_TELL_EVERY_SECONDS = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportUpdate:
    """How far an intake is: the photographs since it was last told, and what their tools are."""

    progress: Progress
    outcomes: tuple[FileOutcome, ...]
    titles: Mapping[ToolId, str]


class ImportJob(QObject):
    """Takes files and folders in, or watches a folder, until all is in or it is stopped.

    Signals: `progressed(Told)`; `seen(Sight)` when a look at the watched folder showed something
    else than the one before; `batch_imported(IntakeResult)` for each lot; at last `ended()` or
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
        """Take in files and folders, or watch one folder."""
        self.watched = paths[0] if watching else None
        catalog = self._context.catalog

        def work(job: Job) -> None:
            telling = _Telling(catalog, job)
            for lot in _lots(catalog, paths, to, telling, watching=watching):
                telling.tell()
                job.reported.emit(lot)
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
        """Ask for the end; what is in stays in."""
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
    """Return the folder of a watch going on in a window that has to do with this folder, or None.

    Two watches of one folder, or of one within the other, would take each photograph in for
    whichever of them looks first.
    """
    wanted = folder.resolve()
    for taking in window.findChildren(ImportJob):
        other = taking.watched.resolve() if taking.busy and taking.watched is not None else None
        if other is not None and (wanted.is_relative_to(other) or other.is_relative_to(wanted)):
            return taking.watched
    return None


def _lots(
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
    """Tells the window how far it is, now and then; nothing of it is left untold."""

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
        """Tell what was not told yet."""
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
        """Count no more until the next lot."""
        self._step(0, 0)

    def look(self, sight: FolderReport) -> None:
        """Tell what a look at the watched folder showed, if it is something else than before."""
        if self._sight is None or _as_told(sight) != _as_told(self._sight):
            self._sight = sight
            self._job.reported.emit(sight)

    def stopped(self) -> bool:
        return self._job.stop_asked

    def _step(self, done: int, total: int) -> None:
        # What is in when one presses Stop is told like all else.
        with suppress(Stopped):
            self._job.step(done, total)


def _tools_of(outcomes: Collection[FileOutcome]) -> frozenset[ToolId]:
    return frozenset(outcome.tool for outcome in outcomes if outcome.tool is not None)


def _as_told(sight: FolderReport) -> tuple[object, ...]:
    return (sight.arriving, *((error.subject, error.happened) for error in sight.away))
