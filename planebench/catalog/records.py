"""Turns rows into records: everything of one or many tools, read in a fixed number of queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from planebench.catalog import ids, values
from planebench.catalog.tables import (
    BatchRow,
    ComparableRow,
    DefectRow,
    DimensionRow,
    EditedRow,
    EvidenceRow,
    OriginalRow,
    OutlineRow,
    PairRow,
    PartRow,
    PhotographRow,
    PinRow,
    ReadingAreaRow,
    ReadingRow,
    SurfaceRow,
    ToolRow,
    WorkRow,
)
from planebench.catalog.tool_lines import line_from
from planebench.trade.shares import Share

RowT = TypeVar("RowT", bound=EditedRow)
ValueT = TypeVar("ValueT")
Of = Mapping[str, list[RowT]]


def records_of(session: Session, tool_ids: Iterable[str]) -> dict[str, values.Tool]:
    """Return the whole records of tools by id; what is in the bin is left out of each."""
    wanted = list(tool_ids)
    tools = session.scalars(select(ToolRow).where(ToolRow.id.in_(wanted))).all()
    known = _seen_and_read(session, wanted)
    work = _worked_and_priced(session, wanted)
    photographs = photographs_of(session, wanted)
    pins = _pins(session, photographs)
    return {
        tool.id: values.Tool(
            **_plain_fields(tool),
            **known[tool.id],
            **work[tool.id],
            photographs=tuple(photographs[tool.id]),
            pins=tuple(pins[tool.id]),
            line=line_from(tool),
        )
        for tool in tools
    }


def _seen_and_read(session: Session, tool_ids: Sequence[str]) -> dict[str, dict[str, Any]]:
    """Return parts, surfaces, readings, defects and evidence of each tool, in their order."""
    parts = _by_tool(session, PartRow, tool_ids)
    surfaces = _by_tool(session, SurfaceRow, tool_ids)
    readings = _readings(session, tool_ids)
    defects = _by_tool(session, DefectRow, tool_ids)
    all_evidence = _by_tool(session, EvidenceRow, tool_ids)
    return {
        tool: {
            "parts": tuple(map(_part, _in_order(parts[tool]))),
            "surfaces": tuple(map(_surface, _in_order(surfaces[tool]))),
            "readings": tuple(readings[tool]),
            "defects": tuple(map(_defect, _numbered(defects[tool]))),
            "evidence": tuple(map(_evidence, _numbered(all_evidence[tool]))),
        }
        for tool in tool_ids
    }


def _worked_and_priced(session: Session, tool_ids: Sequence[str]) -> dict[str, dict[str, Any]]:
    """Return dimensions, work, comparables and pairs of each tool."""
    dimensions = _by_tool(session, DimensionRow, tool_ids)
    work = _by_tool(session, WorkRow, tool_ids)
    comparables = _by_tool(session, ComparableRow, tool_ids)
    pairs = _by_tool(session, PairRow, tool_ids)
    return {
        tool: {
            "dimensions": tuple(map(_dimension, dimensions[tool])),
            "work": tuple(map(_work, sorted(work[tool], key=_day))),
            "comparables": tuple(map(_comparable, comparables[tool])),
            "pairs": tuple(map(_pair, pairs[tool])),
        }
        for tool in tool_ids
    }


def photographs_of(session: Session, tool_ids: Sequence[str]) -> dict[str, list[values.Photograph]]:
    """Return the photographs of tools, in their order."""
    asked = (
        select(PhotographRow, OriginalRow)
        .join(OriginalRow, OriginalRow.sha256 == PhotographRow.sha256)
        .where(PhotographRow.tool_id.in_(tool_ids), PhotographRow.binned_at.is_(None))
        .order_by(PhotographRow.position, PhotographRow.added_at, PhotographRow.original_name)
    )
    found: dict[str, list[values.Photograph]] = defaultdict(list)
    for row, stored in session.execute(asked):
        found[str(row.tool_id)].append(photograph_from(row, stored))
    return found


def photograph_from(row: PhotographRow, stored: OriginalRow) -> values.Photograph:
    """Return a photograph's value from its row and its file's."""
    return values.Photograph(
        id=ids.PhotographId(row.id),
        version=row.version,
        sha256=row.sha256,
        suffix=stored.suffix,
        batch=None if row.batch_id is None else ids.BatchId(row.batch_id),
        tool=None if row.tool_id is None else ids.ToolId(row.tool_id),
        stage=row.stage,
        view=row.view,
        caption=row.caption,
        position=row.position,
        original_name=row.original_name,
        taken_at=row.taken_at,
        added_at=row.added_at,
        camera=stored.camera,
        width=stored.width,
        height=stored.height,
        filed_by=row.filed_by,
        filed_reason=row.filed_reason,
        scale=row.scale,
        perceptual_hash=stored.perceptual_hash,
        sharpness=stored.sharpness,
        suggested_stock_number=row.suggested_stock_number,
    )


def pin_from(row: PinRow) -> values.Pin:
    """Return a pin's value."""
    return values.Pin(
        id=ids.PinId(row.id),
        version=row.version,
        photograph=ids.PhotographId(row.photograph_id),
        defect=None if row.defect_id is None else ids.DefectId(row.defect_id),
        evidence=None if row.evidence_id is None else ids.EvidenceId(row.evidence_id),
        x=row.x,
        y=row.y,
        balloon_x=row.balloon_x,
        balloon_y=row.balloon_y,
    )


def outline_from(row: OutlineRow) -> values.Outline:
    """Return an outline's value."""
    return values.Outline(
        id=ids.OutlineId(row.id),
        version=row.version,
        photograph=ids.PhotographId(row.photograph_id),
        surface=ids.SurfaceId(row.surface_id),
        finish=row.finish,
        polygons=row.polygons,
        strokes=row.strokes,
    )


