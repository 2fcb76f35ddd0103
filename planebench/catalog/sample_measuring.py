"""Measures the outlined surfaces of the sample with the program's own judge."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId, SurfaceId, ToolId
from planebench.catalog.measuring import RUST, Around, JudgedOutline, compose
from planebench.catalog.reference import Kind, KindSurface, resources_folder
from planebench.catalog.values import Json, Outline, Photograph, Tool
from planebench.errors import MeasureError
from planebench.photo.coverage import Finish, Judge, strokes_from_json
from planebench.photo.outline import outline_from_json
from planebench.trade.counted_areas import exact_share

Wanted = tuple[SurfaceId | KindSurface, str]
"""A surface to outline and the finish it is judged for."""


def outlines_of_picture(picture: Path) -> dict[str, Json]:
    """Return the outlines on a picture of the sample, by the code of their surface.

    Each has `polygons`, and `strokes` where the judge needed help.
    """
    file = picture.parent.parent / "outlines" / f"{picture.stem}.json"
    return dict(json.loads(file.read_text("utf-8"))) if file.is_file() else {}


def measure_outlines(
    catalog: Catalog, tool: ToolId, photograph: PhotographId, outlines: Mapping[str, Json]
) -> None:
    """Draw each outline and its strokes, have them judged, and record the reading.

    Bare metal is judged for rust. Raise MeasureError if a share cannot be measured.
    """
    taken = catalog.photographs.one(photograph)
    record = catalog.tools.one(tool)
    kind = catalog.kinds.all()[record.kind]
    for code, drawing in outlines.items():
        outline = _drawn(catalog, photograph, _surface(record, kind, code), drawing)
        judged = _judged(catalog, taken, outline)
        around = Around(
            tool=catalog.tools.one(tool),
            kind=kind,
            live={one.id: one for one in catalog.photographs.outlines_of(tool)},
        )
        catalog.readings.add(compose(around, judged))


@cache
def _judge() -> Judge:
    return Judge(resources_folder() / "judge")


def _surface(tool: Tool, kind: Kind, code: str) -> Wanted:
    """Return a surface of the tool, or one of bare metal that is added with its outline."""
    there = (one for one in tool.finished_surfaces if one.code == code)
    own = next(((one.id, one.finish) for one in there), None)
    return own or next((one, RUST) for one in kind.bare if one.code == code)


def _drawn(catalog: Catalog, photograph: PhotographId, wanted: Wanted, drawing: Json) -> Outline:
    surface, finish = wanted
    polygons = {"polygons": drawing["polygons"]}
    added = catalog.outlines.add(photograph, surface, finish=finish, polygons=polygons).id
    strokes = drawing.get("strokes")
    if isinstance(strokes, dict):
        catalog.outlines.change(added, strokes=strokes)
    return next(one for one in catalog.photographs.outlines(photograph) if one.id == added)


def _judged(catalog: Catalog, photograph: Photograph, outline: Outline) -> JudgedOutline:
    pixels = catalog.pictures.full(photograph)
    judging = _judge().open(pixels, outline_from_json(outline.polygons), Finish(outline.finish))
    strokes = strokes_from_json(outline.strokes)
    reading = judging.read(strokes)
    if reading.share is None or reading.low is None or reading.high is None:
        raise MeasureError(
            f"A surface of the sample could not be measured: {reading.why_unmeasurable}.",
            remedy="Install the program again; the sample’s files are damaged.",
            subject=photograph.original_name,
        )
    return JudgedOutline(
        outline=outline,
        photograph=photograph,
        share=exact_share(reading.share, reading.low, reading.high),
        kept_px=reading.kept_px,
        lost_px=reading.lost_px,
        cannot_tell_px=reading.cannot_tell_px,
        strokes=strokes.teaching,
        map=judging.map(full_size=False),
        window=judging.window,
    )
