"""Full backups: a whole catalog as one folder of its own, with the hash of each file in a list."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from planebench import __version__
from planebench.catalog import sqlite
from planebench.catalog.building import built_beside
from planebench.catalog.catalog import Catalog
from planebench.catalog.copying import CopiedFile, CopyOrder, copy_all, disk_refuses
from planebench.catalog.dated_backups import refuse_damaged
from planebench.catalog.files import flush_file, hash_of_file, write_whole
from planebench.catalog.findings import Finding
from planebench.catalog.opening import DATABASE
from planebench.catalog.tables import IssuedSheetRow, OriginalRow, PhotographRow

MANIFEST = "manifest.json"
ReportCopied = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class BackupReport:
    """A backup or a restored catalog: its folder, how much it holds, what could not be copied."""

    folder: Path
    files: int
    size: int
    findings: tuple[Finding, ...]


def no_report(_done: int, _total: int) -> None:
    """Ignore progress."""


def backup(
    catalog: Catalog, to: Path | None = None, *, report: ReportCopied = no_report
) -> BackupReport:
    """Write a full backup into the folder `to`, by default the catalog's own backups/.

    The folder made is NAME-YYYY-MM-DD-HHMM; nothing is overwritten. Photographs that are missing or
    damaged stand among the findings and the rest goes on. Raises CatalogError when the database is
    damaged or the disk cannot be written; then no part of the backup is left.
    """
    inside = to or catalog.folder / "backups"
    at = catalog.now
    target = _free_name(inside / f"{catalog.folder.name}-{at:%Y-%m-%d-%H%M}")
    try:
        with built_beside(target) as part:
            written = _fill(catalog, part, at, report)
    except OSError as error:
        raise disk_refuses(target, error) from error
    copied, findings = written
    return BackupReport(
        folder=target,
        files=len(copied),
        size=sum(file.size for file in copied),
        findings=tuple(findings),
    )


def files_of(database: Path) -> list[CopyOrder]:
    """List the photographs and sheets that a database knows, by their paths in its catalog."""
    engine = sqlite.open_database(database)
    try:
        with Session(sqlite.for_reading(engine)) as session:
            named = select(PhotographRow.sha256, PhotographRow.original_name)
            names = dict(session.execute(named).all())
            stored = session.execute(
                select(OriginalRow.sha256, OriginalRow.suffix, OriginalRow.size)
            )
            found = [
                CopyOrder(
                    path=f"photos/{sha256[:2]}/{sha256}{suffix}",
                    size=size,
                    sha256=sha256,
                    name=names.get(sha256) or f"{sha256}{suffix}",
                )
                for sha256, suffix, size in stored
            ]
            sheets = session.execute(select(IssuedSheetRow.file_name, IssuedSheetRow.pdf_sha256))
            return found + [
                CopyOrder(path=f"sheets/{name}", size=0, sha256=sha256, name=name)
                for name, sha256 in sheets
            ]
    finally:
        engine.dispose()


def _fill(
    catalog: Catalog, part: Path, at: dt.datetime, report: ReportCopied
) -> tuple[list[CopiedFile], list[Finding]]:
    database = part / DATABASE
    sqlite.snapshot(catalog.folder / DATABASE, database)
    refuse_damaged(database, catalog.folder)
    wanted = files_of(database)
    copied, findings = copy_all(wanted, catalog.folder, part, report=report)
    flush_file(database)
    size = database.stat().st_size
    copied.insert(0, CopiedFile(path=DATABASE, size=size, sha256=hash_of_file(database)))
    manifest = {
        "program": f"Planebench {__version__}",
        "made_at": at.isoformat(timespec="seconds"),
        "catalog": catalog.folder.name,
        "files": [asdict(file) for file in copied],
    }
    write_whole(part / MANIFEST, json.dumps(manifest, indent=1).encode("utf-8"))
    return copied, findings


def _free_name(wanted: Path) -> Path:
    """Return a folder that is not there yet."""
    target, number = wanted, 1
    while target.exists():
        number += 1
        target = wanted.with_name(f"{wanted.name}-{number}")
    return target
