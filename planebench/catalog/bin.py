"""The bin: what was deleted, and restoring it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from planebench.catalog.changes import Changes
from planebench.catalog.history import TABLES
from planebench.catalog.ids import ToolId
from planebench.catalog.repository import Repository, get_row
from planebench.catalog.tables import BatchRow, EditedRow, ToolRow
from planebench.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class BinEntry:
    """Something deleted: its table and id, what it is in words, and when it was deleted."""

    table: str
    id: str
    words: str
    binned_at: dt.datetime
    tool: ToolId | None


class Bin(Repository):
    """Everything that was deleted. Entries stay until they are restored."""

    def entries(self) -> tuple[BinEntry, ...]:
        """List what is in the bin, newest first."""
        things: list[BinEntry] = []
        with self._store.read() as session:
            for name, table in TABLES.items():
                column = table.__mapper__.columns.get("binned_at")
                if column is None:
                    continue
                rows = session.scalars(select(table).where(column.is_not(None)))
                things += [_thing(session, name, row) for row in rows]
        return tuple(sorted(things, key=lambda thing: thing.binned_at, reverse=True))

    def restore(self, thing: BinEntry) -> Changes:
        """Restore one entry; a batch brings the tools that were deleted with it.

        Raises InputError for a tool whose batch is in the bin.
        """
        with self._store.edit(f"Restored: {thing.words}") as edit:
            row = get_row(edit.session, TABLES[thing.table], thing.id)
            if isinstance(row, ToolRow):
                batch = edit.session.get_one(BatchRow, row.batch_id)
                if batch.binned_at is not None:
                    raise InputError(
                        f"{row.stock_number} belongs to batch {batch.code}, which is in the bin.",
                        remedy="Restore the batch first.",
                        subject=row.stock_number,
                    )
            if isinstance(row, BatchRow):
                went_along = select(ToolRow).where(
                    ToolRow.batch_id == row.id, ToolRow.binned_at == row.binned_at
                )
                for tool in edit.session.scalars(went_along):
                    tool.binned_at = None
            row.binned_at = None  # type: ignore[attr-defined]  # every table in the bin has it
        return edit.changes


def _thing(session: Session, name: str, row: EditedRow) -> BinEntry:
    tool_id = row.id if isinstance(row, ToolRow) else getattr(row, "tool_id", None)
    tool = session.get(ToolRow, tool_id) if tool_id else None
    what = next(
        (
            str(value)
            for key in ("stock_number", "name", "code", "seen", "what", "original_name", "kind")
            if (value := getattr(row, key, None))
        ),
        "",
    )
    of_tool = "" if tool is None or isinstance(row, ToolRow) else f"{tool.stock_number}: "
    return BinEntry(
        table=name,
        id=row.id,
        words=f"{of_tool}{name.replace('_', ' ')} {what}".strip(),
        binned_at=row.binned_at,  # type: ignore[attr-defined]  # asked for above
        tool=None if tool_id is None else ToolId(tool_id),
    )
