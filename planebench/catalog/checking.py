"""Checks a whole catalog: database, every original against its hash, sheets, pins."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from sqlalchemy import select

from planebench.catalog import sqlite
from planebench.catalog.catalog import Catalog
from planebench.catalog.findings import Finding
from planebench.catalog.opening import DATABASE
from planebench.catalog.originals import PART_SUFFIX
from planebench.catalog.recovery import hash_of_file
from planebench.catalog.tables import (
    IssuedSheetRow,
    OriginalRow,
    PhotographRow,
    PinRow,
    ToolRow,
)

_FROM_BACKUP = "Restore it from a backup; its record is still here."
_Told = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stored:
    path: Path
    sha256: str
    name: str


def check(
    catalog: Catalog,
    *,
    report: Callable[[int, int], None] | None = None,
    stopped: Callable[[], bool] | None = None,
) -> tuple[Finding, ...]:
    """List every problem found; empty when there are none.

    `report` gets how many of how many originals were read; once `stopped` the rest are left out.
    """
    # Files are listed before records are read: what comes in meanwhile is then in both.
    there = set(catalog.originals.files())
    stored = _stored(catalog)
    findings = [
        _of_database(catalog, words) for words in sqlite.integrity_findings(catalog.store.engine)
    ]
    findings += _photographs(stored, report or _tell_nobody, stopped or _never)
    findings += _left_over(catalog, there - {file.path for file in stored})
    findings += _sheets(catalog)
    findings += _places(catalog)
    return tuple(findings)


def _stored(catalog: Catalog) -> list[_Stored]:
    with catalog.store.read() as session:
        asked = select(OriginalRow.sha256, OriginalRow.suffix).order_by(OriginalRow.sha256)
        rows = session.execute(asked).all()
        named = select(PhotographRow.sha256, PhotographRow.original_name)
        names = dict(session.execute(named).all())
    return [
        _Stored(
            path=catalog.originals.path(sha256, suffix), sha256=sha256, name=names.get(sha256, "")
        )
        for sha256, suffix in rows
    ]


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
        found = hash_of_file(file.path)
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
        names = session.scalars(select(IssuedSheetRow.file_name)).all()
    for name in names:
        if not (catalog.folder / "sheets" / name).is_file():
            yield Finding(
                subject=name,
                happened="The file of this issued sheet is missing from the catalog’s folder.",
                remedy=_FROM_BACKUP,
            )


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
        happened=f"The database of {catalog.folder.name} is damaged: {words}.",
        remedy="Restore the latest backup into a new catalog.",
    )


def _tell_nobody(_done: int, _total: int) -> None:
    pass


def _never() -> bool:
    return False
