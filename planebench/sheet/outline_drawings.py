"""Drawings of what was outlined: each outline that a reading rests on, and what was lost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planebench.catalog.measuring import RUST
from planebench.catalog.reference import name_of
from planebench.catalog.values import Outline, Reading, ReadingArea, Surface
from planebench.sheet.content import OutlineDrawing, Ring
from planebench.sheet.phrases import lower_first
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.counted_areas import share_in
from planebench.trade.shares import format_percent
from planebench.trade.terms import Basis

_DRAWN = ("lost", "new_finish", "cannot_tell")


def drawings_of(source: SheetSource) -> tuple[OutlineDrawing, ...]:
    """Return each outline that a measured reading of now rests on, finishes first, then rust."""
    return tuple(
        drawing
        for rust in (False, True)
        for surface in source.tool.surfaces
        for drawing in _of_surface(source, surface, rust=rust)
    )


def _of_surface(source: SheetSource, surface: Surface, *, rust: bool) -> Iterable[OutlineDrawing]:
    reading = source.reading_now(surface, rust=rust)
    if reading is None or reading.share.basis is not Basis.MEASURED:
        return ()
    return _drawings(source, surface, reading)


def _drawings(source: SheetSource, surface: Surface, reading: Reading) -> Iterator[OutlineDrawing]:
    for area in reading.areas:
        outlines = source.outlines.get(area.photograph, ())
        outline = next((one for one in outlines if one.id == area.outline), None)
        if outline is None or not (rings := _rings_of(outline)):
            continue
        rust = reading.finish == RUST
        name = _drawing_name(source, surface, area, rust=rust)
        yield OutlineDrawing(
            name=name,
            alternative=f"Drawing of the outline measured: {name}.{_share(area, rust=rust)}",
            rust=rust,
            outline=rings,
            **{layer: _rings(area.share.get(layer)) for layer in _DRAWN},
        )


def _share(area: ReadingArea, *, rust: bool) -> str:
    """Return what was read inside this one outline."""
    share = share_in(area)
    return (
        ""
        if share is None
        else f" {format_percent(share)} of it {'rusted' if rust else 'with finish'}."
    )


def _drawing_name(source: SheetSource, surface: Surface, area: ReadingArea, *, rust: bool) -> str:
    taken = source.photograph(area.photograph)
    name = f"Rust, {lower_first(surface.name)}" if rust else surface.name
    if taken is None or not taken.view:
        return name
    view = name_of("views", taken.view)
    return name if view == lower_first(surface.name) else f"{name}, {view}"


def _rings_of(outline: Outline) -> tuple[Ring, ...]:
    """Return an outline's rings, outer ones and holes alike."""
    polygons = outline.polygons.get("polygons")
    rings: list[Ring] = []
    for polygon in polygons if isinstance(polygons, list) else []:
        if isinstance(polygon, dict):
            rings += _rings([polygon.get("outer")])
            rings += _rings(polygon.get("holes"))
    return tuple(rings)


def _rings(plain: object) -> tuple[Ring, ...]:
    """Parse rings of points from JSON, leaving out what is less than a triangle."""
    if not isinstance(plain, list | tuple):
        return ()
    least = 3
    return tuple(
        tuple((float(x), float(y)) for x, y in ring)
        for ring in plain
        if isinstance(ring, list | tuple) and len(ring) >= least
    )
