"""Everything that only SQLite understands: opening, transactions, snapshots and integrity."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event, text
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import DatabaseError
from sqlalchemy.pool import ConnectionPoolEntry

from planebench.catalog.files import create, flush_file, flush_folder, part_of
from planebench.catalog.tables.columns import damaged
from planebench.errors import CatalogBusyError, CatalogError

HEADER = b"SQLite format 3\x00"
WAIT_SECONDS = 10.0
_DAMAGED = ("malformed", "not a database", "cannot be read")
_NOT_WRITABLE = ("readonly", "disk i/o", "unable to open")
DAMAGE = (DatabaseError, sqlite3.Error, UnicodeDecodeError)
"""What a damaged database raises; sqlite3 can't decode its own message where names are damaged."""


def open_database(path: Path) -> Engine:
    """Return an engine on a SQLite file: WAL, foreign keys on, synchronous full.

    Every transaction is begun here in so many words. Python's own sqlite3 module guesses from the
    statement whether to begin one, and under a Turkish or Azeri locale it does not recognize
    INSERT. By default a transaction takes the right to write at once (BEGIN IMMEDIATE), so that
    two programs wait for each other at its beginning and not in the middle; the engine returned
    by `for_reading` does not take it.
    """
    # URL.create: a folder's name may hold %, ? or #, which an address in text would read as its
    # own.
    address = URL.create("sqlite", database=str(path))
    engine = create_engine(
        address,
        connect_args={"timeout": WAIT_SECONDS, "isolation_level": None},
        json_deserializer=_json,
    )
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _json(text_of_value: str) -> object:
    try:
        return json.loads(text_of_value)
    except (ValueError, RecursionError) as error:
        raise damaged(text_of_value) from error


def for_reading(engine: Engine) -> Engine:
    """Return the engine for transactions that only read: they keep nobody from writing."""
    return engine.execution_options(sqlite_begin="DEFERRED")


def _prepare(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
    cursor = connection.cursor()
    cursor.execute("PRAGMA journal_mode=WAL")
    cursor.execute("PRAGMA foreign_keys=ON")
    # FULL: a photograph that was acknowledged survives a power cut.
    cursor.execute("PRAGMA synchronous=FULL")
    cursor.close()


def _begin(connection: Connection) -> None:
    kind = connection.get_execution_options().get("sqlite_begin", "IMMEDIATE")
    connection.exec_driver_sql(f"BEGIN {kind}")


def is_database(path: Path) -> bool:
    """Tell whether a file begins as a SQLite database does."""
    with path.open("rb") as file:
        return file.read(len(HEADER)) == HEADER


def snapshot(database: Path, target: Path) -> None:
    """Copy a database as one consistent file while others may be using it.

    Raises CatalogError when it cannot be written; then no half copy is left.
    """
    part = part_of(target)
    try:
        with create(part):
            # SQLite fills the file that is there, and so keeps its mode.
            pass
        with closing(sqlite3.connect(database)) as source, closing(sqlite3.connect(part)) as copy:
            source.backup(copy)
        flush_file(part)
        part.replace(target)
        flush_folder(target.parent)
    except (sqlite3.Error, OSError) as error:
        part.unlink(missing_ok=True)
        raise CatalogError(
            f"The database could not be copied: {error}.",
            remedy="Free some space where the copy goes, or choose another disk, then try again.",
            subject=str(target),
        ) from error


def remove_log(database: Path) -> None:
    """Remove the log files beside a database that nobody has open."""
    for ending in ("-wal", "-shm"):
        database.with_name(database.name + ending).unlink(missing_ok=True)


def integrity_findings(engine: Engine) -> tuple[str, ...]:
    """List what SQLite's own checks of structure and of foreign keys find; empty when sound."""
    findings: list[str] = []
    try:
        with for_reading(engine).connect() as connection:
            rows = connection.execute(text("PRAGMA integrity_check")).scalars().all()
            findings += [str(row) for row in rows if row != "ok"]
            for table, row, parent, _ in connection.execute(text("PRAGMA foreign_key_check")):
                findings.append(f"row {row} of {table} points to a missing row of {parent}")
    except DAMAGE as error:
        findings.append(in_short(error))
    return tuple(findings)


def fold_log(engine: Engine) -> None:
    """Write the log back into the database file, so that a closed catalog is one file."""
    with engine.connect() as connection:
        _run_alone(connection, "PRAGMA wal_checkpoint(TRUNCATE)")


@contextmanager
def rebuilding(engine: Engine) -> Iterator[Connection]:
    """Return a connection in one transaction in which tables may be dropped and made anew.

    Foreign keys are not enforced meanwhile and are checked whole before the end, as SQLite's
    manual has it ("Making Other Kinds Of Table Schema Changes"). Raises CatalogError and changes
    nothing when a row would point to one that is not there.
    """
    with engine.connect() as connection:
        _run_alone(connection, "PRAGMA foreign_keys=OFF")
        try:
            with connection.begin():
                yield connection
                astray = connection.execute(text("PRAGMA foreign_key_check")).first()
                if astray is not None:
                    raise CatalogError(
                        f"The table {astray[0]} has a row whose {astray[2]} is missing, so the "
                        "catalog was not brought up to date.",
                        remedy="Check the catalog with the version it was written by, or restore "
                        "a backup. Nothing was changed.",
                        subject=str(astray[0]),
                    )
        finally:
            _run_alone(connection, "PRAGMA foreign_keys=ON")


def _run_alone(connection: Connection, statement: str) -> None:
    """Run what SQLite refuses or passes over within a transaction."""
    driver = connection.connection.driver_connection
    if isinstance(driver, sqlite3.Connection):
        driver.execute(statement)


def in_short(error: Exception) -> str:
    """Return the database's own message, without the statement and its values."""
    if isinstance(error, DatabaseError):
        return str(error.orig)
    return str(error) if isinstance(error, sqlite3.Error) else "its names cannot be read"


def as_catalog_error(error: Exception, name: str, advice: str = "") -> CatalogError | None:
    """Return the error to show for what happened to a database, None for any other trouble.

    `advice` says which backup to restore.
    """
    text_of_error = in_short(error).lower()
    if "locked" in text_of_error:
        return CatalogBusyError(
            f"{name} is in use by another program.",
            remedy="Wait a moment or close the other program, then try again. Nothing was lost.",
            subject=name,
        )
    if "full" in text_of_error:
        return CatalogError(
            f"The disk with {name} is full, so nothing more was saved.",
            remedy="Free some space, then try again. Everything saved before is safe.",
            subject=name,
        )
    if any(words in text_of_error for words in _DAMAGED):
        return CatalogError(
            f"The database of {name} is damaged.",
            remedy=advice or "Restore a backup into a new folder.",
            subject=name,
        )
    if any(words in text_of_error for words in _NOT_WRITABLE):
        return CatalogError(
            f"{name} cannot be saved: its disk does not accept changes.",
            remedy="Check that the disk is connected and not read-only, then try again.",
            subject=name,
        )
    return None
