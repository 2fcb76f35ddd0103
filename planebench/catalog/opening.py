"""Making and opening catalogs: what is refused and why, migration after a backup, the lock."""

from __future__ import annotations

import datetime as dt
import os
import socket
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from planebench import __version__
from planebench.catalog import sqlite
from planebench.catalog.backup_names import advice
from planebench.catalog.building import built_beside, sweep
from planebench.catalog.files import create, flush_file, make_folder
from planebench.catalog.ids import new_id
from planebench.catalog.lock_file import IN_USE, LockFile, read_lock_file
from planebench.catalog.tables import CatalogInfoRow
from planebench.errors import CatalogBusyError, CatalogError, CatalogNewerError

DATABASE = "catalog.db"
SUBFOLDERS = ("photos", "sheets", "backups")
_WRITE_TEST = ".write-test-"
MIGRATIONS = Path(__file__).parent / "migrations"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A database ready for use, and the lock file that says so."""

    engine: Engine
    folder: Path
    lock: LockFile

    @property
    def closed_cleanly(self) -> bool:
        """False when the last program that had it open died."""
        return not self.lock.was_left


def make(folder: Path, *, name: str, at: dt.datetime) -> None:
    """Make an empty catalog in a folder that is empty or not there yet.

    Raises CatalogError when something is there already or the disk refuses.
    """
    try:
        with built_beside(folder) as part:
            for sub in SUBFOLDERS:
                make_folder(part / sub)
            _make_database(part / DATABASE, name=name, at=at)
    except OSError as error:
        raise _refused(folder, error) from error
    except DatabaseError as error:
        raise sqlite.as_catalog_error(error, folder.name) or _refused(
            folder, OSError(str(error.orig))
        ) from error


def _make_database(path: Path, *, name: str, at: dt.datetime) -> None:
    with create(path):
        # SQLite gives its log files the mode of the database.
        pass
    engine = sqlite.open_database(path)
    try:
        migrate(engine)
        with Session(engine) as session, session.begin():
            session.add(
                CatalogInfoRow(id=new_id(), name=name, created_at=at, written_by=__version__)
            )
        sqlite.fold_log(engine)
    finally:
        engine.dispose()
    sqlite.remove_log(path)
    flush_file(path)


def open_catalog(folder: Path, *, at: dt.datetime) -> Opened:
    """Open a catalog, bringing an older one up to date after a backup of its database.

    Raises CatalogError (not a catalog, disk refuses), CatalogNewerError, CatalogBusyError; then
    nothing was changed.
    """
    _refuse_links(folder)
    database = _checked_database(folder)
    _refuse_if_elsewhere(folder)
    _refuse_if_read_only(folder)
    engine = sqlite.open_database(database)
    try:
        _bring_up_to_date(engine, folder, at)
    except sqlite.DAMAGE as error:
        engine.dispose()
        raise sqlite.as_catalog_error(error, folder.name, advice(folder)) or _not_a_catalog(
            folder, sqlite.in_short(error)
        ) from error
    except CatalogError:
        engine.dispose()
        raise
    try:
        lock = LockFile(folder, at=at)
    except OSError as error:
        engine.dispose()
        raise _refused(folder, error) from error
    if lock.is_alone:
        _sweep(folder)
    return Opened(engine=engine, folder=folder, lock=lock)


def close(opened: Opened) -> None:
    """Fold the log into the database file and release the lock.

    A log that cannot be folded in, as on a full disk, loses nothing: the next opening reads it.
    """
    with suppress(*sqlite.DAMAGE):
        sqlite.fold_log(opened.engine)
    opened.engine.dispose()
    opened.lock.release()


def migrate(engine: Engine, revision: str = "head") -> None:
    """Bring a database to a revision of the tables, upward or, for tests, downward."""
    config = _config()
    with sqlite.rebuilding(engine) as connection:
        config.attributes["connection"] = connection
        here = MigrationContext.configure(connection).get_current_revision()
        if revision == "base" or (here is not None and revision != "head" and revision < here):
            command.downgrade(config, revision)
        else:
            command.upgrade(config, revision)


def head_revision() -> str:
    """Return the newest revision of the tables that this program knows."""
    return str(ScriptDirectory.from_config(_config()).get_current_head())


def known_revisions() -> tuple[str, ...]:
    """Return every revision, oldest first."""
    script = ScriptDirectory.from_config(_config())
    return tuple(str(step.revision) for step in reversed(list(script.walk_revisions())))


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    return config


def _sweep(folder: Path) -> None:
    """Remove what programs that died left half-written; nobody else has the catalog open."""
    sweep(folder)
    for sub in ("sheets", "backups"):
        sweep(folder / sub)
    for probe in folder.glob(f"{_WRITE_TEST}*"):
        with suppress(OSError):
            probe.unlink()


def _refuse_links(folder: Path) -> None:
    """Refuse a catalog whose own files or folders are links: they could lead anywhere."""
    logs = [f"{DATABASE}{ending}" for ending in ("-wal", "-shm", "-journal")]
    for name in (DATABASE, IN_USE, *logs, *SUBFOLDERS):
        if (folder / name).is_symlink():
            raise CatalogError(
                f"{name} in {folder.name} is a link to another place.",
                remedy="Put the file or folder itself into the catalog’s folder. If the catalog "
                "came from someone else, do not trust it. Nothing was changed.",
                subject=str(folder / name),
            )


def _checked_database(folder: Path) -> Path:
    database = folder / DATABASE
    try:
        if not database.is_file():
            raise _not_a_catalog(folder, f"it has no {DATABASE}")
        if not sqlite.is_database(database):
            raise _not_a_catalog(folder, f"its {DATABASE} is not a database")
    except OSError as error:
        raise _refused(folder, error) from error
    return database


def _bring_up_to_date(engine: Engine, folder: Path, at: dt.datetime) -> None:
    with sqlite.for_reading(engine).connect() as connection:
        if "catalog_info" not in inspect(connection).get_table_names():
            raise _not_a_catalog(folder, "its database was made by another program")
        here = MigrationContext.configure(connection).get_current_revision()
        written_by = connection.execute(text("SELECT written_by FROM catalog_info")).scalar()
    if here == head_revision():
        return
    if here not in known_revisions():
        raise CatalogNewerError(
            f"{folder.name} was written by Planebench {written_by or '?'} (tables {here}); "
            f"this is {__version__} (tables {head_revision()}).",
            remedy="Install the newer program to open it. Nothing was changed.",
            subject=str(folder),
        )
    before = folder / "backups" / f"{at:%Y-%m-%d-%H%M%S}-before-{head_revision()}.db"
    make_folder(before.parent)
    sqlite.snapshot(folder / DATABASE, before)
    migrate(engine)


def _refuse_if_elsewhere(folder: Path) -> None:
    mark = read_lock_file(folder)
    machine = mark.get("machine")
    if machine is not None and machine != socket.gethostname():
        raise CatalogBusyError(
            f"{folder.name} has been open on {machine} since {mark.get('since', 'some time ago')}.",
            remedy=f"Close it there. If {machine} crashed, delete the file {IN_USE} "
            "in the catalog’s folder, then open it again.",
            subject=str(folder),
        )


def _refuse_if_read_only(folder: Path) -> None:
    probe = folder / f"{_WRITE_TEST}{os.getpid()}"
    try:
        probe.write_bytes(b"")
        probe.unlink()
        with (folder / DATABASE).open("r+b"):
            pass
    except OSError as error:
        raise _refused(folder, error) from error


def _not_a_catalog(folder: Path, why: str) -> CatalogError:
    return CatalogError(
        f"{folder.name} is not a catalog of this program: {why}.",
        remedy="Choose the folder that contains catalog.db. Nothing was changed.",
        subject=str(folder),
    )


def _refused(folder: Path, error: OSError) -> CatalogError:
    return CatalogError(
        f"{folder.name} cannot be opened: {error.strerror or error}.",
        remedy="Choose a folder that you are allowed to write to, or change its permissions. "
        "Nothing was changed.",
        subject=str(folder),
    )
