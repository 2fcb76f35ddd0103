"""Imports photographs from files and folders: read on all cores, recorded by one writer.

A photograph is reported only when its bytes are on the disk and its record is written. Stopping
keeps what is in; importing the same files again goes on from there.
"""

from __future__ import annotations

import os
import time
from collections import deque
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread

from planebench.catalog.catalog import Catalog
from planebench.catalog.import_filing import file_imported
from planebench.catalog.import_reader import (
    SETTLE_SECONDS,
    Reader,
    ReadFile,
    UnsettledError,
    still_being_written,
)
from planebench.catalog.import_recorder import Recorder, known_hashes, refused
from planebench.catalog.import_types import (
    Destination,
    FileFate,
    FileOutcome,
    ImportResult,
    Progress,
    Report,
    Stopped,
    never,
    no_report,
)
from planebench.catalog.import_walk import FileWalk, FoundFile, printable
from planebench.errors import CatalogError, FileError

# So many files, or what came in so many seconds, are recorded together.
GROUP = 8
GROUP_SECONDS = 0.25
# A file that goes on changing is waited for so long after all others are in.
PATIENCE_SECONDS = 60.0
_Answer = ReadFile | FileOutcome | Path


def import_photographs(
    catalog: Catalog,
    paths: Iterable[Path],
    *,
    to: Destination | None = None,
    report: Report = no_report,
    stopped: Stopped = never,
) -> ImportResult:
    """Import every picture among files and folders; `report` is called for each once it is safe.

    Raises CatalogError when the batch or tool is not there; what is wrong with a single file
    stands in its outcome and the rest goes on.
    """
    run = _Run(catalog, tuple(paths), to=_checked(catalog, to or Destination()))
    with catalog.store.runs.hold(run.id):
        return run.go(report, stopped)


def _checked(catalog: Catalog, to: Destination) -> Destination:
    """Refuse a batch or tool that is in the bin; both raise CatalogError if not there at all."""
    things = []
    if to.batch is not None:
        things.append(catalog.batches.one(to.batch).binned_at)
    if to.tool is not None:
        things.append(catalog.tools.one(to.tool).binned_at)
    if any(thing is not None for thing in things):
        raise CatalogError(
            "The batch or tool for these photographs was deleted.",
            remedy="Restore it from the bin first, or choose another.",
            subject="batch or tool",
        )
    return to


@dataclass(slots=True)
class _Tally:
    """Counts and times of an import in progress."""

    began: float
    outcomes: list[FileOutcome] = field(default_factory=list)
    of: dict[FileFate, int] = field(default_factory=lambda: dict.fromkeys(FileFate, 0))
    total: int | None = None

    def add(self, outcome: FileOutcome) -> Progress:
        self.outcomes.append(outcome)
        self.of[outcome.became] += 1
        done = len(self.outcomes)
        total = None if self.total is None else max(self.total, done)
        speed = done / max(1e-6, time.monotonic() - self.began)
        return Progress(
            done=done,
            total=total,
            new=self.of[FileFate.NEW],
            already_in_catalog=self.of[FileFate.ALREADY_IN_CATALOG],
            refused=self.of[FileFate.REFUSED],
            per_second=speed,
            seconds_left=None if total is None else (total - done) / speed,
            latest=outcome,
        )


class _Run:
    def __init__(self, catalog: Catalog, paths: tuple[Path, ...], *, to: Destination) -> None:
        self._catalog = catalog
        self._paths = paths
        self._to = to
        known = known_hashes(catalog.store)
        # Where a tool is named its cards are read too: one may be another tool's.
        find_cards = to.follow_cards or to.tool is not None
        self._reader = Reader(catalog.originals, catalog.pictures, known, find_cards=find_cards)
        self._recorder = Recorder(catalog.store, catalog.originals, to)
        self._tally = _Tally(began=time.monotonic())
        self._unsettled: list[Path] = []

    @property
    def id(self) -> str:
        """What names its edits."""
        return self._recorder.run

    def go(self, report: Report, stopped: Stopped) -> ImportResult:
        counting = Thread(target=self._count, args=(stopped,), daemon=True)
        counting.start()
        walk = FileWalk(self._paths, leave_out=self._catalog.folder)
        self._all_of(walk, report, stopped)
        self._wait_for_unsettled(report, stopped)
        counting.join()
        filed = file_imported(
            self._catalog, self._tally.outcomes, run=self._recorder.run, to=self._to
        )
        return ImportResult(
            run=self._recorder.run,
            outcomes=filed.outcomes,
            skipped=walk.skipped,
            stopped=stopped(),
            changes=self._recorder.changes | filed.changes,
            unknown_stocks=filed.unknown_stocks,
            look_alikes=filed.look_alikes,
            refiled=filed.refiled,
        )

    def _count(self, stopped: Stopped) -> None:
        """Count the files ahead of the reading, so that progress knows its end."""
        total = 0
        for _ in FileWalk(self._paths, leave_out=self._catalog.folder):
            total += 1
            if stopped():
                return
        self._tally.total = total

    def _all_of(self, found: Iterable[FoundFile], report: Report, stopped: Stopped) -> None:
        group: list[ReadFile] = []
        since = time.monotonic()
        for answer in self._read(found, stopped):
            if isinstance(answer, Path):
                self._unsettled.append(answer)
            elif isinstance(answer, ReadFile):
                group.append(answer)
            else:
                report(self._tally.add(answer))
            if len(group) >= GROUP or time.monotonic() - since > GROUP_SECONDS:
                self._write(group, report)
                since = time.monotonic()
        self._write(group, report)

    def _write(self, group: list[ReadFile], report: Report) -> None:
        if not group:
            return
        for outcome in self._recorder.record(group):
            report(self._tally.add(outcome))
        group.clear()

    def _read(self, found: Iterable[FoundFile], stopped: Stopped) -> Iterator[_Answer]:
        """Yield files read side by side, in order; on Stop those begun are still yielded."""
        # One more than the cores: while one waits for the disk, all of them decode.
        at_once = (os.cpu_count() or 1) + 1
        with ThreadPoolExecutor(at_once, thread_name_prefix="import") as pool:
            begun: deque[Future[_Answer]] = deque()
            for file in found:
                if stopped():
                    break
                begun.append(pool.submit(self._one, file))
                yield from _ended(begun, most=2 * at_once)
            while begun:
                # What waits in line is not begun any more after Stop; what runs comes to its end.
                if stopped() and begun[0].cancel():
                    begun.popleft()
                else:
                    yield begun.popleft().result()

    def _one(self, file: FoundFile) -> _Answer:
        try:
            if file.trouble is not None:
                raise file.trouble
            return self._reader.read(file.path)
        except FileError as error:
            return refused(printable(file.path), error)
        except UnsettledError:
            return file.path

    def _wait_for_unsettled(self, report: Report, stopped: Stopped) -> None:
        """Look again at files that were being written, until they rest or patience ends."""
        ends = time.monotonic() + PATIENCE_SECONDS
        while self._unsettled and not stopped() and time.monotonic() < ends:
            time.sleep(SETTLE_SECONDS / 4)
            waiting, self._unsettled = self._unsettled, []
            self._all_of((FoundFile(path=path) for path in waiting), report, stopped)
        if not stopped():
            for path in self._unsettled:
                report(self._tally.add(refused(printable(path), still_being_written(path))))


def _ended(begun: deque[Future[_Answer]], *, most: int) -> Iterator[_Answer]:
    """Return what has ended at the front of the line; wait while more than `most` stand in it."""
    while begun and (len(begun) > most or begun[0].done()):
        yield begun.popleft().result()
