"""One edit, one transaction: writes whole with its history, or not at all."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from sqlalchemy import event, func, select
from sqlalchemy.orm import Session
from sqlalchemy.orm.exc import StaleDataError

from planebench.catalog import sqlite
from planebench.catalog.backup_names import advice
from planebench.catalog.change_recorder import ChangeRecorder
from planebench.catalog.change_values import CATALOG_WIDE, STAYS
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, PhotographId, ToolId, new_id
from planebench.catalog.opening import Opened
from planebench.catalog.outside_edits import OutsideEdits
from planebench.catalog.runs_under_way import RunsUnderWay
from planebench.catalog.tables import EditRow
from planebench.errors import EditClashError

Clock = Callable[[], dt.datetime]
Summarize = Callable[[Session, set[str]], None]


@dataclass(slots=True)
class Edit:
    """An edit on its way; `changes` is filled when it has been written."""

    session: Session
    words: str
    at: dt.datetime
    changes: Changes = field(default_factory=Changes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step in the history: `action` is undo or redo, `target_id` the edit that it concerns."""

    action: str
    target_id: str


class Store:
    """Sessions on the catalog's database; `summarize` updates worked-out columns."""

    def __init__(self, opened: Opened, *, who: str, clock: Clock, summarize: Summarize) -> None:
        self.engine = opened.engine
        self._reading = sqlite.for_reading(opened.engine)
        self.folder = opened.folder
        self.who = who
        self.clock = clock
        self._summarize = summarize
        with self._errors():
            self.outside = OutsideEdits(self._reading)
        self.runs = RunsUnderWay(opened.engine, clock, self._errors)

    @contextmanager
    def read(self) -> Iterator[Session]:
        """Return a session for asking; nothing it changes is kept."""
        with self._errors(), Session(self._reading, expire_on_commit=False) as session:
            yield session

    @contextmanager
    def edit(
        self, words: str, *, run: str | None = None, back: Step | None = None
    ) -> Iterator[Edit]:
        """Return a session whose changes are written as one edit named `words`.

        Edits with the same `run` are undone together; `back` marks a step in the history.

        Raises EditClashError when it would overwrite what another program wrote unseen,
        CatalogError when the disk cannot be written; then nothing is saved.
        """
        with (
            self._errors(),
            Session(self.engine, expire_on_commit=False) as session,
            session.begin(),
        ):
            edit = Edit(session=session, words=words, at=self.clock())
            row = self._new_edit_row(session, edit, run=run, back=back)
            number = row.number
            recorder = ChangeRecorder(row, self.outside.fields_changed(session, before=number))
            event.listen(session, "before_flush", recorder.before_flush)
            yield edit
            session.flush()
            event.remove(session, "before_flush", recorder.before_flush)
            row.description = edit.words
            if not recorder.touched:
                session.expunge(row) if row in session.new else session.delete(row)
            self._summarize(session, recorder.tools)
            edit.changes = _changes(recorder, edit)
        if recorder.touched:
            self.outside.note_own(number)

    def _new_edit_row(
        self, session: Session, edit: Edit, *, run: str | None, back: Step | None
    ) -> EditRow:
        last = select(func.coalesce(func.max(EditRow.number), 0))
        row = EditRow(
            id=new_id(),
            number=last.scalar_subquery() + 1,
            at=edit.at,
            who=self.who,
            description=edit.words,
            action="do" if back is None else back.action,
            target_id=None if back is None else back.target_id,
            run=run,
        )
        session.add(row)
        session.flush()
        return row

    @contextmanager
    def _errors(self) -> Iterator[None]:
        try:
            yield
        except StaleDataError as error:
            raise EditClashError(
                "Someone else changed this record after you opened it.",
                remedy="Look at it again, then make your change once more.",
            ) from error
        except sqlite.DAMAGE as error:
            ours = sqlite.as_catalog_error(error, self.folder.name, advice(self.folder))
            if ours is None:
                raise
            raise ours from error


def _changes(recorder: ChangeRecorder, edit: Edit) -> Changes:
    return Changes(
        tools=frozenset(map(ToolId, recorder.tools)),
        batches=frozenset(map(BatchId, recorder.batches)),
        photographs=frozenset(map(PhotographId, recorder.photographs)),
        catalog_wide=bool(CATALOG_WIDE & recorder.touched.keys()),
        words=edit.words if recorder.touched else "",
        at=edit.at,
        stays=STAYS in recorder.touched,
    )
