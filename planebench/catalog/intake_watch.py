"""Watches folders and takes in what is put there, until it is stopped."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.intake import take_in
from planebench.catalog.intake_files import Walk
from planebench.catalog.intake_values import Destination, IntakeResult, Report, Stopped

LOOK_SECONDS = 2.0
_STOP_SECONDS = 0.1
_Seen = dict[Path, tuple[int, int]]


def watch(
    catalog: Catalog,
    paths: Sequence[Path],
    *,
    to: Destination,
    report: Report,
    stopped: Stopped,
) -> Iterator[IntakeResult]:
    """Take in each picture that is or comes into folders; give each lot when it is in.

    A lot is an intake of its own, taken back by itself. A folder that goes away, such as a card
    that is taken out, is waited for.
    """
    seen: _Seen = {}
    while not stopped():
        fresh = _fresh(catalog, paths, seen)
        if fresh:
            result = take_in(catalog, list(fresh), to=to, report=report, stopped=stopped)
            seen |= fresh
            yield result
        ends = time.monotonic() + LOOK_SECONDS
        while not stopped() and time.monotonic() < ends:
            time.sleep(_STOP_SECONDS)


def _fresh(catalog: Catalog, paths: Sequence[Path], seen: _Seen) -> _Seen:
    """Give the files that are new or were changed, with their size and time of change."""
    fresh: _Seen = {}
    for file in Walk(paths, leave_out=catalog.folder):
        if file.trouble is not None:
            continue
        try:
            found = file.path.stat()
        except OSError:
            # It is gone again; if it comes back it is new.
            seen.pop(file.path, None)
            continue
        look = (found.st_size, found.st_mtime_ns)
        if seen.get(file.path) != look:
            fresh[file.path] = look
    return fresh
