"""What is written down of a judged outline: the reading of its surface over all its outlines."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

import numpy as np

from planebench.catalog.ids import OutlineId
from planebench.catalog.readings import NewReading
from planebench.catalog.values import Json, Outline, Photograph, Reading, ReadingArea, Tool
from planebench.photo import outline as shapes
from planebench.photo.map_rings import rings_of
from planebench.trade.geometry import area
from planebench.trade.shares import Patch, Share, combine
from planebench.trade.terms import Basis
from planebench.window.screens.photograph.judging import CANNOT_TELL, LOST, Verdict
from planebench.window.screens.photograph.model import RUST, Shown
from planebench.window.screens.photograph.scaled import scale_of

_FINE = Decimal("0.0001")


def area_of(outline: shapes.Outline, photograph: Photograph) -> float | None:
    """Measure the outline's area in mm², if the photograph is scaled."""
    plane = scale_of(photograph.scale)
    if plane is None or not outline.polygons:
        return None
    return sum(
        area(plane.to_mm(np.array(p.outer)), [plane.to_mm(np.array(hole)) for hole in p.holes])
        for p in outline.polygons
    )


def share_of(verdict: Verdict) -> Share | None:
    """Give a verdict's share with its interval; None where it could not be told."""
    if verdict.share is None:
        return None
    value = _decimal(verdict.share)
    low, high = min(value, _decimal(verdict.low)), max(value, _decimal(verdict.high))
    return Share(value=value, low=low, high=high, basis=Basis.MEASURED)


def new_reading(
    shown: Shown, outline: Outline, verdict: Verdict, *, strokes: int
) -> NewReading | None:
    """Compose the reading of the outline's surface: this outline and those read before it.

    None where the share could not be told or the photograph is not of a tool.
    """
    share = share_of(verdict)
    if share is None or shown.tool is None:
        return None
    here = _area(shown.photograph, outline, verdict, share)
    others = _others(shown, outline)
    with_strokes = {0: "no stroke", 1: "1 stroke"}.get(strokes, f"{strokes} strokes")
    return NewReading(
        tool=shown.tool.id,
        surface=outline.surface,
        stage=shown.photograph.stage,
        share=_over_all(shown.tool, (here, *others)) or share,
        rust=outline.finish == RUST,
        method=f"outlined on {_count(1 + len(others))}, judged with {with_strokes}",
        areas=(here, *others),
    )


def is_kept(shown: Shown, outline: Outline, verdict: Verdict) -> bool:
    """Say whether a verdict on an outline is written down already."""
    if shown.tool is None:
        return False
    rust, stage = outline.finish == RUST, shown.photograph.stage
    old = shown.tool.reading(outline.surface, stage, rust=rust)
    counts = (verdict.kept_px, verdict.lost_px, verdict.cannot_tell_px)
    return any(
        one.outline == outline.id and (one.kept_px, one.lost_px, one.cannot_tell_px) == counts
        for one in (old.areas if old else ())
    )


def measured_on(tool: Tool | None, outline: Outline) -> Share | None:
    """Give the share last written down for one outline, if any was."""
    for reading in reversed(tool.readings if tool else ()):
        for one in reading.areas:
            if one.outline == outline.id and (share := _share_in(one)) is not None:
                return share
    return None


def _others(shown: Shown, outline: Outline) -> tuple[ReadingArea, ...]:
    """Give the areas of the surface's other outlines that were read before, each once."""
    if shown.tool is None:
        return ()
    rust = outline.finish == RUST
    old: Reading | None = shown.tool.reading(outline.surface, shown.photograph.stage, rust=rust)
    if old is None:
        return ()
    live: set[OutlineId] = {one.id for one in shown.outlines}
    return tuple(
        one
        for one in old.areas
        if one.outline != outline.id
        and (one.photograph != shown.photograph.id or one.outline in live)
    )


def _area(photograph: Photograph, outline: Outline, verdict: Verdict, share: Share) -> ReadingArea:
    measured = area_of(shapes.outline_from_json(outline.polygons), photograph)
    drawn: Json = {
        "value": str(share.value),
        "low": str(share.low),
        "high": str(share.high),
        "lost": _rings(verdict, LOST),
        "new_finish": [],
        "cannot_tell": _rings(verdict, CANNOT_TELL),
    }
    return ReadingArea(
        outline=outline.id,
        photograph=photograph.id,
        kept_px=verdict.kept_px,
        lost_px=verdict.lost_px,
        cannot_tell_px=verdict.cannot_tell_px,
        area_mm2=None if measured is None else Decimal(f"{measured:.1f}"),
        share=drawn,
    )


def _rings(verdict: Verdict, code: int) -> list[list[list[float]]]:
    """Give the rings round what was judged so, in pixels of the photograph."""
    left, top, right, bottom = verdict.window
    high, wide = verdict.map.shape
    across, down = (right - left) / wide, (bottom - top) / high
    rings = rings_of(verdict.map == code, int(np.count_nonzero(verdict.map)))
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


def _over_all(tool: Tool, areas: Sequence[ReadingArea]) -> Share | None:
    """Take the share over all areas, each place once."""
    patches = _patches(tool, areas)
    if not patches:
        return None
    over = combine(patches)
    value = over.value.quantize(_FINE)
    low, high = min(value, over.low.quantize(_FINE)), max(value, over.high.quantize(_FINE))
    return Share(value=value, low=low, high=high, basis=over.basis)


def _patches(tool: Tool, areas: Sequence[ReadingArea]) -> list[Patch]:
    """Give the areas that have a share; photographs of one view show one place."""
    views = {one.id: one.view or one.id for one in tool.photographs}
    by_area = all(one.area_mm2 for one in areas)
    patches, seen = [], dict[str, int]()
    for one in areas:
        share, weight = _share_in(one), _weight(one, by_area=by_area)
        if share is None or weight <= 0:
            continue
        number = seen[one.photograph] = seen.get(one.photograph, 0) + 1
        place = f"{views.get(one.photograph, one.photograph)} {number}"
        patches.append(Patch(place=place, share=share, area_mm2=weight))
    return patches


def _weight(area: ReadingArea, *, by_area: bool) -> Decimal:
    """Give what an area counts for: its mm² where all have them, else its pixels."""
    if by_area and area.area_mm2:
        return area.area_mm2
    return Decimal(area.kept_px + area.lost_px + area.cannot_tell_px)


def _share_in(area: ReadingArea) -> Share | None:
    try:
        value, low, high = (Decimal(str(area.share[name])) for name in ("value", "low", "high"))
    except (KeyError, ArithmeticError):
        return None
    return Share(value=value, low=low, high=high, basis=Basis.MEASURED)


def _count(outlines: int) -> str:
    return "one photograph" if outlines == 1 else f"{outlines} outlines"


def _decimal(value: float) -> Decimal:
    exact = Decimal(str(min(1.0, max(0.0, value))))
    return exact.quantize(_FINE, rounding=ROUND_HALF_UP)
