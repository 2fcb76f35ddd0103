"""Kinds of plane: the program's own and those that a user added."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import select

from planebench.catalog.changes import Changes
from planebench.catalog.ids import new_id
from planebench.catalog.reference import Kind, kind_from
from planebench.catalog.repository import Repository
from planebench.catalog.summary import kinds_in
from planebench.catalog.tables import OwnKindRow


class KindRepository(Repository):
    """Kinds of plane by code; a user's kind of the same code replaces the program's."""

    def all(self) -> Mapping[str, Kind]:
        """Return every kind, in order."""
        with self._store.read() as session:
            kinds = kinds_in(session)
        return dict(sorted(kinds.items(), key=lambda item: (item[1].order, item[1].name)))

    def write(self, definition: Mapping[str, object]) -> Changes:
        """Add or replace a kind of the user's own, in the form of resources/kinds.

        Raises InputError naming what is missing.
        """
        kind = kind_from(definition, own=True)
        with self._store.edit(f"Kind saved: {kind.name}") as edit:
            row = edit.session.scalars(
                select(OwnKindRow).where(OwnKindRow.code == kind.code)
            ).first()
            if row is None:
                row = OwnKindRow(id=new_id(), code=kind.code, definition=dict(definition))
                edit.session.add(row)
            row.definition = dict(definition)
            row.binned_at = None
        return edit.changes

    def bin(self, code: str) -> Changes:
        """Delete a user's own kind, into the bin; tools of that kind keep their parts."""
        with self._store.edit("Kind deleted") as edit:
            row = edit.session.scalars(select(OwnKindRow).where(OwnKindRow.code == code)).first()
            if row is not None:
                row.binned_at = edit.at
        return edit.changes
