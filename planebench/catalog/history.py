"""Who did what and when; undo and redo, after a restart too."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from sqlalchemy import ColumnElement, exists, func, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from planebench.catalog.change_values import STAYS, Plain, from_plain
from planebench.catalog.changes import Changes
from planebench.catalog.ids import EditId, ToolId
from planebench.catalog.store import Step, Store
from planebench.catalog.tables import ChangeRow, EditedRow, EditRow, Row
from planebench.errors import CatalogError

TABLES: dict[str, type[EditedRow]] = {
    mapper.class_.__tablename__: mapper.class_
    for mapper in Row.registry.mappers
    if issubclass(mapper.class_, EditedRow)
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PastEdit:
    """A line of the history; `undone` once it was taken out again."""

    id: EditId
    at: dt.datetime
    who: str
    words: str
    undone: bool


class History:
    """The catalog's history of edits, with undo and redo along one line.

    A sheet that was issued stays issued: undo passes over it.
    """

    def __init__(self, store: Store) -> None:
        self._store = store

    def next_undo(self) -> PastEdit | None:
        """Return the edit that `undo` would undo, None when there is none."""
        with self._store.read() as session:
            row = _last_standing(session)
            return None if row is None else _past(row)

    def next_redo(self) -> PastEdit | None:
        """Return the edit that `redo` would redo, None when there is none."""
        with self._store.read() as session:
            row = _last_undone(session)
            return None if row is None else _past(row)

    def undo(self) -> Changes:
        """Undo the last edit; do nothing when there is none.

        Raises CatalogError when later records depend on it, or when more of the same import is
        still being written: then nothing was changed.
        """
        with self._store.read() as session:
            row = _last_standing(session)
        if row is None:
            return Changes()
        if self._store.runs.includes(row.run):
            raise CatalogError(
                f"“{row.description}” cannot be undone while its photographs "
                "are still being added.",
                remedy="Wait until the import ends, or stop it; then undo it as a whole.",
                subject=row.description,
            )
        step = Step(action="undo", target_id=row.id)
        with _in_words(row), self._store.edit(f"Undone: {row.description}", back=step) as edit:
            session = edit.session
            number = _last_number(session)
            for taken in reversed(_run_of(session, row, EditRow.undone_by.is_(None))):
                for change in reversed(_changes_of(session, taken.id)):
                    _restore(session, change, change.old_values, other=change.new_values)
                taken.undone_by = number
        return edit.changes

    def undo_run(self, run: str) -> Changes:
        """Undo a run, such as an import, if it is the last edit; otherwise do nothing."""
        with self._store.read() as session:
            row = _last_standing(session)
        return self.undo() if row is not None and row.run == run else Changes()

    def undo_runs(self, runs: Sequence[str]) -> tuple[Changes, int]:
        """Undo runs, the last one first, until one is not the last edit.

        Return what this touched and how many runs were left.
        """
        changes = Changes()
        for left in range(len(runs), 0, -1):
            taken = self.undo_run(runs[left - 1])
            if not taken.words:
                return changes, left
            changes |= taken
        return changes, 0

    def redo(self) -> Changes:
        """Redo the edit undone last, unless something new was done since."""
        with self._store.read() as session:
            row = _last_undone(session)
        if row is None:
            return Changes()
        step = Step(action="redo", target_id=row.id)
        with self._store.edit(f"Redone: {row.description}", back=step) as edit:
            session = edit.session
            together = EditRow.undone_by == row.undone_by
            for brought in _run_of(session, row, together):
                for change in _changes_of(session, brought.id):
                    _restore(session, change, change.new_values, other=change.old_values)
                brought.undone_by = None
        return edit.changes

    def lines(self, *, tool: ToolId | None = None, limit: int = 500) -> tuple[PastEdit, ...]:
        """List edits, newest first; of one tool when named."""
        asked = select(EditRow).order_by(EditRow.number.desc()).limit(limit)
        if tool is not None:
            of_tool = select(ChangeRow.edit_id).where(ChangeRow.tool_id == tool)
            asked = asked.where(EditRow.id.in_(of_tool))
        with self._store.read() as session:
            return tuple(_past(row) for row in session.scalars(asked))


@contextmanager
def _in_words(row: EditRow) -> Iterator[None]:
    """Raise CatalogError when rows written since depend on the rows that would go."""
    try:
        yield
    except IntegrityError as error:
        raise CatalogError(
            f"“{row.description}” cannot be undone: something added since depends on it.",
            remedy="Remove what was added since, such as pins or pairs, then try again. A tool "
            "with an issued sheet can be deleted instead.",
            subject=row.description,
        ) from error


def _past(row: EditRow) -> PastEdit:
    return PastEdit(
        id=EditId(row.id),
        at=row.at,
        who=row.who,
        words=row.description,
        undone=row.undone_by is not None,
    )


def _last_standing(session: Session) -> EditRow | None:
    stays = exists().where(ChangeRow.edit_id == EditRow.id, ChangeRow.table_name == STAYS)
    return session.scalars(
        select(EditRow)
        .where(EditRow.action == "do", EditRow.undone_by.is_(None), ~stays)
        .order_by(EditRow.number.desc())
        .limit(1)
    ).first()


def _last_undone(session: Session) -> EditRow | None:
    last_new = (
        select(func.coalesce(func.max(EditRow.number), 0))
        .where(EditRow.action == "do", EditRow.undone_by.is_(None))
        .scalar_subquery()
    )
    return session.scalars(
        select(EditRow)
        .where(EditRow.action == "do", EditRow.undone_by > last_new)
        .order_by(EditRow.undone_by.desc())
        .limit(1)
    ).first()


def _run_of(session: Session, row: EditRow, which: ColumnElement[bool]) -> list[EditRow]:
    """Return the edits undone together with one, oldest first: those of its run, or it alone."""
    if row.run is None:
        return [session.get_one(EditRow, row.id)]
    asked = select(EditRow).where(EditRow.run == row.run, which).order_by(EditRow.number)
    return list(session.scalars(asked))


def _last_number(session: Session) -> int:
    return session.execute(select(func.max(EditRow.number))).scalar_one()


def _changes_of(session: Session, edit_id: str) -> list[ChangeRow]:
    asked = select(ChangeRow).where(ChangeRow.edit_id == edit_id).order_by(ChangeRow.position)
    return list(session.scalars(asked))


def _restore(
    session: Session, change: ChangeRow, wanted: Plain | None, *, other: Plain | None
) -> None:
    """Bring one row to the values `wanted`: change it, add it or remove it."""
    table = TABLES[change.table_name]
    if wanted is None:
        session.delete(session.get_one(table, change.row_id))
    elif other is None:
        session.add(table(**{name: from_plain(value) for name, value in wanted.items()}))
    else:
        row = session.get_one(table, change.row_id)
        for name, value in wanted.items():
            setattr(row, name, from_plain(value))
    session.flush()
