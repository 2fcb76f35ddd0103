"""The entries of a tool's record: parts, surfaces, defects, evidence, dimensions, work, sales."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from decimal import Decimal
from typing import TypedDict

from sqlalchemy import func, select
from sqlalchemy.orm import InstrumentedAttribute, Session
from typing_extensions import Unpack

from planebench.catalog.changes import Changes
from planebench.catalog.ids import (
    ComparableId,
    DefectId,
    DimensionId,
    EvidenceId,
    PartId,
    SurfaceId,
    ToolId,
    WorkId,
    new_id,
)
from planebench.catalog.repository import Added, Repository, get_row
from planebench.catalog.tables import (
    ComparableRow,
    DefectRow,
    DimensionRow,
    EvidenceRow,
    PartRow,
    SurfaceRow,
    WorkRow,
)
from planebench.catalog.values import Json
from planebench.errors import InputError
from planebench.trade.terms import PART_STATUS_WORDS, Basis, PartStatus

MOST_EVIDENCE = 300
"""Of one tool. A busy record has a dozen; weighing 2,000 parts' evidence took over a minute."""


class PartFields(TypedDict, total=False):
    """The fields of a part that can be changed."""

    code: str
    name: str
    finish: str
    small: bool
    optional: bool
    status: PartStatus
    note: str
    position: int


class PartRepository(Repository):
    """Parts of tools."""

    def add(self, tool: ToolId, **fields: Unpack[PartFields]) -> Added[PartId]:
        """Add a part beyond those that the kind has."""
        row = PartRow(id=new_id(), tool_id=tool, **{"code": "own", **fields})
        return Added(id=PartId(row.id), changes=self._add(row, f"part added: {row.name}"))

    def change(self, part: PartId, **fields: Unpack[PartFields]) -> Changes:
        """Change fields of a part."""
        with self._store.read() as session:
            name = get_row(session, PartRow, part).name.lower()
        words = f"{name} changed"
        if "status" in fields:
            words = f"{name}: {PART_STATUS_WORDS[PartStatus(fields['status'])]}"
        return self._change(PartRow, part, fields, words)

    def set_status(self, parts: tuple[PartId, ...], status: PartStatus) -> Changes:
        """Set the same status for several parts at once."""
        with self._store.edit(f"{len(parts)} parts: {PART_STATUS_WORDS[status]}") as edit:
            for part in parts:
                edit.session.get_one(PartRow, part).status = status
        return edit.changes

    def bin(self, part: PartId) -> Changes:
        """Delete a part, into the bin."""
        return self._bin(PartRow, part, "part deleted")


class SurfaceFields(TypedDict, total=False):
    """The fields of a surface that can be changed."""

    code: str
    name: str
    finish: str
    parts: list[object]
    position: int


class SurfaceRepository(Repository):
    """Surfaces whose finish is judged as one."""

    def add(self, tool: ToolId, **fields: Unpack[SurfaceFields]) -> Added[SurfaceId]:
        """Add a surface beyond those that the kind has."""
        row = SurfaceRow(id=new_id(), tool_id=tool, **{"code": "own", **fields})
        return Added(id=SurfaceId(row.id), changes=self._add(row, f"surface added: {row.name}"))

    def change(self, surface: SurfaceId, **fields: Unpack[SurfaceFields]) -> Changes:
        """Change fields of a surface."""
        return self._change(SurfaceRow, surface, fields, "surface changed")

    def bin(self, surface: SurfaceId) -> Changes:
        """Delete a surface, into the bin."""
        return self._bin(SurfaceRow, surface, "surface deleted")


class DefectFields(TypedDict, total=False):
    """The fields of a defect that can be changed."""

    part_id: PartId | None
    kind: str
    severity: str
    place: str
    size: str
    size_basis: Basis
    note: str
    disclosed: bool
    why_not_disclosed: str


class DefectRepository(Repository):
    """Defects of tools; a number is never used twice for one tool."""

    def add(self, tool: ToolId, **fields: Unpack[DefectFields]) -> Added[DefectId]:
        """Add a defect under the next number."""
        with self._store.edit("defect") as edit:
            number = _next_number(edit.session, DefectRow.number, DefectRow.tool_id, tool)
            row = DefectRow(id=new_id(), tool_id=tool, number=number, **fields)
            edit.words = self._of_tool(edit.session, row, f"defect {number} added")
            edit.session.add(row)
        return Added(id=DefectId(row.id), changes=edit.changes)

    def change(self, defect: DefectId, **fields: Unpack[DefectFields]) -> Changes:
        """Change fields of a defect."""
        return self._change(DefectRow, defect, fields, "defect changed")

    def bin(self, defect: DefectId) -> Changes:
        """Delete a defect, into the bin; its pins go with it."""
        return self._bin(DefectRow, defect, "defect deleted")


class EvidenceFields(TypedDict, total=False):
    """The fields of a piece of evidence that can be changed."""

    part_id: PartId | None
    kind: str
    seen: str
    mark: Json
    years: str
    edtf: str
    not_before: int | None
    not_after: int | None
    sure: Decimal
    looseness: int
    basis: Basis
    source: str
    source_status: str
    counted: bool
    note: str


