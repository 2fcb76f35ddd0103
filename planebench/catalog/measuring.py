"""Composes the reading of a judged outline: its surface's share over all outlines of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.ids import OutlineId, SurfaceId
from planebench.catalog.photo_scales import scale_of
from planebench.catalog.readings import NewReading
from planebench.catalog.reference import Kind, KindSurface, name_of, open_list
from planebench.catalog.values import Json, Outline, Photograph, ReadingArea, Tool
from planebench.photo import outline as shapes
from planebench.photo.coverage import CANNOT_TELL, LOST
from planebench.photo.outline import mask_contours, overlap
from planebench.trade import counted_areas
from planebench.trade.counted_areas import CountedAreas, format_method, share_over_all
from planebench.trade.geometry import area
from planebench.trade.measured_extent import MeasuredExtent, SurfaceViews, extent_of
from planebench.trade.shares import Share
from planebench.trade.terms import Stage

RUST = "rust"
# Neighbors share a seam at most; what shares more was drawn again over the other.
_DRAWN_OVER = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedOutline:
    """What an outline was judged to be after so many strokes.

    `map` shows `window` (left, top, right, bottom in pixels of the photograph) at the size at
    which it was judged: 0 outside, 1 kept, 2 lost or rusted, 3 can't tell.
    """

    outline: Outline
    photograph: Photograph
    share: Share
    kept_px: int
    lost_px: int
    cannot_tell_px: int
    strokes: int
    map: NDArray[np.uint8] = field(repr=False)
    window: tuple[int, int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What a reading is composed from: the tool, its kind, and the outlines that are there now."""

    tool: Tool
    kind: Kind | None
    live: Mapping[OutlineId, Outline]


def area_of(outline: shapes.PixelOutline, photograph: Photograph) -> float | None:
    """Measure the outline's area in mm², if the photograph is scaled."""
    plane = scale_of(photograph.scale)
    if plane is None or not outline.polygons:
        return None
    return sum(
        area(plane.to_mm(np.array(p.outer)), [plane.to_mm(np.array(hole)) for hole in p.holes])
        for p in outline.polygons
    )


def exact_area(outline: Outline, photograph: Photograph) -> Decimal | None:
    """Return the area in mm² as it is kept, to a tenth; None where the photograph has no scale."""
    measured = area_of(shapes.outline_from_json(outline.polygons), photograph)
    return None if measured is None else Decimal(f"{measured:.1f}")


def compose(around: Around, judged: JudgedOutline) -> NewReading:
    """Compose the reading of the outline's surface: this outline and those read before it."""
    outline, tool = judged.outline, around.tool
    areas = (_area(judged), *_others(around, judged))
    counted = count_areas(tool, around.kind, outline.surface, areas)
    return NewReading(
        tool=tool.id,
        surface=outline.surface,
        stage=judged.photograph.stage,
        share=share_over_all(counted, _Geometry(around.live)) or judged.share,
        rust=outline.finish == RUST,
        method=format_method(counted, judged.strokes),
        areas=areas,
    )


def count_areas(
    tool: Tool, kind: Kind | None, surface: SurfaceId, areas: Sequence[ReadingArea]
) -> CountedAreas[ReadingArea]:
    """Choose which areas of a surface count, and name the view that each is seen on."""
    views = {str(one.id): one.view for one in tool.photographs}
    expected = surface_known(tool, kind, surface).views
    return counted_areas.count_areas(areas, views, lambda view: _is_close_up(view, expected))


def measured_extent(
    tool: Tool, kind: Kind | None, areas: Sequence[ReadingArea], of: tuple[SurfaceId, Stage]
) -> MeasuredExtent | None:
    """Return what the areas of a reading cover of a surface at a stage; None where none counts."""
    surface, stage = of
    counted = count_areas(tool, kind, surface, areas)
    known = surface_known(tool, kind, surface)
    views = SurfaceViews(
        expected=known.views,
        of_photographs=[one.view for one in tool.photographs if one.id in counted.photographs],
        taken=[one.view for one in tool.photographs if one.stage == stage],
        hidden=known.hidden,
    )
    return extent_of(counted, views, lambda view: name_of("views", view))


def surface_known(tool: Tool, kind: Kind | None, surface: SurfaceId) -> KindSurface:
    """Return what the kind says of a surface of the tool; without views where it says nothing."""
    code = next((one.code for one in tool.surfaces if one.id == surface), "")
    known = None if kind is None else kind.surface(code)
    return known or KindSurface(code=code, name="", finish="", parts=())


def _is_close_up(view: str, expected: Sequence[str]) -> bool:
    """Return whether a view shows a stretch of the surface that a whole view may show again."""
    row = open_list("views").get(view)
    return view not in expected and row is not None and not row.more.get("unfolded")


def _area(judged: JudgedOutline) -> ReadingArea:
    outline, share = judged.outline, judged.share
    drawn: Json = {
        "value": str(share.value),
        "low": str(share.low),
        "high": str(share.high),
        "lost": _rings(judged, LOST),
        "new_finish": [],
        "cannot_tell": _rings(judged, CANNOT_TELL),
    }
    return ReadingArea(
        outline=outline.id,
        photograph=judged.photograph.id,
        kept_px=judged.kept_px,
        lost_px=judged.lost_px,
        cannot_tell_px=judged.cannot_tell_px,
        area_mm2=exact_area(outline, judged.photograph),
        share=drawn,
    )


def _others(around: Around, judged: JudgedOutline) -> tuple[ReadingArea, ...]:
    """Return the areas of the surface's other outlines that were read before, each once."""
    outline = judged.outline
    old = around.tool.reading(outline.surface, judged.photograph.stage, rust=outline.finish == RUST)
    areas = () if old is None else old.areas
    return tuple(one for one in areas if one.outline != outline.id and one.outline in around.live)


def _rings(judged: JudgedOutline, code: int) -> list[list[list[float]]]:
    """Return the rings round what was judged so, in pixels of the photograph."""
    left, top, right, bottom = judged.window
    high, wide = judged.map.shape
    across, down = (right - left) / wide, (bottom - top) / high
    rings = mask_contours(judged.map == code, int(np.count_nonzero(judged.map)))
    return [
        [
            [
                round((x + 0.5) * across - 0.5 + left, 1),
                round((y + 0.5) * down - 0.5 + top, 1),
            ]
            for x, y in ring
        ]
        for ring in rings
    ]


class _Geometry:
    """Where the outlines of areas lie, by those that are there now."""

    def __init__(self, live: Mapping[OutlineId, Outline]) -> None:
        self._live = live

    def left_edge_distance(self, area: ReadingArea) -> float:
        """Return the mean distance of an outline's corners from the left; 0 where it is gone."""
        outline = self._live.get(area.outline)
        polygons = () if outline is None else shapes.outline_from_json(outline.polygons).polygons
        points = [x for polygon in polygons for x, _ in polygon.outer]
        return sum(points) / max(1, len(points))

    def is_same_place(self, one: ReadingArea, other: ReadingArea) -> bool:
        """Return whether two outlines on one photograph go around much of the same area."""
        if one.photograph != other.photograph:
            return False
        drawn = [self._live[area.outline] for area in (one, other) if area.outline in self._live]
        outlines = [shapes.outline_from_json(outline.polygons) for outline in drawn]
        return len(outlines) > 1 and overlap(outlines[0], outlines[1]) > _DRAWN_OVER
