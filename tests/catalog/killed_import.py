"""An intake in a process of its own, killed at a moment, and what must hold afterwards."""

from __future__ import annotations

import datetime as dt
import subprocess
import sys
import time
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.import_types import FileFate
from planebench.catalog.photo_import import import_photographs

AT = dt.datetime(2026, 3, 14, 9, 0, tzinfo=dt.UTC)
PROGRAM = """
import datetime as dt, sys
from pathlib import Path
from planebench.catalog.catalog import Catalog
from planebench.catalog.photo_import import import_photographs
folder, card, cache = map(Path, sys.argv[1:])
catalog = Catalog.open(
    folder, who="R. Fenn", clock=lambda: dt.datetime(2026, 3, 14, 9, 0, tzinfo=dt.UTC), cache=cache
)
print("open", flush=True)
import_photographs(
    catalog, [card], report=lambda progress: print(progress.latest.sha256, flush=True)
)
print("end", flush=True)
"""


def acknowledged_until_killed(
    folder: Path, card: Path, cache: Path, *, after: float
) -> tuple[set[str], bool]:
    """Start an intake, kill it (SIGKILL) so many seconds after the catalog is open.

    Gives the hashes that it told of, and whether it had come to its end.
    """
    command = [sys.executable, "-c", PROGRAM, str(folder), str(card), str(cache)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "open\n"
        time.sleep(after)
        process.kill()
        told = process.stdout.read().split()
    return {word for word in told if len(word) == 64}, "end" in told


def holds_after_the_kill(folder: Path, cache: Path, acknowledged: set[str]) -> None:
    """Nothing acknowledged is lost, nothing recorded is without its file, nothing is left over."""
    catalog = Catalog.open(folder, who="R. Fenn", clock=lambda: AT, cache=cache)
    try:
        recorded = [photo.sha256 for photo in catalog.photographs.unfiled()]
        assert check(catalog) == ()
        assert acknowledged <= set(recorded)
        assert len(recorded) == len(set(recorded))
    finally:
        catalog.close()


def goes_on_to_the_end(folder: Path, card: Path, cache: Path, *, files: int) -> None:
    """The same files imported again make it complete, each once."""
    catalog = Catalog.open(folder, who="R. Fenn", clock=lambda: AT, cache=cache)
    try:
        result = import_photographs(catalog, [card])
        recorded = [photo.sha256 for photo in catalog.photographs.unfiled()]
        assert result.count(FileFate.REFUSED) == 0
        assert len(recorded) == len(set(recorded)) == files
        assert len(list(catalog.originals.files())) == files
        assert check(catalog) == ()
    finally:
        catalog.close()
