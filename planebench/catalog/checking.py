"""Checks a whole catalog: database, every original against its hash, sheets, pins."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from planebench.catalog import sqlite
from planebench.catalog.backup_names import advice
from planebench.catalog.catalog import Catalog
from planebench.catalog.files import PART_SUFFIX, hash_of_file, is_plain_name, open_plain
from planebench.catalog.findings import Finding
from planebench.catalog.opening import DATABASE
from planebench.catalog.tables import (
    IssuedSheetRow,
    OriginalRow,
    PhotographRow,
    PinRow,
    Row,
    ToolRow,
)
from planebench.errors import CatalogError, FileError

_FROM_BACKUP = "Restore it from a backup; its record is still here."
_PDF = b"%PDF"
_Told = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stored:
    path: Path
    sha256: str
    name: str
    within: Path


def check(
    catalog: Catalog,
    *,
    deep: bool = False,
    report: Callable[[int, int], None] | None = None,
    stopped: Callable[[], bool] | None = None,
) -> tuple[Finding, ...]:
    """List every problem found; empty when there are none.

    `report` gets how many of how many originals were read; once `stopped` the rest are left out.
    With `deep` every stored value is read as well: codes, days, figures and JSON. A database that
    is damaged makes findings, never an error.
    """
    # Files are listed before records are read: what comes in meanwhile is then in both.
    there = set(catalog.originals.files())
    findings = [
        _of_database(catalog, words) for words in sqlite.integrity_findings(catalog.store.engine)
    ]
    stored: list[_Stored] = []
    findings += _guarded(catalog, lambda: _stored(catalog, stored))
    findings += _photographs(stored, report or _tell_nobody, stopped or _never)
    findings += _left_over(catalog, there - {file.path for file in stored})
    findings += _guarded(catalog, lambda: _sheets(catalog))
    findings += _guarded(catalog, lambda: _places(catalog))
    if deep:
        for table in Row.registry.mappers:
            findings += _guarded(catalog, partial(_values_of, catalog, table.class_))
    return tuple(findings)


def _guarded(catalog: Catalog, section: Callable[[], Iterable[Finding]]) -> list[Finding]:
    """Return a section's findings; where the database cannot be read that is a finding itself."""
    try:
        return list(section())
    except sqlite.DAMAGE as error:
        return [_of_database(catalog, sqlite.in_short(error))]
    except CatalogError as error:
        return [_of_database(catalog, error.happened)]


def _stored(catalog: Catalog, found: list[_Stored]) -> Iterator[Finding]:
    """Put the originals that the database knows into `found`; yield those it cannot mean."""
    with catalog.store.read() as session:
        asked = select(OriginalRow.sha256, OriginalRow.suffix).order_by(OriginalRow.sha256)
        rows = session.execute(asked).all()
        named = select(PhotographRow.sha256, PhotographRow.original_name)
        names = dict(session.execute(named).all())
    for sha256, suffix in rows:
        name = names.get(sha256, "")
        try:
            path = catalog.originals.path(sha256, suffix)
        except FileError as error:
            yield Finding(
                subject=name or error.subject, happened=error.happened, remedy=error.remedy
            )
        else:
            found.append(
                _Stored(path=path, sha256=sha256, name=name, within=catalog.originals.folder)
            )


def _values_of(catalog: Catalog, table: type[Row]) -> Iterator[Finding]:
    """Read every value of a table; one that cannot be read is a finding, and the rest goes on."""
    columns = list(table.__table__.columns)
    key = next(iter(table.__table__.primary_key))
    with catalog.store.read() as session:
        keys = session.scalars(select(key)).all()
        for column in columns:
            try:
                session.execute(select(column)).all()
            except CatalogError:
                yield from _damaged_values(session, column, key, keys)


def _damaged_values(
    session: Session,
    column: ColumnElement[object],
    key: ColumnElement[object],
    keys: Sequence[object],
) -> Iterator[Finding]:
    for one in keys:
        try:
            session.execute(select(column).where(key == one)).all()
        except CatalogError as error:
            yield Finding(
                subject=f"{column.table.name}.{column.name} of {one}",
                happened=error.happened,
                remedy="Restore a backup, or change this field in the record.",
            )