class EvidenceRepository(Repository):
    """Evidence of when tools or their parts were made."""

    def add(self, tool: ToolId, **fields: Unpack[EvidenceFields]) -> Added[EvidenceId]:
        """Add a piece of evidence under the next number."""
        with self._store.edit("evidence") as edit:
            _refuse_too_much_evidence(edit.session, tool)
            number = _next_number(edit.session, EvidenceRow.number, EvidenceRow.tool_id, tool)
            row = EvidenceRow(id=new_id(), tool_id=tool, number=number, **fields)
            edit.words = self._of_tool(edit.session, row, f"evidence {number} added")
            edit.session.add(row)
        return Added(id=EvidenceId(row.id), changes=edit.changes)

    def change(self, evidence: EvidenceId, **fields: Unpack[EvidenceFields]) -> Changes:
        """Change fields of a piece of evidence."""
        words = "evidence changed"
        if set(fields) == {"counted"}:
            words = "evidence counted again" if fields["counted"] else "evidence left out"
        return self._change(EvidenceRow, evidence, fields, words)

    def change_each(self, fields: Mapping[EvidenceId, EvidenceFields]) -> Changes:
        """Change fields of several pieces of evidence as one edit."""
        with self._store.edit("evidence changed") as edit:
            for evidence, of_it in fields.items():
                row = get_row(edit.session, EvidenceRow, evidence)
                for name, value in of_it.items():
                    setattr(row, name, value)
                count = len(fields)
                words = "evidence changed" if count == 1 else f"{count} pieces of evidence changed"
                edit.words = self._of_tool(edit.session, row, words)
        return edit.changes

    def bin(self, evidence: EvidenceId) -> Changes:
        """Delete a piece of evidence, into the bin."""
        return self._bin(EvidenceRow, evidence, "evidence deleted")


class DimensionFields(TypedDict, total=False):
    """The fields of a dimension that can be changed; lengths in mm, angles in degrees."""

    part_id: PartId | None
    what: str
    value: Decimal
    plus_minus: Decimal | None
    as_typed: str
    basis: Basis


class DimensionRepository(Repository):
    """Lengths, angles and weights of tools."""

    def add(self, tool: ToolId, **fields: Unpack[DimensionFields]) -> Added[DimensionId]:
        """Add a dimension."""
        row = DimensionRow(id=new_id(), tool_id=tool, **{"basis": Basis.BY_EYE, **fields})
        words = f"{row.what.replace('_', ' ')} {row.as_typed}".strip()
        return Added(id=DimensionId(row.id), changes=self._add(row, words))

    def change(self, dimension: DimensionId, **fields: Unpack[DimensionFields]) -> Changes:
        """Change fields of a dimension."""
        return self._change(DimensionRow, dimension, fields, "dimension changed")

    def bin(self, dimension: DimensionId) -> Changes:
        """Delete a dimension, into the bin."""
        return self._bin(DimensionRow, dimension, "dimension deleted")


class WorkFields(TypedDict, total=False):
    """The fields of a bench log entry that can be changed."""

    part_id: PartId | None
    kind: str
    what: str
    materials: str
    done_on: dt.date | None
    minutes: int | None
    cost: Decimal | None
    disclosed: bool


class WorkRepository(Repository):
    """The bench log: work done on tools."""

    def add(self, tool: ToolId, **fields: Unpack[WorkFields]) -> Added[WorkId]:
        """Add an entry to the bench log."""
        row = WorkRow(id=new_id(), tool_id=tool, **fields)
        return Added(id=WorkId(row.id), changes=self._add(row, f"work added: {row.what}"))

    def change(self, work: WorkId, **fields: Unpack[WorkFields]) -> Changes:
        """Change fields of a bench log entry."""
        return self._change(WorkRow, work, fields, "bench log changed")

    def bin(self, work: WorkId) -> Changes:
        """Delete a bench log entry, into the bin."""
        return self._bin(WorkRow, work, "work deleted")


class ComparableFields(TypedDict, total=False):
    """The fields of a comparable that can be changed."""

    what: str
    price: Decimal
    currency: str
    sold_on: dt.date | None
    where: str
    note: str


class ComparableRepository(Repository):
    """Sales of like tools, by which a price is judged."""

    def add(self, tool: ToolId, **fields: Unpack[ComparableFields]) -> Added[ComparableId]:
        """Add a sale of a like tool."""
        row = ComparableRow(id=new_id(), tool_id=tool, **fields)
        changes = self._add(row, f"comparable added: {row.what}")
        return Added(id=ComparableId(row.id), changes=changes)

    def change(self, comparable: ComparableId, **fields: Unpack[ComparableFields]) -> Changes:
        """Change fields of a comparable."""
        return self._change(ComparableRow, comparable, fields, "comparable changed")

    def bin(self, comparable: ComparableId) -> Changes:
        """Delete a comparable, into the bin."""
        return self._bin(ComparableRow, comparable, "comparable deleted")


def _refuse_too_much_evidence(session: Session, tool: ToolId) -> None:
    asked = select(func.count()).where(EvidenceRow.tool_id == tool, EvidenceRow.binned_at.is_(None))
    if (session.scalar(asked) or 0) >= MOST_EVIDENCE:
        raise InputError(
            f"This tool has {MOST_EVIDENCE} pieces of evidence, the most that can be weighed.",
            remedy="Delete some that say the same before adding more.",
            subject="evidence",
        )


def _next_number(
    session: Session,
    number: InstrumentedAttribute[int],
    owner: InstrumentedAttribute[str],
    tool: ToolId,
) -> int:
    last = session.execute(select(func.max(number)).where(owner == tool)).scalar()
    return (last or 0) + 1
