"""Restores a catalog into a new folder: from a full backup, or from a dated copy of a database."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from planebench.catalog import sqlite
from planebench.catalog.backups import MANIFEST, BackupReport, ReportCopied, files_of, no_report
from planebench.catalog.building import built_beside, refuse_occupied
from planebench.catalog.copying import CopiedFile, CopyOrder, copy_all, disk_refuses
from planebench.catalog.files import FOLDER_MODE, is_inside
from planebench.catalog.findings import Finding
from planebench.catalog.opening import DATABASE, SUBFOLDERS
from planebench.errors import CatalogError


def restore(backup: Path, new_folder: Path, *, report: ReportCopied = no_report) -> BackupReport:
    """Make a catalog in a folder that is empty or not there, from a backup, which stays as it is.

    `backup` is a full backup's folder, or a database in the backups/ of a catalog, whose
    photographs are then taken from that catalog. Files that are missing or damaged stand among
    the findings and the rest is restored; a damaged database is refused. Raises CatalogError; then
    nothing was made.
    """
    refuse_occupied(new_folder)
    source, database, wanted = _contents(backup)
    try:
        with built_beside(new_folder) as part:
            copied, findings = _fill(part, source, (database, wanted), report)
    except OSError as error:
        raise disk_refuses(new_folder, error) from error
    return BackupReport(
        folder=new_folder,
        files=len(copied),
        size=sum(file.size for file in copied),
        findings=tuple(findings),
    )


def _fill(
    part: Path, source: Path, contents: tuple[CopyOrder, Sequence[CopyOrder]], report: ReportCopied
) -> tuple[list[CopiedFile], list[Finding]]:
    database, wanted = contents
    for sub in SUBFOLDERS:
        (part / sub).mkdir(mode=FOLDER_MODE)
    copied, damaged = copy_all([database], source, part, report=no_report)
    if damaged:
        raise _damaged(source / database.path, damaged[0].happened)
    at = part / DATABASE
    if at.name != database.path:
        (part / database.path).rename(at)
    wanted = wanted or files_of(at)
    _refuse_unsound(at)
    more, findings = copy_all(wanted, _photographs_of(source), part, report=report)
    return copied + more, findings


def _contents(backup: Path) -> tuple[Path, CopyOrder, list[CopyOrder]]:
    """Return the folder of a backup, its database, and its other files if it lists them."""
    if backup.is_dir():
        listed = {file.path: file for file in _listed(backup)}
        if DATABASE not in listed:
            raise _no_backup(backup, f"its {MANIFEST} lists no {DATABASE}")
        return backup, listed.pop(DATABASE), list(listed.values())
    if not backup.is_file() or not sqlite.is_database(backup):
        raise _no_backup(backup, "it is neither a backup folder nor a database")
    if not (backup.parent.parent / "photos").is_dir():
        raise _no_backup(backup, "it is not in the backups folder of a catalog")
    size = backup.stat().st_size
    return backup.parent, CopyOrder(path=backup.name, size=size, sha256=None, name=backup.name), []


def _photographs_of(source: Path) -> Path:
    return source if (source / MANIFEST).is_file() else source.parent


def _listed(backup: Path) -> list[CopyOrder]:
    try:
        manifest = json.loads((backup / MANIFEST).read_text(encoding="utf-8-sig"))
        files = [
            CopyOrder(
                path=str(file["path"]),
                size=int(file["size"]),
                sha256=str(file["sha256"]),
                name=str(file["path"]),
            )
            for file in manifest["files"]
        ]
    except OSError as error:
        raise _no_backup(backup, f"it has no {MANIFEST}") from error
    except (ValueError, KeyError, TypeError) as error:
        raise _no_backup(backup, f"its {MANIFEST} is damaged") from error
    if not all(is_inside(file.path) for file in files):
        raise _no_backup(backup, f"its {MANIFEST} names files outside the backup")
    return files


def _refuse_unsound(database: Path) -> None:
    engine = sqlite.open_database(database)
    try:
        found = sqlite.integrity_findings(engine)
    finally:
        engine.dispose()
    if found:
        raise _damaged(database, found[0])


def _damaged(database: Path, why: str) -> CatalogError:
    return CatalogError(
        f"The database of this backup is damaged: {why}",
        remedy="Choose another backup. Nothing was changed.",
        subject=str(database),
    )


def _no_backup(backup: Path, why: str) -> CatalogError:
    return CatalogError(
        f"{backup.name} is not a backup of a catalog: {why}.",
        remedy="Choose the folder that a backup was written to, or a file in a catalog’s backups.",
        subject=str(backup),
    )
