"""Books of what is known of one tool: parts, readings, defects, signs, lengths, work, prices."""

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
from planebench.trade.terms import PART_STATUS_WORDS, Basis, PartStatus


class PartFields(TypedDict, total=False):
    """What of a part can be written."""

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
        """Write what is known of a part."""
        with self._store.read() as session:
            name = get_row(session, PartRow, part).name.lower()
        words = f"{name} changed"
        if "status" in fields:
            words = f"{name}: {PART_STATUS_WORDS[PartStatus(fields['status'])]}"
        return self._change(PartRow, part, fields, words)

    def set_status(self, parts: tuple[PartId, ...], status: PartStatus) -> Changes:
        """Say the same of several parts at once."""
        with self._store.edit(f"{len(parts)} parts: {PART_STATUS_WORDS[status]}") as edit:
            for part in parts:
                edit.session.get_one(PartRow, part).status = status
        return edit.changes

    def bin(self, part: PartId) -> Changes:
        """Put a part in the bin."""
        return self._bin(PartRow, part, "part put in the bin")


class SurfaceFields(TypedDict, total=False):
    """What of a surface can be written."""

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
        """Write what a surface is."""
        return self._change(SurfaceRow, surface, fields, "surface changed")

    def bin(self, surface: SurfaceId) -> Changes:
        """Put a surface in the bin."""
        return self._bin(SurfaceRow, surface, "surface put in the bin")


class DefectFields(TypedDict, total=False):
    """What of a defect can be written."""

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
    """Defects of tools; numbers are given once and not used again."""

    def add(self, tool: ToolId, **fields: Unpack[DefectFields]) -> Added[DefectId]:
        """Write down a defect under the next number."""
        with self._store.edit("defect") as edit:
            number = _next_number(edit.session, DefectRow.number, DefectRow.tool_id, tool)
            row = DefectRow(id=new_id(), tool_id=tool, number=number, **fields)
            edit.words = self._of_tool(edit.session, row, f"defect {number} written down")
            edit.session.add(row)
        return Added(id=DefectId(row.id), changes=edit.changes)

    def change(self, defect: DefectId, **fields: Unpack[DefectFields]) -> Changes:
        """Write what is known of a defect."""
        return self._change(DefectRow, defect, fields, "defect changed")

    def bin(self, defect: DefectId) -> Changes:
        """Put a defect in the bin; its pins go with it."""
        return self._bin(DefectRow, defect, "defect put in the bin")


class EvidenceFields(TypedDict, total=False):
    """What of a sign of date can be written."""

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
    """Signs of when a tool or its parts were made."""

    def add(self, tool: ToolId, **fields: Unpack[EvidenceFields]) -> Added[EvidenceId]:
        """Write down a sign under the next number."""
        with self._store.edit("sign") as edit:
            number = _next_number(edit.session, EvidenceRow.number, EvidenceRow.tool_id, tool)
            row = EvidenceRow(id=new_id(), tool_id=tool, number=number, **fields)
            edit.words = self._of_tool(edit.session, row, f"sign {number} entered")
            edit.session.add(row)
        return Added(id=EvidenceId(row.id), changes=edit.changes)

    def change(self, evidence: EvidenceId, **fields: Unpack[EvidenceFields]) -> Changes:
        """Write what is known of a sign."""
        words = "sign changed"
        if set(fields) == {"counted"}:
            words = "sign counted" if fields["counted"] else "sign left out"
        return self._change(EvidenceRow, evidence, fields, words)

    def change_each(self, fields: Mapping[EvidenceId, EvidenceFields]) -> Changes:
        """Write what is known of several signs as one edit."""
        with self._store.edit("signs changed") as edit:
            for evidence, of_it in fields.items():
                row = get_row(edit.session, EvidenceRow, evidence)
                for name, value in of_it.items():
                    setattr(row, name, value)
                words = "sign changed" if len(fields) == 1 else f"{len(fields)} signs changed"
                edit.words = self._of_tool(edit.session, row, words)
        return edit.changes

    def bin(self, evidence: EvidenceId) -> Changes:
        """Put a sign in the bin."""
        return self._bin(EvidenceRow, evidence, "sign put in the bin")


class DimensionFields(TypedDict, total=False):
    """What of a dimension can be written; lengths in mm, angles in degrees."""

    part_id: PartId | None
    what: str
    value: Decimal
    plus_minus: Decimal | None
    as_typed: str
    basis: Basis


class DimensionRepository(Repository):
    """Lengths and angles of tools."""

    def add(self, tool: ToolId, **fields: Unpack[DimensionFields]) -> Added[DimensionId]:
        """Write down a dimension."""
        row = DimensionRow(id=new_id(), tool_id=tool, **{"basis": Basis.BY_EYE, **fields})
        words = f"{row.what.replace('_', ' ')} {row.as_typed}".strip()
        return Added(id=DimensionId(row.id), changes=self._add(row, words))

    def change(self, dimension: DimensionId, **fields: Unpack[DimensionFields]) -> Changes:
        """Write a dimension anew."""
        return self._change(DimensionRow, dimension, fields, "dimension changed")

    def bin(self, dimension: DimensionId) -> Changes:
        """Put a dimension in the bin."""
        return self._bin(DimensionRow, dimension, "dimension put in the bin")


class WorkFields(TypedDict, total=False):
    """What of a line of the bench log can be written."""

    part_id: PartId | None
    kind: str
    what: str
    materials: str
    done_on: dt.date | None
    minutes: int | None
    cost: Decimal | None
    disclosed: bool


class WorkRepository(Repository):
    """Work done on tools."""

    def add(self, tool: ToolId, **fields: Unpack[WorkFields]) -> Added[WorkId]:
        """Write down a piece of work."""
        row = WorkRow(id=new_id(), tool_id=tool, **fields)
        return Added(id=WorkId(row.id), changes=self._add(row, f"work written down: {row.what}"))

    def change(self, work: WorkId, **fields: Unpack[WorkFields]) -> Changes:
        """Write a line of the bench log anew."""
        return self._change(WorkRow, work, fields, "bench log changed")

    def bin(self, work: WorkId) -> Changes:
        """Put a line of the bench log in the bin."""
        return self._bin(WorkRow, work, "work put in the bin")


class ComparableFields(TypedDict, total=False):
    """What of a comparable can be written."""

    what: str
    price: Decimal
    currency: str
    sold_on: dt.date | None
    where: str
    note: str


class ComparableRepository(Repository):
    """Sales of like tools, by which a price is judged."""

    def add(self, tool: ToolId, **fields: Unpack[ComparableFields]) -> Added[ComparableId]:
        """Write down a sale of a like tool."""
        row = ComparableRow(id=new_id(), tool_id=tool, **fields)
        changes = self._add(row, f"comparable added: {row.what}")
        return Added(id=ComparableId(row.id), changes=changes)

    def change(self, comparable: ComparableId, **fields: Unpack[ComparableFields]) -> Changes:
        """Write a comparable anew."""
        return self._change(ComparableRow, comparable, fields, "comparable changed")

    def bin(self, comparable: ComparableId) -> Changes:
        """Put a comparable in the bin."""
        return self._bin(ComparableRow, comparable, "comparable put in the bin")


def _next_number(
    session: Session,
    number: InstrumentedAttribute[int],
    owner: InstrumentedAttribute[str],
    tool: ToolId,
) -> int:
    last = session.execute(select(func.max(number)).where(owner == tool)).scalar()
    return (last or 0) + 1
