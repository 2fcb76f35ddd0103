"""What all repositories share: adding, changing and deleting one row as one edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from sqlalchemy.orm import Session

from planebench.catalog.changes import Changes
from planebench.catalog.store import Store
from planebench.catalog.tables import EditedRow, ToolRow
from planebench.errors import CatalogError

IdT = TypeVar("IdT")
RowT = TypeVar("RowT", bound=EditedRow)


@dataclass(frozen=True, slots=True, kw_only=True)
class Added(Generic[IdT]):
    """The id of what was added, and what that touched."""

    id: IdT
    changes: Changes


class Repository:
    """One kind of record in the catalog; every change is one edit and returns what it touched."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def _add(self, row: EditedRow, words: str) -> Changes:
        with self._store.edit(words) as edit:
            edit.words = self._of_tool(edit.session, row, words)
            edit.session.add(row)
        return edit.changes

    def _change(
        self, table: type[RowT], row_id: str, fields: Mapping[str, object], words: str
    ) -> Changes:
        with self._store.edit(words) as edit:
            row = get_row(edit.session, table, row_id)
            for name, value in fields.items():
                setattr(row, name, value)
            edit.words = self._of_tool(edit.session, row, words)
        return edit.changes

    def _bin(self, table: type[RowT], row_id: str, words: str) -> Changes:
        return self._change(table, row_id, {"binned_at": self._store.clock()}, words)

    @staticmethod
    def _of_tool(session: Session, row: EditedRow, words: str) -> str:
        tool_id = getattr(row, "tool_id", None)
        with session.no_autoflush:
            tool = session.get(ToolRow, tool_id) if tool_id else None
        return words if tool is None else f"{tool.stock_number} {words}"


def get_row(session: Session, table: type[RowT], row_id: str) -> RowT:
    """Return the row of an id; raise CatalogError when there is none."""
    row = session.get(table, row_id)
    if row is None:
        raise CatalogError(
            f"This {table.__tablename__.replace('_', ' ')} is no longer in the catalog.",
            remedy="It was undone or removed meanwhile. "
            "Go up one level and open it again from there.",
            subject=row_id,
        )
    return row
