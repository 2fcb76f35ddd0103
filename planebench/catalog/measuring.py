"""What is written down of a judged outline: the reading of its surface over all its outlines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.ids import OutlineId, PhotographId, SurfaceId
from planebench.catalog.readings import NewReading
from planebench.catalog.reference import Kind, KindSurface, open_list
from planebench.catalog.scales import scale_of
from planebench.catalog.values import Json, Outline, Photograph, ReadingArea, Tool
from planebench.photo import outline as shapes
from planebench.photo.coverage import CANNOT_TELL, LOST
from planebench.photo.outline import mask_contours, overlap
from planebench.trade.geometry import area
from planebench.trade.shares import MeasuredPatch, Share, combine
from planebench.trade.terms import Basis

RUST = "rust"
_FINE = Decimal("0.0001")
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """The areas that count toward a share over all photographs, each with what it is seen on.

    `close_up` says that they are on close-ups, for there is no whole view; `left_out` are close-ups
    beside whole views: they may show the same places a second time.
    `by_area` says that true areas are known and weigh, else pixels do.
    """

    areas: tuple[tuple[str, ReadingArea], ...]
    close_up: bool
    left_out: tuple[ReadingArea, ...]
    by_area: bool

    @property
    def photographs(self) -> tuple[PhotographId, ...]:
        """The photographs that count, each once."""
        return tuple(dict.fromkeys(one.photograph for _, one in self.areas))


def exact_share(share: float, low: float, high: float) -> Share:
    """Return a measured share, 0 to 1, to four places; an interval that ends short is drawn out."""
    value = _exact(share)
    return Share(
        value=value,
        low=min(value, _exact(low)),
        high=max(value, _exact(high)),
        basis=Basis.MEASURED,
    )


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
        share=_over_all(counted, around.live) or judged.share,
        rust=outline.finish == RUST,
        method=_method(counted, judged.strokes),
        areas=areas,
    )


def share_in(area: ReadingArea) -> Share | None:
    """Return the share read in one outline; None where it was not kept."""
    try:
        value, low, high = (Decimal(str(area.share[name])) for name in ("value", "low", "high"))
    except (KeyError, ArithmeticError):
        return None
    return Share(value=value, low=low, high=high, basis=Basis.MEASURED)


def count_areas(
    tool: Tool, kind: Kind | None, surface: SurfaceId, areas: Sequence[ReadingArea]
) -> Counted:
    """Choose which areas of a surface count, and name what each is seen on.

    Photographs of one view show the same; each photograph without a view shows its own.
    """
    views = {one.id: one.view for one in tool.photographs}
    told = [one for one in areas if one.photograph in views and share_in(one) is not None]
    close, whole = _parted(told, views, surface_known(tool, kind, surface).views)
    if not whole:
        return Counted(
            areas=_seen_on(close, {}), close_up=True, left_out=(), by_area=_have_areas(close)
        )
    return Counted(
        areas=_seen_on(whole, views),
        close_up=False,
        left_out=tuple(close),
        by_area=_have_areas(whole),
    )


def _seen_on(
    areas: Sequence[ReadingArea], views: Mapping[PhotographId, str]
) -> tuple[tuple[str, ReadingArea], ...]:
    return tuple((views.get(one.photograph) or one.photograph, one) for one in areas)


def _have_areas(areas: Sequence[ReadingArea]) -> bool:
    return all(one.area_mm2 for one in areas)


def _parted(
    areas: Sequence[ReadingArea], views: Mapping[PhotographId, str], expected: Sequence[str]
) -> tuple[list[ReadingArea], list[ReadingArea]]:
    """Part areas on close-ups from those on whole views."""
    close = [one for one in areas if _is_close_up(views[one.photograph], expected)]
    return close, [one for one in areas if one not in close]


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


def _over_all(counted: Counted, live: Mapping[OutlineId, Outline]) -> Share | None:
    """Take the share over all areas, each place once."""
    patches = [
        MeasuredPatch(place=place, share=share, area_mm2=weight)
        for place, one in _each_once(counted, live)
        if (share := share_in(one)) is not None
        and (weight := _weight(one, by_area=counted.by_area)) > 0
    ]
    if not patches:
        return None
    over = combine(patches)
    return exact_share(float(over.value), float(over.low), float(over.high))


def _each_once(
    counted: Counted, live: Mapping[OutlineId, Outline]
) -> Iterator[tuple[str, ReadingArea]]:
    """Name the place of each area, numbered from the left on each photograph.

    An outline drawn over another goes round the same place; so do those of photographs of one
    view that have the same number.
    """
    for photograph in counted.photographs:
        here = [pair for pair in counted.areas if pair[1].photograph == photograph]
        before: list[tuple[int, ReadingArea]] = []
        for where, one in sorted(here, key=lambda pair: _middle(pair[1], live)):
            drawn_over = (n for n, other in before if _is_same(one, other, live))
            number = next(drawn_over, len(before) + 1)
            before.append((number, one))
            yield f"{where} {number}", one


def _middle(area: ReadingArea, live: Mapping[OutlineId, Outline]) -> float:
    """Say how far from the left an outline lies; 0 where it is gone."""
    outline = live.get(area.outline)
    polygons = () if outline is None else shapes.outline_from_json(outline.polygons).polygons
    points = [x for polygon in polygons for x, _ in polygon.outer]
    return sum(points) / max(1, len(points))


def _is_same(one: ReadingArea, other: ReadingArea, live: Mapping[OutlineId, Outline]) -> bool:
    """Return whether two outlines on one photograph go round much of the same area."""
    if one.photograph != other.photograph:
        return False
    drawn = [live[area.outline] for area in (one, other) if area.outline in live]
    shapes_of = [shapes.outline_from_json(outline.polygons) for outline in drawn]
    return len(shapes_of) > 1 and overlap(shapes_of[0], shapes_of[1]) > _DRAWN_OVER


def _weight(area: ReadingArea, *, by_area: bool) -> Decimal:
    """Return what an area counts for: its mm² where all have them, else its pixels."""
    if by_area and area.area_mm2:
        return area.area_mm2
    return Decimal(area.kept_px + area.lost_px + area.cannot_tell_px)


def _method(counted: Counted, strokes: int) -> str:
    with_strokes = {0: "no stroke", 1: "1 stroke"}.get(strokes, f"{strokes} strokes")
    outlines = len(counted.areas)
    if outlines <= 1:
        return f"outlined on one photograph, judged with {with_strokes}"
    photographs = len(counted.photographs)
    on = "one photograph" if photographs == 1 else f"{photographs} photographs"
    weighted = weighted_words(counted)
    return f"{outlines} outlines on {on}, {weighted}; the last judged with {with_strokes}"


def weighted_words(counted: Counted) -> str:
    """Say what the areas weigh by."""
    if counted.by_area:
        return "weighted by area in mm²"
    return "weighted by pixels, for not each photograph has a scale"


def _exact(value: float) -> Decimal:
    exact = Decimal(str(min(1.0, max(0.0, value))))
    return exact.quantize(_FINE, rounding=ROUND_HALF_UP)