def _photographs(
    stored: list[_Stored], report: _Told, stopped: Callable[[], bool]
) -> Iterator[Finding]:
    with ThreadPoolExecutor(os.cpu_count() or 1) as pool:
        look = partial(_photograph, stopped=stopped)
        for done, finding in enumerate(pool.map(look, stored), 1):
            report(done, len(stored))
            if finding is not None:
                yield finding


def _photograph(file: _Stored, *, stopped: Callable[[], bool]) -> Finding | None:
    if stopped():
        return None
    called = f"{file.name} ({file.path.name})" if file.name else file.path.name
    try:
        found = hash_of_file(file.path, within=file.within)
    except FileNotFoundError:
        happened = "The original of this photograph is missing from the catalog’s folder."
    except OSError as error:
        happened = f"The original of this photograph cannot be read: {error.strerror}."
    else:
        if found == file.sha256:
            return None
        happened = "The original of this photograph was changed after it was added."
    return Finding(subject=called, happened=happened, remedy=_FROM_BACKUP)


def _left_over(catalog: Catalog, paths: set[Path]) -> Iterator[Finding]:
    for path in sorted(paths):
        half = path.suffix == PART_SUFFIX
        yield Finding(
            subject=str(path.relative_to(catalog.folder)),
            happened="This file was only partly written."
            if half
            else "This file is among the originals but has no record.",
            remedy="Delete it, unless photographs are being added right now."
            if half
            else "If it is a photograph you want, add it to the catalog; then delete it there.",
        )


def _sheets(catalog: Catalog) -> Iterator[Finding]:
    with catalog.store.read() as session:
        asked = select(IssuedSheetRow.file_name, IssuedSheetRow.pdf_sha256)
        sheets = session.execute(asked).all()
    for name, sha256 in sheets:
        happened = _sheet_trouble(catalog.folder / "sheets", name, sha256)
        if happened:
            yield Finding(subject=name, happened=happened, remedy=_FROM_BACKUP)


def _sheet_trouble(folder: Path, name: str, sha256: str | None) -> str:
    """Return what is wrong with an issued sheet's file, empty when it is as it was issued."""
    if not is_plain_name(name):
        return "The record of this issued sheet names a file outside the catalog."
    path = folder / name
    if not path.exists():
        return "The file of this issued sheet is missing from the catalog’s folder."
    try:
        with open_plain(path, within=folder) as stream:
            is_pdf = stream.read(len(_PDF)) == _PDF
        as_issued = is_pdf if sha256 is None else hash_of_file(path, within=folder) == sha256
    except OSError as error:
        return f"The file of this issued sheet cannot be read: {error.strerror}."
    return "" if as_issued else "The file of this issued sheet was changed after it was issued."


def _places(catalog: Catalog) -> Iterator[Finding]:
    with catalog.store.read() as session:
        outside = select(PinRow.id, PhotographRow.original_name).join(
            PhotographRow, PhotographRow.id == PinRow.photograph_id
        )
        outside = outside.where(~(PinRow.x.between(0, 1) & PinRow.y.between(0, 1)))
        for _, name in session.execute(outside):
            yield Finding(
                subject=name,
                happened="A pin lies outside this photograph.",
                remedy="Open the photograph and place the pin again.",
            )
        strayed = select(PhotographRow.original_name, ToolRow.stock_number).join(
            ToolRow, ToolRow.id == PhotographRow.tool_id
        )
        strayed = strayed.where(PhotographRow.batch_id != ToolRow.batch_id)
        for name, stock in session.execute(strayed):
            yield Finding(
                subject=name,
                happened=f"This photograph is filed under {stock} but in another batch.",
                remedy=f"File it under {stock} again.",
            )


def _of_database(catalog: Catalog, words: str) -> Finding:
    return Finding(
        subject=DATABASE,
        happened=f"The database of {catalog.folder.name} is damaged: {words.rstrip('.')}.",
        remedy=advice(catalog.folder),
    )


def _tell_nobody(_done: int, _total: int) -> None:
    pass


def _never() -> bool:
    return False
