"""Rows of purchases, tools and what is known of them apart from photographs."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import ClassVar

from sqlalchemy import Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from planebench.catalog.tables.base import EditedRow, Json, refers_to
from planebench.catalog.tables.columns import Exact, Instant, Word
from planebench.trade.terms import Basis, PartStatus, Stage, ToolStatus


class BatchRow(EditedRow):
    """A purchase of one or more tools."""

    __tablename__ = "batch"
    code: Mapped[str] = mapped_column(String(60), unique=True)
    title: Mapped[str] = mapped_column(Text, default="")
    bought_on: Mapped[dt.date | None]
    bought_from: Mapped[str] = mapped_column(Text, default="")
    price: Mapped[Decimal | None] = mapped_column(Exact)
    premium: Mapped[Decimal | None] = mapped_column(Exact)
    carriage: Mapped[Decimal | None] = mapped_column(Exact)
    currency: Mapped[str] = mapped_column(String(3), default="USD")
    note: Mapped[str] = mapped_column(Text, default="")
    created_at: Mapped[dt.datetime] = mapped_column(Instant)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class ToolRow(EditedRow):
    """One plane. `search_text` and the columns after it are worked out from the record."""

    __tablename__ = "tool"
    __table_args__ = (Index("ix_tool_order", "batch_id", "position", "stock_number"),)
    derived: ClassVar[frozenset[str]] = frozenset(
        {
            "search_text",
            "summary",
            "no_finished_photograph",
            "not_dated",
            "not_measured",
            "parts_disagree",
        }
    )
    batch_id: Mapped[str] = mapped_column(refers_to("batch.id"))
    stock_number: Mapped[str] = mapped_column(String(60), unique=True)
    position: Mapped[int] = mapped_column(default=0)
    kind: Mapped[str] = mapped_column(String(60))
    maker: Mapped[str] = mapped_column(Text, default="")
    model: Mapped[str] = mapped_column(Text, default="")
    size: Mapped[str] = mapped_column(Text, default="")
    identified_by: Mapped[Basis | None] = mapped_column(Word(Basis))
    note: Mapped[str] = mapped_column(Text, default="")
    status: Mapped[ToolStatus] = mapped_column(Word(ToolStatus), default=ToolStatus.AS_FOUND)
    defects_inspected: Mapped[bool] = mapped_column(default=False)
    work_finished: Mapped[bool] = mapped_column(default=False)
    asking: Mapped[Decimal | None] = mapped_column(Exact)
    sold_for: Mapped[Decimal | None] = mapped_column(Exact)
    sold_on: Mapped[dt.date | None]
    sold_to: Mapped[str] = mapped_column(Text, default="")
    created_at: Mapped[dt.datetime] = mapped_column(Instant)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)
    search_text: Mapped[str] = mapped_column(Text, default="")
    summary: Mapped[Json] = mapped_column(default=dict)
    no_finished_photograph: Mapped[bool] = mapped_column(default=True)
    not_dated: Mapped[bool] = mapped_column(default=True)
    not_measured: Mapped[bool] = mapped_column(default=True)
    parts_disagree: Mapped[bool] = mapped_column(default=False)


class PartRow(EditedRow):
    """A part that this tool has or should have."""

    __tablename__ = "part"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    code: Mapped[str] = mapped_column(String(60))
    name: Mapped[str] = mapped_column(Text)
    finish: Mapped[str] = mapped_column(String(40), default="")
    small: Mapped[bool] = mapped_column(default=False)
    optional: Mapped[bool] = mapped_column(default=False)
    status: Mapped[PartStatus] = mapped_column(Word(PartStatus), default=PartStatus.NOT_SEEN)
    note: Mapped[str] = mapped_column(Text, default="")
    position: Mapped[int] = mapped_column(default=0)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class SurfaceRow(EditedRow):
    """A surface whose finish is judged as one: bed and cheeks, lever cap, handle and knob."""

    __tablename__ = "surface"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    code: Mapped[str] = mapped_column(String(60))
    name: Mapped[str] = mapped_column(Text)
    finish: Mapped[str] = mapped_column(String(40))
    parts: Mapped[list[object]] = mapped_column(default=list)
    position: Mapped[int] = mapped_column(default=0)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class ReadingRow(EditedRow):
    """How much of a surface's finish is left (or, for rust, how much is rusted), at one stage."""

    __tablename__ = "reading"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    surface_id: Mapped[str] = mapped_column(refers_to("surface.id"), index=True)
    finish: Mapped[str] = mapped_column(String(40))
    stage: Mapped[Stage] = mapped_column(Word(Stage))
    value: Mapped[Decimal] = mapped_column(Exact)
    low: Mapped[Decimal] = mapped_column(Exact)
    high: Mapped[Decimal] = mapped_column(Exact)
    new_finish: Mapped[Decimal | None] = mapped_column(Exact)
    new_finish_low: Mapped[Decimal | None] = mapped_column(Exact)
    new_finish_high: Mapped[Decimal | None] = mapped_column(Exact)
    basis: Mapped[Basis] = mapped_column(Word(Basis))
    method: Mapped[str] = mapped_column(Text, default="")
    note: Mapped[str] = mapped_column(Text, default="")
    read_by: Mapped[str] = mapped_column(Text, default="")
    read_at: Mapped[dt.datetime] = mapped_column(Instant)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class DefectRow(EditedRow):
    """Something wrong with a tool that a buyer would want to know."""

    __tablename__ = "defect"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    part_id: Mapped[str | None] = mapped_column(refers_to("part.id"), index=True)
    number: Mapped[int]
    kind: Mapped[str] = mapped_column(String(60))
    severity: Mapped[str] = mapped_column(String(40), default="")
    place: Mapped[str] = mapped_column(Text, default="")
    size: Mapped[str] = mapped_column(Text, default="")
    size_basis: Mapped[Basis] = mapped_column(Word(Basis), default=Basis.BY_EYE)
    note: Mapped[str] = mapped_column(Text, default="")
    disclosed: Mapped[bool] = mapped_column(default=True)
    why_not_disclosed: Mapped[str] = mapped_column(Text, default="")
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class EvidenceRow(EditedRow):
    """What bears on the date of a part, or of the whole tool (no part)."""

    __tablename__ = "evidence"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    part_id: Mapped[str | None] = mapped_column(refers_to("part.id"), index=True)
    number: Mapped[int]
    kind: Mapped[str] = mapped_column(String(40), default="years")
    seen: Mapped[str] = mapped_column(Text)
    mark: Mapped[Json] = mapped_column(default=dict)
    years: Mapped[str] = mapped_column(Text, default="")
    edtf: Mapped[str] = mapped_column(String(80), default="")
    not_before: Mapped[int | None]
    not_after: Mapped[int | None]
    sure: Mapped[Decimal] = mapped_column(Exact, default=Decimal("0.8"))
    looseness: Mapped[int] = mapped_column(default=3)
    basis: Mapped[Basis] = mapped_column(Word(Basis), default=Basis.READ_OFF)
    source: Mapped[str] = mapped_column(Text, default="")
    source_status: Mapped[str] = mapped_column(String(40), default="")
    counted: Mapped[bool] = mapped_column(default=True)
    note: Mapped[str] = mapped_column(Text, default="")
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class DimensionRow(EditedRow):
    """A length or an angle of a tool."""

    __tablename__ = "dimension"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    part_id: Mapped[str | None] = mapped_column(refers_to("part.id"), index=True)
    what: Mapped[str] = mapped_column(String(60))
    value: Mapped[Decimal] = mapped_column(Exact)
    plus_minus: Mapped[Decimal | None] = mapped_column(Exact)
    as_typed: Mapped[str] = mapped_column(Text, default="")
    basis: Mapped[Basis] = mapped_column(Word(Basis))
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class WorkRow(EditedRow):
    """A line of the bench log; `disclosed` when a buyer must be told of it."""

    __tablename__ = "work"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    part_id: Mapped[str | None] = mapped_column(refers_to("part.id"), index=True)
    kind: Mapped[str] = mapped_column(String(60))
    what: Mapped[str] = mapped_column(Text)
    materials: Mapped[str] = mapped_column(Text, default="")
    done_on: Mapped[dt.date | None]
    minutes: Mapped[int | None]
    cost: Mapped[Decimal | None] = mapped_column(Exact)
    disclosed: Mapped[bool] = mapped_column(default=False)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class ComparableRow(EditedRow):
    """A sale of a like tool, used to judge a price."""

    __tablename__ = "comparable"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    what: Mapped[str] = mapped_column(Text)
    price: Mapped[Decimal] = mapped_column(Exact)
    currency: Mapped[str] = mapped_column(String(3))
    sold_on: Mapped[dt.date | None]
    where: Mapped[str] = mapped_column(Text, default="")
    note: Mapped[str] = mapped_column(Text, default="")
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)
