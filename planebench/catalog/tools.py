"""Tools: adding, finding, listing, and the whole record of one."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import islice
from typing import TypedDict

from sqlalchemy import ColumnElement, Integer, Select, cast, func, select
from sqlalchemy.orm import Session
from typing_extensions import TypeVarTuple, Unpack

from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, ToolId, new_id
from planebench.catalog.records import records_of
from planebench.catalog.reference import Kind
from planebench.catalog.repository import Added, Repository, get_row
from planebench.catalog.settings import SettingsRepository
from planebench.catalog.summary import fold, kinds_in
from planebench.catalog.tables import BatchRow, PartRow, SurfaceRow, ToolRow
from planebench.catalog.tool_lines import line_from
from planebench.catalog.values import Tool, ToolLine
from planebench.errors import InputError
from planebench.trade.stock import clean_stock_number, stock_numbers
from planebench.trade.terms import TOOL_STATUS_WORDS, Basis, ToolStatus

Columns = TypeVarTuple("Columns")


class ToolFields(TypedDict, total=False):
    """The fields of a tool that can be changed."""

    stock_number: str
    maker: str
    model: str
    size: str
    identified_by: Basis | None
    note: str
    status: ToolStatus
    defects_inspected: bool
    work_finished: bool
    asking: Decimal | None
    sold_for: Decimal | None
    sold_on: dt.date | None
    sold_to: str
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NewTool:
    """A line typed for a new tool; an empty stock number takes the next one of the pattern."""

    kind: str
    maker: str = ""
    model: str = ""
    size: str = ""
    note: str = ""
    stock_number: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolFilter:
    """Which tools: words searched in every text, and filters.

    `lacks` holds any of "finished", "date", "measure", "agreement".

    Several words must all be found. Several `lacks` must all be lacking.
    """

    batch: BatchId | None = None
    words: str = ""
    statuses: frozenset[ToolStatus] = frozenset()
    kinds: frozenset[str] = frozenset()
    lacks: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingCounts:
    """How many tools of a list still miss something; each is a filter."""

    tools: int
    no_finished_photograph: int
    not_dated: int
    not_measured: int
    parts_disagree: int


class ToolRepository(Repository):
    """Tools of the catalog."""

    def add(self, batch: BatchId, new: NewTool) -> Added[ToolId]:
        """Add one tool with the parts and surfaces of its kind."""
        ids, changes = self.add_lines(batch, (new,))
        return Added(id=ids[0], changes=changes)

    def add_lines(
        self, batch: BatchId, lines: Sequence[NewTool], *, run: str | None = None
    ) -> tuple[tuple[ToolId, ...], Changes]:
        """Add tools as one edit, of a `run` if named.

        Raises InputError for an unknown kind or a taken number.
        """
        with self._store.edit("tools", run=run) as edit:
            session = edit.session
            owner = get_row(session, BatchRow, batch)
            kinds = kinds_in(session)
            taken = set(session.scalars(select(ToolRow.stock_number)))
            settings = SettingsRepository(self._store).read_in(session)
            start = settings.first_stock_number
            free = stock_numbers(settings.stock_pattern, owner.code, taken, start=start)
            position = _last_position(session, batch)
            rows = []
            for line in lines:
                number = _number(line.stock_number, taken) or next(free)
                taken.add(number)
                position += 1
                kind = _known_kind(kinds, line.kind)
                rows.append(_new_rows(session, line, kind, owner, (number, position, edit.at)))
            edit.words = _added_words(rows)
        return tuple(ToolId(row.id) for row in rows), edit.changes

    def change(self, tool: ToolId, **fields: Unpack[ToolFields]) -> Changes:
        """Change fields of a tool; raise InputError for a taken stock number."""
        with self._store.edit("tool") as edit:
            row = get_row(edit.session, ToolRow, tool)
            if "stock_number" in fields:
                others = edit.session.scalars(
                    select(ToolRow.stock_number).where(ToolRow.id != tool)
                )
                fields["stock_number"] = _number(fields["stock_number"], set(others))
            for name, value in fields.items():
                setattr(row, name, value)
            edit.words = f"{row.stock_number} {_change_words(fields)}"
        return edit.changes

    def set_kind(self, tool: ToolId, kind: str) -> Changes:
        """Change the kind of a tool: its parts stay, those of the new kind are added."""
        with self._store.edit("kind") as edit:
            row = get_row(edit.session, ToolRow, tool)
            known = _known_kind(kinds_in(edit.session), kind)
            row.kind = known.code
            _add_missing(edit.session, row, known)
            edit.words = f"{row.stock_number} kind: {known.name.lower()}"
        return edit.changes

    def set_status(self, tools: Collection[ToolId], status: ToolStatus) -> Changes:
        """Set the status of several tools."""
        with self._store.edit("status") as edit:
            rows = [get_row(edit.session, ToolRow, tool) for tool in tools]
            for row in rows:
                row.status = status
            named = rows[0].stock_number if len(rows) == 1 else f"{len(rows)} tools"
            edit.words = f"{named}: {TOOL_STATUS_WORDS[status]}"
        return edit.changes

    def bin(self, tools: Collection[ToolId]) -> Changes:
        """Delete tools, into the bin."""
        with self._store.edit("bin") as edit:
            rows = [get_row(edit.session, ToolRow, tool) for tool in tools]
            for row in rows:
                row.binned_at = edit.at
            named = rows[0].stock_number if len(rows) == 1 else f"{len(rows)} tools"
            edit.words = f"{named} deleted"
        return edit.changes

    def one(self, tool: ToolId) -> Tool:
        """Return the whole record of one tool."""
        with self._store.read() as session:
            get_row(session, ToolRow, tool)
            return records_of(session, [tool])[tool]

    def by_stock_number(self, number: str) -> ToolId | None:
        """Return the tool with a stock number, upper and lower case alike, outside the bin."""
        with self._store.read() as session:
            asked = select(ToolRow.id).where(
                func.lower(ToolRow.stock_number) == number.strip().lower(),
                ToolRow.binned_at.is_(None),
            )
            tool = session.scalars(asked).first()
            return None if tool is None else ToolId(tool)

    def find(self, wanted: ToolFilter) -> tuple[ToolId, ...]:
        """Return the ids of the tools wanted, by batch and stock number."""
        with self._store.read() as session:
            asked = _filtered(select(ToolRow.id), wanted)
            return tuple(map(ToolId, session.scalars(asked)))

    def lines(self, tools: Collection[ToolId]) -> dict[ToolId, ToolLine]:
        """Return the list lines of some tools, in the order in which they are named."""
        with self._store.read() as session:
            rows = session.scalars(select(ToolRow).where(ToolRow.id.in_(tools)))
            found_lines = {ToolId(row.id): line_from(row) for row in rows}
        return {tool: found_lines[tool] for tool in tools if tool in found_lines}

    def stock_numbers(self) -> frozenset[str]:
        """Return every stock number that is taken, in the bin too."""
        with self._store.read() as session:
            return frozenset(session.scalars(select(ToolRow.stock_number)))

    def sold_prices(self, batch: BatchId) -> tuple[Decimal | None, ...]:
        """Return what each sold tool of a batch brought, None where that is not entered."""
        with self._store.read() as session:
            asked = select(ToolRow.sold_for).where(
                ToolRow.batch_id == batch,
                ToolRow.status == ToolStatus.SOLD,
                ToolRow.binned_at.is_(None),
            )
            return tuple(session.scalars(asked))

    def counts(self, wanted: ToolFilter) -> MissingCounts:
        """Count what is still missing among the tools wanted, whatever `lacks` says."""
        everything = replace(wanted, lacks=frozenset())
        flags = (
            ToolRow.no_finished_photograph,
            ToolRow.not_dated,
            ToolRow.not_measured,
            ToolRow.parts_disagree,
        )
        with self._store.read() as session:
            asked = _filtered(
                select(func.count(), *(func.sum(cast(flag, Integer)) for flag in flags)),
                everything,
                ordered=False,
            )
            tools, *lacking = (int(count or 0) for count in session.execute(asked).one())
        finished, dated, measured, agreeing = lacking
        return MissingCounts(
            tools=tools,
            no_finished_photograph=finished,
            not_dated=dated,
            not_measured=measured,
            parts_disagree=agreeing,
        )


def _filtered(
    asked: Select[*Columns], wanted: ToolFilter, *, ordered: bool = True
) -> Select[*Columns]:
    tests: list[ColumnElement[bool]] = [ToolRow.binned_at.is_(None)]
    if wanted.batch is not None:
        tests.append(ToolRow.batch_id == wanted.batch)
    if wanted.statuses:
        tests.append(ToolRow.status.in_(wanted.statuses))
    if wanted.kinds:
        tests.append(ToolRow.kind.in_(wanted.kinds))
    tests += [
        ToolRow.search_text.contains(word, autoescape=True) for word in fold(wanted.words).split()
    ]
    columns = {
        "finished": ToolRow.no_finished_photograph,
        "date": ToolRow.not_dated,
        "measure": ToolRow.not_measured,
        "agreement": ToolRow.parts_disagree,
    }
    tests += [columns[lack].is_(True) for lack in wanted.lacks]
    asked = asked.where(*tests)
    if not ordered:
        return asked
    if wanted.batch is None:
        asked = asked.join(BatchRow, BatchRow.id == ToolRow.batch_id)
        return asked.order_by(BatchRow.code, ToolRow.position, ToolRow.stock_number)
    return asked.order_by(ToolRow.position, ToolRow.stock_number)


def _number(typed: str, taken: Collection[str]) -> str:
    if not typed.strip():
        return ""
    number = clean_stock_number(typed)
    if number.casefold() in {other.casefold() for other in taken}:
        raise InputError(
            f"{number} is the stock number of another tool.",
            remedy="Type another, or leave the field empty to use the next free number.",
            subject="stock number",
        )
    return number


def _known_kind(kinds: dict[str, Kind], code: str) -> Kind:
    if code in kinds:
        return kinds[code]
    by_name = {kind.name.casefold(): kind for kind in kinds.values()}
    kind = by_name.get(code.strip().casefold())
    if kind is None:
        close = ", ".join(islice((k.name for k in kinds.values()), 3))
        raise InputError(
            f"“{code}” is not a kind of plane in this catalog.",
            remedy=f"Choose one from the list ({close} …), or add your own kind.",
            subject="kind",
        )
    return kind


def _last_position(session: Session, batch: BatchId) -> int:
    asked = select(func.max(ToolRow.position)).where(ToolRow.batch_id == batch)
    return session.execute(asked).scalar() or 0


def _new_rows(
    session: Session,
    line: NewTool,
    kind: Kind,
    owner: BatchRow,
    given: tuple[str, int, dt.datetime],
) -> ToolRow:
    number, position, at = given
    row = ToolRow(
        id=new_id(),
        batch_id=owner.id,
        stock_number=number,
        position=position,
        kind=kind.code,
        maker=line.maker.strip(),
        model=line.model.strip(),
        size=line.size.strip(),
        note=line.note.strip(),
        created_at=at,
    )
    session.add(row)
    _add_missing(session, row, kind, fresh=True)
    return row


def _add_missing(session: Session, row: ToolRow, kind: Kind, *, fresh: bool = False) -> None:
    """Add the parts and surfaces of a kind that the tool does not have yet."""
    has_parts: set[str] = set()
    has_surfaces: set[str] = set()
    if not fresh:
        has_parts |= set(session.scalars(select(PartRow.code).where(PartRow.tool_id == row.id)))
        asked = select(SurfaceRow.code).where(SurfaceRow.tool_id == row.id)
        has_surfaces |= set(session.scalars(asked))
    for position, part in enumerate(kind.parts):
        if part.code not in has_parts:
            session.add(
                PartRow(
                    id=new_id(),
                    tool_id=row.id,
                    code=part.code,
                    name=part.name,
                    finish=part.finish,
                    small=part.small,
                    optional=part.optional,
                    position=position,
                )
            )
    for position, surface in enumerate(kind.surfaces):
        if surface.code not in has_surfaces:
            session.add(
                SurfaceRow(
                    id=new_id(),
                    tool_id=row.id,
                    code=surface.code,
                    name=surface.name,
                    finish=surface.finish,
                    parts=list(surface.parts),
                    position=position,
                )
            )


def _added_words(rows: Sequence[ToolRow]) -> str:
    if len(rows) == 1:
        return f"{rows[0].stock_number} added"
    return f"{len(rows)} tools added" if rows else "No tools added"


def _change_words(fields: ToolFields) -> str:
    named = {
        "stock_number": "stock number",
        "identified_by": "how it was identified",
        "defects_inspected": "inspection for defects",
        "work_finished": "work finished",
        "asking": "asking price",
        "sold_for": "sale price",
    }
    words = [named.get(name, name.replace("_", " ")) for name in fields]
    return f"changed: {', '.join(words)}"
