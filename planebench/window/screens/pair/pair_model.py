"""What the screen of a pair shows: the pair, its photographs, pins and readings."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF
from PySide6.QtGui import QTransform

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PairId, ToolId
from planebench.catalog.pair_alignment import PairAlignment
from planebench.catalog.reference import name_of
from planebench.catalog.values import Outline, Pair, Photograph, Pin, Reading, Surface, Tool
from planebench.photo.align import AlignmentQuality
from planebench.trade.days import format_day
from planebench.trade.shares import Share
from planebench.trade.terms import STAGE_WORDS, Basis, Stage
from planebench.window.jobs import Job
from planebench.window.photograph_names import Subject, capital, subjects_of
from planebench.window.pieces import photo_view
from planebench.window.pieces.picture import Picture

Rgb = NDArray[np.uint8]
RUST = "rust"
_STEPS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class PairModel:
    """A pair of the tool with the pins and outlines on its photographs."""

    tool: Tool
    pair: Pair
    before: Photograph
    after: Photograph
    pins_before: tuple[Pin, ...]
    pins_after: tuple[Pin, ...]
    outlines_before: tuple[Outline, ...]

    @property
    def place(self) -> int:
        """The number of the pair among the tool's, from 1."""
        return [one.id for one in self.tool.pairs].index(self.pair.id) + 1

    @property
    def title(self) -> str:
        """The pair in words: "Top, as found and finished"."""
        view = name_of("views", self.after.view or self.before.view)
        stages = f"{STAGE_WORDS[self.before.stage]} and {STAGE_WORDS[self.after.stage]}"
        return capital(f"{view}, {stages}" if view else stages)


@dataclass(frozen=True, slots=True, kw_only=True)
class PairPictures:
    """The pixels of both, upright, and the pictures made of them."""

    before_rgb: Rgb
    after_rgb: Rgb
    before: Picture
    after: Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceChange:
    """A surface as found and finished; None where not measured. `rust`: shares are rusted ones."""

    surface: Surface
    rust: bool
    found: Reading | None
    finished: Reading | None

    @property
    def name(self) -> str:
        """The surface and its finish in words."""
        finish = RUST if self.rust else name_of("finishes", self.surface.finish)
        return f"{capital(self.surface.name)}, {finish}"

    @property
    def unlike(self) -> bool:
        """Whether the two intervals have nothing in common."""
        if self.found is None or self.finished is None:
            return False
        one, other = self.found.share, self.finished.share
        return one.high < other.low or other.high < one.low

    @property
    def grew(self) -> bool:
        """Whether clearly more of a finish is there than as found."""
        if self.rust or self.found is None or self.finished is None:
            return False
        return self.unlike and self.finished.share.value > self.found.share.value

    @property
    def new_finish(self) -> Share | None:
        """The recorded share of new finish; None if there is none."""
        new = None if self.finished is None else self.finished.new_finish
        return new if new is not None and new.value > 0 else None

    @property
    def gained(self) -> Share:
        """The gain, which can only be new finish: the difference of the two shares."""
        if self.found is None or self.finished is None:
            raise ValueError("nothing is gained without two readings")
        one, other = self.found.share, self.finished.share
        measured = one.basis is Basis.MEASURED and other.basis is Basis.MEASURED
        return Share(
            value=other.value - one.value,
            low=max(Decimal(0), other.low - one.high),
            high=min(Decimal(1), other.high - one.low),
            basis=Basis.MEASURED if measured else Basis.BY_EYE,
        )


def load_pair(catalog: Catalog, tool: ToolId, pair: PairId) -> PairModel | None:
    """Return a pair from the catalog; None when the tool no longer has it."""
    record = catalog.tools.one(tool)
    found = next((one for one in record.pairs if one.id == pair), None)
    if found is None:
        return None
    photographs = catalog.photographs.some((found.before, found.after))
    return PairModel(
        tool=record,
        pair=found,
        before=photographs[found.before],
        after=photographs[found.after],
        pins_before=catalog.photographs.pins(found.before),
        pins_after=catalog.photographs.pins(found.after),
        outlines_before=catalog.photographs.outlines(found.before),
    )


def load_pictures(catalog: Catalog, model: PairModel, job: Job) -> PairPictures:
    """Return both photographs whole; raise FileError when an original is gone or damaged."""
    job.step(0, _STEPS)
    before = catalog.pictures.full(model.before)
    job.step(1, _STEPS)
    after = catalog.pictures.full(model.after)
    return PairPictures(
        before_rgb=before,
        after_rgb=after,
        before=Picture.of(before),
        after=Picture.of(after),
    )


def surface_changes(tool: Tool) -> tuple[SurfaceChange, ...]:
    """Return the surfaces with any reading, then the rusted shares with any."""
    found = []
    for rust in (False, True):
        for surface in tool.surfaces:
            change = SurfaceChange(
                surface=surface,
                rust=rust,
                found=tool.reading(surface.id, Stage.AS_FOUND, rust=rust),
                finished=tool.reading(surface.id, Stage.FINISHED, rust=rust),
            )
            if change.found is not None or change.finished is not None:
                found.append(change)
    return tuple(found)


def label_of(photograph: Photograph) -> str:
    """Return the label of one photograph of the pair: "As found, 14 March 2026"."""
    day = f", {format_day(photograph.taken_at.date())}" if photograph.taken_at is not None else ""
    return capital(STAGE_WORDS[photograph.stage]) + day


def after_to_before(model: PairModel, alignment: PairAlignment | None) -> QTransform:
    """Return the transform from pixels after to pixels before; without alignment only scaled."""
    if alignment is None or alignment.quality is AlignmentQuality.NONE:
        across = model.before.width / model.after.width
        down = model.before.height / model.after.height
        return QTransform.fromScale(across, down)
    (a, b, c), (d, e, f), (g, h, i) = np.linalg.inv(alignment.matrix).tolist()
    # Qt multiplies row vectors, so the matrix is transposed.
    return QTransform(a, d, g, b, e, h, c, f, i)


def pins_of(
    model: PairModel, after_to_before: QTransform
) -> tuple[list[photo_view.ViewPin], list[photo_view.ViewPin]]:
    """Return the pins of both in pixels of the photograph before."""
    subjects = {subject.key: subject for subject in subjects_of(model.tool)}
    return (
        _pins(model.pins_before, model.before, QTransform(), subjects),
        _pins(model.pins_after, model.after, after_to_before, subjects),
    )


def _pins(
    pins: tuple[Pin, ...],
    photograph: Photograph,
    after_to_before: QTransform,
    subjects: dict[str, Subject],
) -> list[photo_view.ViewPin]:
    wide, high = photograph.width, photograph.height
    found = []
    for number, pin in enumerate(pins):
        subject = subjects.get(pin.defect or pin.evidence or "")
        if subject is None:
            continue
        spot = after_to_before.map(QPointF(pin.x * wide, pin.y * high))
        balloon = after_to_before.map(QPointF(pin.balloon_x * wide, pin.balloon_y * high))
        found.append(
            photo_view.ViewPin(
                number=number,
                spot=(spot.x(), spot.y()),
                balloon=(balloon.x(), balloon.y()),
                text=subject.words,
                mark=subject.mark,
            )
        )
    return found
