"""Imports photographs as they arrive in folders, until it is stopped."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId
from planebench.catalog.import_types import (
    Destination,
    FileFate,
    ImportResult,
    Report,
    Stopped,
    never,
    no_report,
)
from planebench.catalog.import_walk import FileWalk, printable
from planebench.catalog.look_alikes import look_alikes
from planebench.catalog.photo_import import import_photographs
from planebench.errors import CatalogError, FileError

LOOK_SECONDS = 2.0
# Photographs of one evening come together while files go on arriving, but not for longer than this.
LONGEST_WAIT = 10.0  # seconds
# Looking through a folder takes at most a fifth of the time.
_REST_SHARE = 4
_STOP_SECONDS = 0.1
_Look = tuple[int, int]
_Looks = dict[Path, _Look]


@dataclass(frozen=True, slots=True, kw_only=True)
class FolderReport:
    """What one look at the folders found.

    `away` has the folders that cannot be read, such as a card that was taken out; they are waited
    for. `arriving` counts files that are imported once they stop changing.
    """

    away: tuple[FileError, ...] = ()
    arriving: int = 0


Seen = Callable[[FolderReport], None]


def no_folder_report(_sight: FolderReport) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportObserver:
    """Callbacks: `report` for each photograph, `seen` for each look at the folders.

    The import ends once `stopped` returns True.
    """

    report: Report = no_report
    seen: Seen = no_folder_report
    stopped: Stopped = never


def import_continuously(
    catalog: Catalog, paths: Sequence[Path], *, to: Destination, observer: ImportObserver
) -> Iterator[ImportResult]:
    """Import each picture that is in folders or arrives there; yield each group when it is in.

    A group is imported once nothing more arrives, as an import of its own that is undone by
    itself; its look-alikes are those of all groups so far. A folder that goes away is waited for.
    Raises CatalogError as `import_photographs` does, and for a folder of the catalog itself; the
    groups before it stay.
    """
    _refuse_own(catalog, paths)
    folders = _Folders(paths, leave_out=catalog.folder, stopped=observer.stopped)
    report, stopped = observer.report, observer.stopped
    new: list[PhotographId] = []
    while not stopped():
        began = time.monotonic()
        observer.seen(folders.look())
        took = time.monotonic() - began
        if ready := folders.ready():
            group = import_photographs(catalog, list(ready), to=to, report=report, stopped=stopped)
            folders.note(group, ready)
            new += [
                o.photograph for o in group.outcomes if o.photograph and o.became == FileFate.NEW
            ]
            if group.outcomes:
                yield replace(group, look_alikes=look_alikes(catalog.store, new))
        _pause(max(LOOK_SECONDS, _REST_SHARE * took), stopped)


def _refuse_own(catalog: Catalog, paths: Sequence[Path]) -> None:
    """Raise CatalogError for a folder within the catalog: nothing new would come from there."""
    own = catalog.folder.resolve()
    for path in paths:
        if path.resolve().is_relative_to(own):
            raise CatalogError(
                "This folder is part of the catalog itself.",
                remedy="Choose the folder where your camera or phone puts its photographs.",
                subject=str(path),
            )


def _pause(seconds: float, stopped: Stopped) -> None:
    ends = time.monotonic() + seconds
    while not stopped() and time.monotonic() < ends:
        time.sleep(_STOP_SECONDS)


class _Folders:
    """The files of the folders: imported, refused as they are, or still arriving."""

    def __init__(self, paths: Sequence[Path], *, leave_out: Path, stopped: Stopped) -> None:
        self._paths = tuple(paths)
        self._leave_out = leave_out
        self._stopped = stopped
        self._in: _Looks = {}
        self._refused: _Looks = {}
        self._fresh: _Looks = {}
        self._resting: _Looks = {}
        self._waits_since: float | None = None

    def look(self) -> FolderReport:
        """Look through the folders once."""
        away: list[FileError] = []
        there = dict(self._files(away))
        # What was refused is tried again once it was changed, or was away with its folder.
        self._refused = dict(self._refused.items() & there.items())
        before = self._fresh
        self._fresh = dict(there.items() - self._in.items() - self._refused.items())
        self._resting = dict(self._fresh.items() & before.items())
        if not self._resting:
            self._waits_since = None
        elif self._waits_since is None:
            self._waits_since = time.monotonic()
        return FolderReport(away=tuple(away), arriving=len(self._fresh))

    def ready(self) -> _Looks:
        """Return the files that rest in the order of names, once all do or some waited long."""
        since = self._waits_since
        waited_long = since is not None and time.monotonic() - since > LONGEST_WAIT
        all_rest = len(self._resting) == len(self._fresh)
        return dict(sorted(self._resting.items())) if waited_long or all_rest else {}

    def note(self, group: ImportResult, ready: _Looks) -> None:
        """Note what became of files, so that each is imported once."""
        named = {printable(path): path for path in ready}
        for outcome in group.outcomes:
            path = named.get(outcome.file)
            if path is not None:
                became = self._refused if outcome.became == FileFate.REFUSED else self._in
                became[path] = ready[path]
        self._waits_since = None

    def _files(self, away: list[FileError]) -> Iterator[tuple[Path, _Look]]:
        for file in FileWalk(self._paths, leave_out=self._leave_out):
            if self._stopped():
                # Looking through a large folder takes a while; Stop does not wait for its end.
                return
            if file.trouble is not None:
                away.append(file.trouble)
                continue
            try:
                found = file.path.stat()
            except OSError:
                # It is gone again; if it comes back it is new.
                continue
            yield file.path, (found.st_size, found.st_mtime_ns)
