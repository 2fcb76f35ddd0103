"""Writes every change of an edited row in the history, within the same transaction.

A row's columns are written as plain JSON, before and after; with them an edit can be undone
and redone, today or after a restart, by one piece of code for every table.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from sqlalchemy import inspect
from sqlalchemy.orm import Session

from planebench.catalog.change_values import Plain, to_plain
from planebench.catalog.outside_edits import OutsideFields
from planebench.catalog.tables import ChangeRow, EditedRow, EditRow, PhotographRow


@dataclass(slots=True)
class ChangeRecorder:
    """Collects one edit's changes; `touched` maps a table to the ids of rows touched in it."""

    edit: EditRow
    outside: OutsideFields
    touched: dict[str, set[str]] = field(default_factory=dict)
    tools: set[str] = field(default_factory=set)
    batches: set[str] = field(default_factory=set)
    photographs: set[str] = field(default_factory=set)
    position: int = 0

    def before_flush(self, session: Session, _context: object, _instances: object) -> None:
        """Listen to the session: note each edited row that is about to be written."""
        for row in _edited(session.new):
            # Ids and defaults are set at flush; the history needs the id now.
            _give_defaults(row)
            self._note(session, row, before=None, after=plain_values(row))
        for row in _edited(session.dirty):
            before, after = _differences(row)
            if after:
                self.outside.refuse_overwriting(row, before, after)
                self._note(session, row, before=before, after=after)
        for row in _edited(session.deleted):
            before = plain_values(row)
            self.outside.refuse_overwriting(row, before, None)
            self._note(session, row, before=before, after=None)

    def _note(
        self, session: Session, row: EditedRow, *, before: Plain | None, after: Plain | None
    ) -> None:
        self.touched.setdefault(row.__tablename__, set()).add(row.id)
        tool_id = self._gather(session, row)
        self.position += 1
        session.add(
            ChangeRow(
                edit_id=self.edit.id,
                position=self.position,
                table_name=row.__tablename__,
                row_id=row.id,
                tool_id=tool_id,
                old_values=before,
                new_values=after,
            )
        )

    def _gather(self, session: Session, row: EditedRow) -> str | None:
        """Note which tools, batches and photographs a row belongs to; return its tool."""
        photograph_id = getattr(row, "photograph_id", None)
        if row.__tablename__ == "photograph":
            photograph_id = row.id
        if photograph_id is not None:
            self.photographs.add(photograph_id)
        tools = {row.id} if row.__tablename__ == "tool" else _was_and_is(row, "tool_id")
        if not tools and photograph_id is not None:
            tools = self._tool_of(session, photograph_id)
        self.tools |= tools
        self.batches |= {row.id} if row.__tablename__ == "batch" else _was_and_is(row, "batch_id")
        return next(iter(tools), None)

    @staticmethod
    def _tool_of(session: Session, photograph_id: str) -> set[str]:
        with session.no_autoflush:
            photograph = session.get(PhotographRow, photograph_id)
        return {photograph.tool_id} if photograph is not None and photograph.tool_id else set()


def plain_values(row: EditedRow) -> Plain:
    """Return a row's written columns as JSON can hold them."""
    return {name: to_plain(getattr(row, name)) for name in _written(type(row))}


def _written(table: type[EditedRow]) -> list[str]:
    return [
        column.key
        for column in inspect(table).column_attrs
        if column.key != "version" and column.key not in table.derived
    ]


def _edited(rows: Iterable[object]) -> list[EditedRow]:
    return [row for row in rows if isinstance(row, EditedRow)]


def _give_defaults(row: EditedRow) -> None:
    for attribute in inspect(type(row)).column_attrs:
        column = attribute.columns[0]
        if attribute.key == "version" or getattr(row, attribute.key) is not None:
            continue
        default = column.default
        if default is not None and default.is_callable:
            setattr(row, attribute.key, default.arg({}))
        elif default is not None and default.is_scalar:
            setattr(row, attribute.key, default.arg)


def _differences(row: EditedRow) -> tuple[Plain, Plain]:
    before: Plain = {}
    after: Plain = {}
    state = inspect(row)
    for name in _written(type(row)):
        history = state.attrs[name].load_history()
        if history.has_changes():
            was = to_plain(history.deleted[0]) if history.deleted else None
            is_now = to_plain(getattr(row, name))
            if was != is_now:
                before[name], after[name] = was, is_now
    return before, after


def _was_and_is(row: EditedRow, name: str) -> set[str]:
    if name not in inspect(type(row)).column_attrs:
        return set()
    history = inspect(row).attrs[name].history
    return {value for value in (*history.sum(), getattr(row, name)) if value}
