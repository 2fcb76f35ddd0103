"""Readings of a finish, by eye and measured, and the outlines they were made on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from planebench.catalog.changes import Changes
from planebench.catalog.ids import OutlineId, PhotographId, ReadingId, SurfaceId, ToolId, new_id
from planebench.catalog.reference import KindSurface
from planebench.catalog.repository import Added, Repository, get_row
from planebench.catalog.tables import (
    OutlineRow,
    PhotographRow,
    ReadingAreaRow,
    ReadingRow,
    SurfaceRow,
)
from planebench.catalog.values import Json, ReadingArea
from planebench.errors import InputError
from planebench.trade.shares import Share, format_share
from planebench.trade.terms import STAGE_WORDS, Stage

MOST_POINTS = 50_000
"""Of one outline, or of all its strokes: a hand that draws for ten minutes makes some 20,000; with
300,000 judging took over a minute."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewReading:
    """A reading to be written: of which surface, when, how much, and on which outlines.

    `rust` says that the share is the rusted one rather than the finish kept.
    """

    tool: ToolId
    surface: SurfaceId
    stage: Stage
    share: Share
    rust: bool = False
    new_finish: Share | None = None
    method: str = ""
    note: str = ""
    areas: tuple[ReadingArea, ...] = ()


class ReadingRepository(Repository):
    """Shares of surfaces. Earlier readings stay; the newest measured one counts."""

    def add(self, new: NewReading) -> Added[ReadingId]:
        """Add a reading, with who made it and when."""
        with self._store.edit("reading") as edit:
            surface = edit.session.get_one(SurfaceRow, new.surface)
            row = ReadingRow(
                id=new_id(),
                tool_id=new.tool,
                surface_id=new.surface,
                finish="rust" if new.rust else surface.finish,
                stage=new.stage,
                value=new.share.value,
                low=new.share.low,
                high=new.share.high,
                basis=new.share.basis,
                method=new.method,
                note=new.note,
                read_by=self._store.who,
                read_at=edit.at,
            )
            if new.new_finish is not None:
                row.new_finish = new.new_finish.value
                row.new_finish_low = new.new_finish.low
                row.new_finish_high = new.new_finish.high
            words = f"{surface.name}, {row.finish} {format_share(new.share)}"
            edit.words = self._of_tool(edit.session, row, f"{words}, {STAGE_WORDS[new.stage]}")
            edit.session.add(row)
            edit.session.flush()
            edit.session.add_all(_area_rows(row.id, new.areas))
        return Added(id=ReadingId(row.id), changes=edit.changes)

    def bin(self, reading: ReadingId) -> Changes:
        """Delete a reading, into the bin; the one before it counts again."""
        return self._bin(ReadingRow, reading, "reading deleted")


def _area_rows(reading_id: str, areas: Sequence[ReadingArea]) -> list[ReadingAreaRow]:
    return [
        ReadingAreaRow(
            id=new_id(),
            reading_id=reading_id,
            outline_id=area.outline,
            photograph_id=area.photograph,
            kept_px=area.kept_px,
            lost_px=area.lost_px,
            cannot_tell_px=area.cannot_tell_px,
            area_mm2=area.area_mm2,
            share=area.share,
        )
        for area in areas
    ]


def _added(session: Session, photograph: PhotographId, surface: KindSurface) -> SurfaceId:
    """Return the id of a surface that the tool's kind knows, adding it where the tool lacks it."""
    tool = get_row(session, PhotographRow, photograph).tool_id
    there = session.scalars(select(SurfaceRow).where(SurfaceRow.tool_id == tool)).all()
    same = next((one for one in there if one.code == surface.code and not one.binned_at), None)
    if same is not None:
        return SurfaceId(same.id)
    row = SurfaceRow(
        id=new_id(),
        tool_id=tool,
        code=surface.code,
        name=surface.name,
        finish=surface.finish,
        parts=list(surface.parts),
        position=max((one.position for one in there), default=0) + 1,
    )
    session.add(row)
    session.flush()
    return SurfaceId(row.id)


