"""Copying pins and outlines from one photograph of a pair to the other, each as one edit."""

from __future__ import annotations

import numpy as np

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import new_id
from planebench.catalog.pair_alignment import PairAlignment
from planebench.catalog.tables.photograph_tables import OutlineRow, PinRow
from planebench.catalog.values import Json, Outline, Photograph
from planebench.photo.outline import PixelOutline, Polygon, outline_from_json, outline_to_json


def mapped_polygons(alignment: PairAlignment, polygons: Json, after: Photograph) -> Json:
    """Return an outline's polygons mapped to the photograph after, clipped to its frame."""
    most = np.array([after.width - 1.0, after.height - 1.0])

    def mapped(ring: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        moved = np.clip(alignment.carry(np.array(ring)), 0, most)
        return tuple((float(x), float(y)) for x, y in moved)

    shape = outline_from_json(polygons)
    return outline_to_json(
        PixelOutline(
            polygons=tuple(
                Polygon(outer=mapped(p.outer), holes=tuple(mapped(hole) for hole in p.holes))
                for p in shape.polygons
            )
        )
    )


def copy_outlines(
    catalog: Catalog,
    alignment: PairAlignment,
    outlines: tuple[Outline, ...],
    after: Photograph,
    *,
    run: str | None = None,
) -> tuple[int, Changes]:
    """Copy outlines to the photograph after where it has none of that surface and finish.

    One edit, so one step to undo; `run` joins it to others. Returns how many were copied.
    """
    there = {(one.surface, one.finish) for one in catalog.photographs.outlines(after.id)}
    rows = [
        OutlineRow(
            id=new_id(),
            photograph_id=after.id,
            surface_id=one.surface,
            finish=one.finish,
            polygons=mapped_polygons(alignment, one.polygons, after),
            strokes={},
        )
        for one in outlines
        if (one.surface, one.finish) not in there
    ]
    if not rows:
        return 0, Changes()
    with catalog.store.edit(_copied(len(rows), "outline"), run=run) as edit:
        edit.session.add_all(rows)
    return len(rows), edit.changes


def copy_pins(
    catalog: Catalog, alignment: PairAlignment, before: Photograph, after: Photograph
) -> tuple[int, Changes]:
    """Copy the pins that the photograph after does not have yet, as one edit.

    Returns how many were copied.
    """
    there = {(pin.defect, pin.evidence) for pin in catalog.photographs.pins(after.id)}
    size = np.array([before.width, before.height])
    size_after = np.array([after.width, after.height])
    rows = []
    for pin in catalog.photographs.pins(before.id):
        if (pin.defect, pin.evidence) in there:
            continue
        ends = np.array([[pin.x, pin.y], [pin.balloon_x, pin.balloon_y]]) * size
        (x, y), (balloon_x, balloon_y) = np.clip(alignment.carry(ends) / size_after, 0, 1).tolist()
        rows.append(
            PinRow(
                id=new_id(),
                photograph_id=after.id,
                defect_id=pin.defect,
                evidence_id=pin.evidence,
                x=x,
                y=y,
                balloon_x=balloon_x,
                balloon_y=balloon_y,
            )
        )
    if not rows:
        return 0, Changes()
    with catalog.store.edit(_copied(len(rows), "pin")) as edit:
        edit.session.add_all(rows)
    return len(rows), edit.changes


def _copied(count: int, what: str) -> str:
    return f"1 {what} copied" if count == 1 else f"{count} {what}s copied"
