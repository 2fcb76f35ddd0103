"""Everything that only SQLite understands: opening, pragmas, snapshots and integrity."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import Engine, create_engine, event, text
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import OperationalError
from sqlalchemy.pool import ConnectionPoolEntry

from planebench.errors import CatalogBusyError, CatalogError

HEADER = b"SQLite format 3\x00"
WAIT_SECONDS = 10.0


def open_database(path: Path) -> Engine:
    """Make an engine on a SQLite file: WAL, foreign keys on, synchronous full."""
    engine = create_engine(f"sqlite:///{path}", connect_args={"timeout": WAIT_SECONDS})

    def prepare(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
        cursor = connection.cursor()
        cursor.execute("PRAGMA journal_mode=WAL")
        cursor.execute("PRAGMA foreign_keys=ON")
        # FULL: a photograph that was acknowledged survives a power cut.
        cursor.execute("PRAGMA synchronous=FULL")
        cursor.close()

    event.listen(engine, "connect", prepare)
    return engine


def is_database(path: Path) -> bool:
    """Tell whether a file begins as a SQLite database does."""
    with path.open("rb") as file:
        return file.read(len(HEADER)) == HEADER


def snapshot(database: Path, target: Path) -> None:
    """Copy a database as one consistent file while others may be using it.

    Raises CatalogError when it cannot be written; then no half copy is left.
    """
    part = target.with_name(f"{target.name}.part")
    try:
        with closing(sqlite3.connect(database)) as source, closing(sqlite3.connect(part)) as copy:
            source.backup(copy)
        part.replace(target)
    except (sqlite3.Error, OSError) as error:
        part.unlink(missing_ok=True)
        raise CatalogError(
            f"The database could not be copied to {target.parent.name}: {error}.",
            remedy="Free some space there, or choose another disk, then try again.",
            subject=str(target),
        ) from error


def integrity_findings(engine: Engine) -> tuple[str, ...]:
    """List what SQLite's own checks of structure and of foreign keys find; empty when sound."""
    with engine.connect() as connection:
        rows = connection.execute(text("PRAGMA integrity_check")).scalars().all()
        findings = [str(row) for row in rows if row != "ok"]
        for table, row, parent, _ in connection.execute(text("PRAGMA foreign_key_check")):
            findings.append(f"{table} row {row} points to a {parent} that is not there")
    return tuple(findings)


def fold_log(engine: Engine) -> None:
    """Write the log back into the database file, so that a closed catalog is one file."""
    with engine.connect() as connection:
        connection.execute(text("PRAGMA wal_checkpoint(TRUNCATE)"))


def outside_changes(engine: Engine) -> int:
    """Return a number that changes when another connection has written."""
    with engine.connect() as connection:
        return int(connection.execute(text("PRAGMA data_version")).scalar_one())


def as_catalog_error(error: OperationalError, name: str) -> CatalogError | None:
    """Turn what the world did to the database into an error a person can act on, else None."""
    text_of_error = str(error.orig).lower()
    if "locked" in text_of_error:
        return CatalogBusyError(
            f"{name} is in use by another program.",
            remedy="Close the other program, then try again. Nothing was lost.",
            subject=name,
        )
    if "full" in text_of_error:
        return CatalogError(
            f"The disk that holds {name} is full, so this last change was not written.",
            remedy="Free some space, then do it again. All before it is safe.",
            subject=name,
        )
    if "readonly" in text_of_error or "disk i/o" in text_of_error:
        return CatalogError(
            f"{name} cannot be written: its disk refuses.",
            remedy="Look whether the disk is read-only or was taken out, then try again.",
            subject=name,
        )
    return None
