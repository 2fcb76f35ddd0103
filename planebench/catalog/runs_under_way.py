"""Runs, such as imports, that some program is still writing: known to all through the database."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from datetime import datetime

from sqlalchemy import Engine, delete, select
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from planebench.catalog import sqlite
from planebench.catalog.files import is_running
from planebench.catalog.tables import RunUnderWayRow


class RunsUnderWay:
    """Runs whose edits cannot be undone yet, as more of them are to come."""

    def __init__(
        self,
        engine: Engine,
        clock: Callable[[], datetime],
        errors: Callable[[], AbstractContextManager[None]],
    ) -> None:
        self._engine = engine
        self._clock = clock
        # Turns what the database raises into errors that people can act on.
        self._errors = errors

    @contextmanager
    def hold(self, run: str) -> Iterator[None]:
        """Hold a run open while the block lasts."""
        row = RunUnderWayRow(
            run=run, machine=socket.gethostname(), process=os.getpid(), since=self._clock()
        )
        with self._errors(), Session(self._engine) as session, session.begin():
            session.add(row)
        try:
            yield
        finally:
            # On a full disk the row stays; once this program has ended it no longer counts.
            with suppress(DatabaseError), Session(self._engine) as session, session.begin():
                session.execute(delete(RunUnderWayRow).where(RunUnderWayRow.run == run))

    def includes(self, run: str | None) -> bool:
        """Return whether more edits of a run are to come, from this program or another."""
        with Session(sqlite.for_reading(self._engine)) as session:
            row = session.scalars(select(RunUnderWayRow).where(RunUnderWayRow.run == run)).first()
        if row is None:
            return False
        return row.machine != socket.gethostname() or is_running(row.process)

    def clear(self) -> None:
        """Forget the runs of programs that died; nobody else has the catalog open."""
        reading = sqlite.for_reading(self._engine)
        with self._errors(), Session(reading) as session:
            if session.scalars(select(RunUnderWayRow)).first() is None:
                return
        with self._errors(), Session(self._engine) as session, session.begin():
            session.execute(delete(RunUnderWayRow))
