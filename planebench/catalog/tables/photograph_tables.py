"""Rows of originals, photographs, pairs, pins and outlines."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from sqlalchemy import String, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from planebench.catalog.tables.base import EditedRow, Json, Row, refers_to
from planebench.catalog.tables.columns import Exact, Instant, Word
from planebench.trade.terms import Stage


class OriginalRow(Row):
    """A file in the originals under its SHA-256; written once, never edited or undone.

    `perceptual_hash` is its rough fingerprint and its fine one, 16 and 64 hexadecimal digits.
    """

    __tablename__ = "original"
    sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    suffix: Mapped[str] = mapped_column(String(16))
    size: Mapped[int]
    format: Mapped[str] = mapped_column(String(20))
    width: Mapped[int]
    height: Mapped[int]
    taken_at: Mapped[dt.datetime | None] = mapped_column(Instant)
    camera: Mapped[str] = mapped_column(Text, default="")
    stored_at: Mapped[dt.datetime] = mapped_column(Instant)
    perceptual_hash: Mapped[str | None] = mapped_column(String(80))
    sharpness: Mapped[float | None]


class PhotographRow(EditedRow):
    """A photograph in a batch, of a tool once that is known.

    While it waits, `filed_why` says why and `suggested` is a stock number it may belong to.
    """

    __tablename__ = "photograph"
    sha256: Mapped[str] = mapped_column(refers_to("original.sha256"), index=True)
    batch_id: Mapped[str | None] = mapped_column(refers_to("batch.id"), index=True)
    tool_id: Mapped[str | None] = mapped_column(refers_to("tool.id"), index=True)
    stage: Mapped[Stage] = mapped_column(Word(Stage), default=Stage.AS_FOUND)
    view: Mapped[str] = mapped_column(String(40), default="")
    caption: Mapped[str] = mapped_column(Text, default="")
    position: Mapped[int] = mapped_column(default=0)
    original_name: Mapped[str] = mapped_column(Text, default="")
    taken_at: Mapped[dt.datetime | None] = mapped_column(Instant, index=True)
    added_at: Mapped[dt.datetime] = mapped_column(Instant)
    filed_by: Mapped[str] = mapped_column(String(40), default="")
    filed_reason: Mapped[str] = mapped_column(Text, default="")
    suggested_stock_number: Mapped[str] = mapped_column(String(60), default="")
    scale: Mapped[Json | None]
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class PairRow(EditedRow):
    """A photograph as found and one finished, of the same view; `alignment` lays them together."""

    __tablename__ = "pair"
    tool_id: Mapped[str] = mapped_column(refers_to("tool.id"), index=True)
    before_id: Mapped[str] = mapped_column(refers_to("photograph.id"), index=True)
    after_id: Mapped[str] = mapped_column(refers_to("photograph.id"), index=True)
    alignment: Mapped[Json | None]
    on_sheet: Mapped[bool] = mapped_column(default=True)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class PinRow(EditedRow):
    """The spot of a defect or piece of evidence on a photograph, and its balloon (0 to 1)."""

    __tablename__ = "pin"
    photograph_id: Mapped[str] = mapped_column(refers_to("photograph.id"), index=True)
    defect_id: Mapped[str | None] = mapped_column(refers_to("defect.id"), index=True)
    evidence_id: Mapped[str | None] = mapped_column(refers_to("evidence.id"), index=True)
    x: Mapped[float]
    y: Mapped[float]
    balloon_x: Mapped[float]
    balloon_y: Mapped[float]


class OutlineRow(EditedRow):
    """A finished or bare surface outlined on a photograph, with the strokes that teach the judge.

    `polygons` and `strokes` are in pixels of the upright photograph.
    """

    __tablename__ = "outline"
    photograph_id: Mapped[str] = mapped_column(refers_to("photograph.id"), index=True)
    surface_id: Mapped[str] = mapped_column(refers_to("surface.id"), index=True)
    finish: Mapped[str] = mapped_column(String(40))
    polygons: Mapped[Json]
    strokes: Mapped[Json] = mapped_column(default=dict)
    binned_at: Mapped[dt.datetime | None] = mapped_column(Instant)


class ReadingAreaRow(EditedRow):
    """What one outline gave to a measured reading; areas in pixels and, when scaled, mm²."""

    __tablename__ = "reading_area"
    __table_args__ = (UniqueConstraint("reading_id", "outline_id"),)
    reading_id: Mapped[str] = mapped_column(refers_to("reading.id"), index=True)
    outline_id: Mapped[str] = mapped_column(refers_to("outline.id"), index=True)
    photograph_id: Mapped[str] = mapped_column(refers_to("photograph.id"), index=True)
    kept_px: Mapped[int]
    lost_px: Mapped[int]
    cannot_tell_px: Mapped[int]
    area_mm2: Mapped[Decimal | None] = mapped_column(Exact)
    share: Mapped[Json] = mapped_column(default=dict)