def _refuse_too_many(drawn: Json | None) -> None:
    """Raise InputError for more points than the program can draw and judge while one waits."""
    points = _points_in(drawn)
    if points > MOST_POINTS:
        raise InputError(
            f"This drawing has {points:,} points; an outline or its strokes may have "
            f"{MOST_POINTS:,}.",
            remedy="Draw with fewer points, or divide the surface into several outlines.",
            subject="outline",
        )


def _points_in(value: object) -> int:
    """Count the pairs of numbers in lists within lists."""
    if isinstance(value, dict):
        return sum(map(_points_in, value.values()))
    if not isinstance(value, list | tuple):
        return 0
    if value and all(isinstance(item, int | float) for item in value):
        return 1
    return sum(map(_points_in, value))


def _stroke_words(before: Json, after: Json) -> str:
    """Return what was done with the strokes, for the history."""
    was, now = (
        sum(len(some) for some in strokes.values() if isinstance(some, list))
        for strokes in (before, after)
    )
    if was != now:
        return "stroke painted" if now > was else "stroke removed"
    return "second light chosen" if after.get("second_light") else "second light left out"


class OutlineRepository(Repository):
    """Outlines of surfaces on photographs, with the strokes that teach the judge."""

    def add(
        self,
        photograph: PhotographId,
        surface: SurfaceId | KindSurface,
        *,
        finish: str,
        polygons: Json,
    ) -> Added[OutlineId]:
        """Add an outline; `polygons` as `{"polygons": [{"outer": …, "holes": …}]}`.

        A surface of the kind that the tool has not yet is added with it.
        """
        _refuse_too_many(polygons)
        with self._store.edit("outline drawn") as edit:
            if isinstance(surface, KindSurface):
                surface = _added(edit.session, photograph, surface)
            row = OutlineRow(
                id=new_id(),
                photograph_id=photograph,
                surface_id=surface,
                finish=finish,
                polygons=polygons,
                strokes={},
            )
            edit.words = self._of_tool(edit.session, row, "outline drawn")
            edit.session.add(row)
        return Added(id=OutlineId(row.id), changes=edit.changes)

    def change(
        self, outline: OutlineId, *, polygons: Json | None = None, strokes: Json | None = None
    ) -> Changes:
        """Replace an outline's polygons or its strokes."""
        _refuse_too_many(polygons)
        _refuse_too_many(strokes)
        with self._store.edit("outline changed") as edit:
            row = get_row(edit.session, OutlineRow, outline)
            if polygons is not None:
                row.polygons = polygons
            if strokes is not None:
                edit.words = _stroke_words(row.strokes, strokes)
                row.strokes = strokes
        return edit.changes

    def set_surface(
        self, outline: OutlineId, surface: SurfaceId | KindSurface, *, finish: str
    ) -> Changes:
        """Say which surface and finish an outline goes around.

        Readings of the former surface that rest on it go to the bin: they measured something else.
        """
        with self._store.edit("outline’s surface changed") as edit:
            row = get_row(edit.session, OutlineRow, outline)
            if isinstance(surface, KindSurface):
                surface = _added(edit.session, PhotographId(row.photograph_id), surface)
            rests = select(ReadingAreaRow.reading_id).where(ReadingAreaRow.outline_id == outline)
            former = select(ReadingRow).where(
                ReadingRow.id.in_(rests),
                ReadingRow.surface_id == row.surface_id,
                ReadingRow.binned_at.is_(None),
            )
            for reading in edit.session.scalars(former):
                reading.binned_at = edit.at
            row.surface_id, row.finish = surface, finish
            edit.words = self._of_tool(edit.session, row, edit.words)
        return edit.changes

    def bin(self, outline: OutlineId) -> Changes:
        """Delete an outline, into the bin."""
        return self._bin(OutlineRow, outline, "outline deleted")
