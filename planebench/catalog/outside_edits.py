"""Edits that another program made in this catalog: never overwritten unseen, and told at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from threading import Lock

from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from planebench.catalog.change_values import CATALOG_WIDE, Plain, from_plain
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, PhotographId, ToolId
from planebench.catalog.tables import ChangeRow, EditedRow, EditRow
from planebench.errors import ClashValues, EditClashError

_RowKey = tuple[str, str]
_LONGEST = 80  # characters of a value within a sentence


@dataclass(slots=True)
class OutsideFields:
    """The fields that edits unseen here have changed: who did, by table, row and column."""

    who: dict[_RowKey, dict[str, str]]
    shown: set[tuple[str, str, str]]

    def refuse_overwriting(self, row: EditedRow, before: Plain, after: Plain | None) -> None:
        """Raise EditClashError when a change would overwrite what someone else entered unseen.

        `before` is what is stored now. A clash is raised once: the same change made again is the
        person's choice.
        """
        table, row_id = row.__tablename__, row.id
        for name, who in self.who.get((table, row_id), {}).items():
            place = (table, row_id, name)
            if place in self.shown or (after is not None and name not in after):
                continue
            self.shown.add(place)
            raise _clash(table, who, _values(name, before, after))


class OutsideEdits:
    """Knows which edits of the catalog this program has seen: its own, and those it asked for."""

    def __init__(self, reading: Engine) -> None:
        self._reading = reading
        self._lock = Lock()
        self._own: set[int] = set()
        self._shown: set[tuple[str, str, str]] = set()
        with Session(reading) as session:
            self._seen = _last_number(session)

    def note_own(self, number: int) -> None:
        """Note an edit that this program wrote."""
        with self._lock:
            self._own.add(number)
            while self._seen + 1 in self._own:
                self._seen += 1
                self._own.discard(self._seen)

    def fields_changed(self, session: Session, *, before: int) -> OutsideFields:
        """Return the fields that others changed unseen, in edits up to number `before`."""
        who: dict[_RowKey, dict[str, str]] = {}
        for edit in self._unseen(session, before - 1):
            for change in _changes_of(session, edit):
                if change.old_values is not None:
                    names = change.new_values or change.old_values
                    of_row = who.setdefault((change.table_name, change.row_id), {})
                    of_row.update(dict.fromkeys(names, edit.who))
        return OutsideFields(who=who, shown=self._shown)

    def take(self) -> Changes | None:
        """Return what others changed since this was last asked, None for nothing.

        From then on it counts as seen. Takes about a tenth of a millisecond when there is nothing,
        so that a window can ask every second.
        """
        with Session(self._reading) as session:
            last = _last_number(session)
            edits = self._unseen(session, last)
            changes = _gathered(session, edits)
        with self._lock:
            self._seen = max(self._seen, last)
            self._own = {number for number in self._own if number > self._seen}
            self._shown.clear()
        return changes

    def _unseen(self, session: Session, last: int) -> list[EditRow]:
        with self._lock:
            seen, own = self._seen, set(self._own)
        if last - seen <= len(own):
            # Numbers have no gaps: all of these are this program's own.
            return []
        asked = select(EditRow).where(EditRow.number > seen, EditRow.number <= last)
        return [
            edit
            for edit in session.scalars(asked.order_by(EditRow.number))
            if edit.number not in own
        ]


def _last_number(session: Session) -> int:
    return session.scalar(select(func.max(EditRow.number))) or 0


def _changes_of(session: Session, edit: EditRow) -> Iterable[ChangeRow]:
    return session.scalars(select(ChangeRow).where(ChangeRow.edit_id == edit.id))


@dataclass(slots=True)
class _Touched:
    tools: set[ToolId] = field(default_factory=set)
    batches: set[BatchId] = field(default_factory=set)
    photographs: set[PhotographId] = field(default_factory=set)
    tables: set[str] = field(default_factory=set)

    def add(self, change: ChangeRow) -> None:
        self.tables.add(change.table_name)
        if change.tool_id:
            self.tools.add(ToolId(change.tool_id))
        if change.table_name == "batch":
            self.batches.add(BatchId(change.row_id))
        if change.table_name == "photograph":
            self.photographs.add(PhotographId(change.row_id))
        for values in (change.old_values or {}, change.new_values or {}):
            self.tools |= set(map(ToolId, _ids(values, "tool_id")))
            self.batches |= set(map(BatchId, _ids(values, "batch_id")))
            self.photographs |= set(map(PhotographId, _ids(values, "photograph_id")))


def _ids(values: Mapping[str, object], name: str) -> list[str]:
    value = values.get(name)
    return [str(value)] if value else []


def _gathered(session: Session, edits: list[EditRow]) -> Changes | None:
    if not edits:
        return None
    touched = _Touched()
    for edit in edits:
        for change in _changes_of(session, edit):
            touched.add(change)
    last = edits[-1]
    return Changes(
        tools=frozenset(touched.tools),
        batches=frozenset(touched.batches),
        photographs=frozenset(touched.photographs),
        catalog_wide=bool(CATALOG_WIDE & touched.tables),
        words=f"{last.who}: {last.description}",
        at=last.at,
        # Not offered to be undone here: it is someone else's.
        stays=True,
    )


def _values(name: str, before: Plain, after: Plain | None) -> ClashValues:
    yours = None if after is None else from_plain(after.get(name))
    return ClashValues(field=name, theirs=from_plain(before.get(name)), yours=yours)


def _clash(table: str, who: str, values: ClashValues) -> EditClashError:
    record = table.replace("_", " ")
    name = values.field.removesuffix("_id").replace("_", " ")
    return EditClashError(
        f"{who} changed the {name} of this {record} to {_shown(values.theirs)} after you opened "
        f"it; you entered {_shown(values.yours)}.",
        remedy="Keep theirs, or save yours again to replace it.",
        subject=name,
        values=values,
    )


def _shown(value: object) -> str:
    text = "nothing" if value is None or value == "" else f"“{value}”"
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…”"
