"""What the screen of one photograph shows: the photograph, its tool, its pins and outlines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import OutlineId, PhotographId, PinId, SurfaceId
from planebench.catalog.measuring import RUST
from planebench.catalog.reference import Kind, KindSurface, name_of
from planebench.catalog.values import Outline, Photograph, Pin, Surface, Tool
from planebench.trade.terms import Stage
from planebench.window.photograph_names import Subject, capital, subjects_of, title_of
from planebench.window.pieces import photo_view
from planebench.window.pieces.picture import Picture

Rgb = NDArray[np.uint8]

JUDGED = frozenset({"japanning", "nickel", "lacquer", RUST})
_SMALL_EDGE, _QUICK_EDGE = 320, 1600
_EVIDENCE_FROM = 10_000
_OFF = 0.07


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographModel:
    """One photograph and what the catalog knows of it; `tool` None while it is not filed.

    `outlines` are those on it; `live` those on any photograph of the tool.
    """

    photograph: Photograph
    tool: Tool | None
    kind: Kind | None
    pins: tuple[Pin, ...]
    outlines: tuple[Outline, ...]
    live: Mapping[OutlineId, Outline]

    @property
    def siblings(self) -> tuple[Photograph, ...]:
        """The photographs of the tool in their order, this one among them."""
        return () if self.tool is None else self.tool.photographs

    @property
    def place(self) -> int:
        """The index of the photograph among its siblings, from 0; -1 if it has none."""
        ids = [one.id for one in self.siblings]
        return ids.index(self.photograph.id) if self.photograph.id in ids else -1

    @property
    def title(self) -> str:
        """The photograph in words: view, stage, day."""
        return title_of(self.photograph)

    @property
    def surfaces(self) -> tuple[Surface, ...]:
        """The surfaces that the tool has."""
        return () if self.tool is None else self.tool.surfaces

    @property
    def bare(self) -> tuple[KindSurface, ...]:
        """The bare metal surfaces of the kind that have no reading yet."""
        there = {one.code for one in self.surfaces}
        bare = () if self.kind is None else self.kind.bare
        return tuple(one for one in bare if one.code not in there)

    def surface(self, surface: SurfaceId) -> Surface | None:
        """Return a surface of the tool."""
        return next((one for one in self.surfaces if one.id == surface), None)

    def outline_words(self, outline: Outline) -> str:
        """Return what an outline goes around: "Body, japanning"."""
        surface = self.surface(outline.surface)
        name = "surface" if surface is None else surface.name
        words = (
            "rust on bare metal" if outline.finish == RUST else name_of("finishes", outline.finish)
        )
        bare = name.lower().endswith(words.lower())
        return capital(name) if bare else f"{capital(name)}, {words}"


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedPhotograph:
    """The pixels of the photograph, upright, and the picture made of them."""

    rgb: Rgb
    picture: Picture


def load_photograph(catalog: Catalog, photograph: PhotographId) -> PhotographModel:
    """Return what the screen shows, from the catalog."""
    one = catalog.photographs.one(photograph)
    tool = None if one.tool is None else catalog.tools.one(one.tool)
    of_tool = () if tool is None else catalog.photographs.outlines_of(tool.id)
    return PhotographModel(
        photograph=one,
        tool=tool,
        kind=None if tool is None else catalog.kinds.all().get(tool.kind),
        pins=catalog.photographs.pins(photograph),
        outlines=catalog.photographs.outlines(photograph),
        live={outline.id: outline for outline in of_tool},
    )


def small_picture(catalog: Catalog, photograph: Photograph) -> QImage:
    """Return the small copy made at import, which loads at once."""
    return QImage.fromData(catalog.pictures.thumbnail(photograph, _SMALL_EDGE))


def quick_picture(catalog: Catalog, photograph: Photograph) -> QImage:
    """Return a copy that fills a window; fast once it exists."""
    return QImage.fromData(catalog.pictures.preview(photograph, _QUICK_EDGE))


def whole_picture(catalog: Catalog, photograph: Photograph) -> LoadedPhotograph:
    """Return the whole photograph; raise FileError when the original is gone or damaged."""
    rgb = catalog.pictures.full(photograph)
    return LoadedPhotograph(rgb=rgb, picture=Picture.of(rgb))


def view_pins(model: PhotographModel) -> tuple[dict[int, PinId], tuple[photo_view.ViewPin, ...]]:
    """Return the pins as a view shows them, and which pin each number stands for."""
    subjects = {subject.key: subject for subject in subjects_of(model.tool)}
    ids: dict[int, PinId] = {}
    pins = []
    for pin in model.pins:
        subject = subjects.get(pin.defect or pin.evidence or "")
        if subject is None:
            continue
        number = int(subject.mark) if pin.defect else _EVIDENCE_FROM + len(ids)
        ids[number] = pin.id
        pins.append(_view_pin(model.photograph, pin, number, subject))
    return ids, tuple(pins)


def _view_pin(
    photograph: Photograph, pin: Pin, number: int, subject: Subject
) -> photo_view.ViewPin:
    wide, high = photograph.width, photograph.height
    return photo_view.ViewPin(
        number=number,
        spot=(pin.x * wide, pin.y * high),
        balloon=(pin.balloon_x * wide, pin.balloon_y * high),
        text=subject.words,
        mark=subject.mark,
    )


def balloon_for(spot: QPointF, photograph: Photograph) -> tuple[float, float]:
    """Return where a new balloon goes, in pixels: off the spot, away from the middle."""
    wide, high = photograph.width, photograph.height
    off = _OFF * min(wide, high)
    x = spot.x() + (off if spot.x() >= wide / 2 else -off)
    y = spot.y() - off if spot.y() > 2 * off else spot.y() + off
    return min(max(x, 0.0), wide - 1.0), min(max(y, 0.0), high - 1.0)


def other_stage(model: PhotographModel) -> Photograph | None:
    """Return the photograph that this one is paired with, else one of its view at the other end."""
    if model.tool is None:
        return None
    here = model.photograph.id
    pair = next((one for one in model.tool.pairs if here in {one.before, one.after}), None)
    if pair is None:
        return _alike_at_other_end(model)
    wanted = pair.after if here == pair.before else pair.before
    return next((one for one in model.siblings if one.id == wanted), None)


def _alike_at_other_end(model: PhotographModel) -> Photograph | None:
    here = model.photograph
    if not here.view:
        return None
    stage = Stage.AS_FOUND if here.stage is Stage.FINISHED else Stage.FINISHED
    alike = (one for one in model.siblings if one.view == here.view and one.stage is stage)
    return next(alike, None)


def other_lights(model: PhotographModel) -> list[tuple[str, str]]:
    """Return the photographs of the same view, stage and size, as id and words.

    They may show the same under a second light.
    """
    here = model.photograph
    alike = (here.view, here.stage, here.width, here.height)
    return [
        (one.id, title_of(one) + (f", {one.caption}" if one.caption else ""))
        for one in model.siblings
        if one.id != here.id and (one.view, one.stage, one.width, one.height) == alike
    ]