def batch_from(row: BatchRow) -> values.Batch:
    """Return a batch's value."""
    return _value(values.Batch, row)


def _value(make: Callable[..., ValueT], row: EditedRow, **given: object) -> ValueT:
    """Make a value whose fields go by the names of the row's columns, unless `given`."""
    names = [name for name in _fields(make) if name not in given]
    return make(**{name: getattr(row, name) for name in names}, **given)


def _fields(make: Callable[..., ValueT]) -> list[str]:
    return list(getattr(make, "__dataclass_fields__", {}))


def _plain_fields(tool: ToolRow) -> dict[str, Any]:
    held = set(_fields(values.Tool)) & set(ToolRow.__mapper__.columns.keys())
    return {name: getattr(tool, name) for name in held} | {"batch": tool.batch_id}


def _by_tool(session: Session, table: type[RowT], tool_ids: Sequence[str]) -> Of[RowT]:
    columns = table.__mapper__.columns
    asked = select(table).where(columns["tool_id"].in_(tool_ids), columns["binned_at"].is_(None))
    found: dict[str, list[RowT]] = defaultdict(list)
    for row in session.scalars(asked):
        found[row.tool_id].append(row)  # type: ignore[attr-defined]  # each table given has it
    return found


def _readings(session: Session, tool_ids: Sequence[str]) -> dict[str, list[values.Reading]]:
    areas: dict[str, list[values.ReadingArea]] = defaultdict(list)
    asked = (
        select(ReadingAreaRow)
        .join(ReadingRow, ReadingRow.id == ReadingAreaRow.reading_id)
        .where(ReadingRow.tool_id.in_(tool_ids))
    )
    for row in session.scalars(asked):
        areas[row.reading_id].append(_area(row))
    found: dict[str, list[values.Reading]] = defaultdict(list)
    for tool_id, rows in _by_tool(session, ReadingRow, tool_ids).items():
        rows.sort(key=lambda row: row.read_at)
        found[tool_id] = [_reading(row, tuple(areas[row.id])) for row in rows]
    return found


def _pins(
    session: Session, photographs: Mapping[str, list[values.Photograph]]
) -> dict[str, list[values.Pin]]:
    owner = {photo.id: tool_id for tool_id, of_it in photographs.items() for photo in of_it}
    found: dict[str, list[values.Pin]] = defaultdict(list)
    if owner:
        binned_defects = select(DefectRow.id).where(DefectRow.binned_at.is_not(None))
        binned_evidence = select(EvidenceRow.id).where(EvidenceRow.binned_at.is_not(None))
        asked = select(PinRow).where(
            PinRow.photograph_id.in_(list(owner)),
            PinRow.defect_id.is_(None) | PinRow.defect_id.not_in(binned_defects),
            PinRow.evidence_id.is_(None) | PinRow.evidence_id.not_in(binned_evidence),
        )
        for row in session.scalars(asked):
            found[owner[ids.PhotographId(row.photograph_id)]].append(pin_from(row))
    return found


def _in_order(rows: list[RowT]) -> list[RowT]:
    return sorted(rows, key=lambda row: row.position)  # type: ignore[attr-defined]  # as given


def _numbered(rows: list[RowT]) -> list[RowT]:
    return sorted(rows, key=lambda row: row.number)  # type: ignore[attr-defined]  # as given


def _day(row: WorkRow) -> str:
    return "9999" if row.done_on is None else row.done_on.isoformat()


def _part(row: PartRow) -> values.Part:
    return _value(values.Part, row)


def _surface(row: SurfaceRow) -> values.Surface:
    return _value(values.Surface, row, parts=tuple(str(code) for code in row.parts))


def _area(row: ReadingAreaRow) -> values.ReadingArea:
    return values.ReadingArea(
        outline=ids.OutlineId(row.outline_id),
        photograph=ids.PhotographId(row.photograph_id),
        kept_px=row.kept_px,
        lost_px=row.lost_px,
        cannot_tell_px=row.cannot_tell_px,
        area_mm2=row.area_mm2,
        share=row.share,
    )


def _reading(row: ReadingRow, areas: tuple[values.ReadingArea, ...]) -> values.Reading:
    new_finish = None
    if row.new_finish is not None:
        low = row.new_finish if row.new_finish_low is None else row.new_finish_low
        high = row.new_finish if row.new_finish_high is None else row.new_finish_high
        new_finish = Share(value=row.new_finish, low=low, high=high, basis=row.basis)
    return values.Reading(
        id=ids.ReadingId(row.id),
        version=row.version,
        surface=ids.SurfaceId(row.surface_id),
        finish=row.finish,
        stage=row.stage,
        share=Share(value=row.value, low=row.low, high=row.high, basis=row.basis),
        new_finish=new_finish,
        method=row.method,
        note=row.note,
        read_by=row.read_by,
        read_at=row.read_at,
        areas=areas,
    )


def _defect(row: DefectRow) -> values.Defect:
    return _value(values.Defect, row, part=row.part_id)


def _evidence(row: EvidenceRow) -> values.EvidenceEntry:
    return _value(values.EvidenceEntry, row, part=row.part_id)


def _dimension(row: DimensionRow) -> values.Dimension:
    return _value(values.Dimension, row, part=row.part_id)


def _work(row: WorkRow) -> values.Work:
    return _value(values.Work, row, part=row.part_id)


def _comparable(row: ComparableRow) -> values.Comparable:
    return _value(values.Comparable, row)


def _pair(row: PairRow) -> values.Pair:
    return _value(values.Pair, row, before=row.before_id, after=row.after_id)
