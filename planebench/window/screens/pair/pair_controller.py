"""The alignment of the pair: computed once, nudged by hand, compared, carried over, new finish."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QObject, QPointF, QTimer, Signal

from planebench.catalog.changes import Changes
from planebench.catalog.ids import PairId
from planebench.catalog.pair_alignment import (
    PairAlignment,
    align_by_points,
    alignment_from_json,
    pair_alignment,
    save_alignment,
)
from planebench.catalog.pair_copying import copy_outlines, copy_pins
from planebench.catalog.readings import NewReading
from planebench.catalog.values import Json, Photograph, ReadingArea
from planebench.errors import InputError, PlanebenchError
from planebench.photo.align import AlignmentQuality
from planebench.photo.change_mask import change_mask
from planebench.photo.homography import Points
from planebench.photo.outline import mask_contours
from planebench.trade.shares import Share
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead
from planebench.window.screens.pair.pair_model import PairModel, PairPictures, SurfaceChange

_EDGE_PX = 1200


def new_finish_reading(
    model: PairModel, change: SurfaceChange, alignment: PairAlignment | None
) -> NewReading | None:
    """Return the finished reading with the gain as new finish; None without two readings."""
    if change.found is None or change.finished is None:
        return None
    gained = change.gained
    old = change.finished
    areas = tuple(
        _with_new_finish(model, change, alignment, one) if one.photograph == model.after.id else one
        for one in old.areas
    )
    return NewReading(
        tool=model.tool.id,
        surface=change.surface.id,
        stage=old.stage,
        share=old.share,
        rust=change.rust,
        new_finish=Share(value=gained.value, low=gained.low, high=gained.high, basis=gained.basis),
        method=old.method,
        note=old.note,
        areas=areas,
    )


def _with_new_finish(
    model: PairModel, change: SurfaceChange, alignment: PairAlignment | None, area: ReadingArea
) -> ReadingArea:
    """Return an area where losses as found that are no longer lost are marked as new finish."""
    found = () if change.found is None else change.found.areas
    if alignment is None or alignment.quality is AlignmentQuality.NONE:
        return area
    was = [ring for one in found if one.photograph == model.before.id for ring in _lost(one.share)]
    carried = [alignment.carry(ring) for ring in was]
    rings = _less(carried, _lost(area.share), model.after)
    return replace(area, share={**area.share, "new_finish": rings})


def _less(
    rings: list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]],
    without: list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]],
    photograph: Photograph,
) -> list[list[list[float]]]:
    """Return the rings, in pixels, around what is inside `rings` but not inside `without`."""
    times = min(1.0, _EDGE_PX / max(photograph.width, photograph.height))
    size = (round(photograph.height * times), round(photograph.width * times))
    mask = np.zeros(size, dtype=np.uint8)
    for some, value in ((rings, 1), (without, 0)):
        for ring in some:
            cv2.fillPoly(mask, [np.rint(ring * times).astype(np.int32)], value)
    whole = max(1, int(np.count_nonzero(mask)))
    found = mask_contours(mask > 0, whole)
    return [[[round(x / times, 1), round(y / times, 1)] for x, y in ring] for ring in found]


def _lost(share: Json) -> list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    rings = share.get("lost")
    return [np.array(ring, dtype=np.float64) for ring in rings] if isinstance(rings, list) else []


_SETTLE_MS = 600


class AlignmentController(QObject):
    """Holds the alignment of the pair shown.

    Signals: `changed()` when it is known or nudged; `compared(mask)` with what changed;
    `failed(str)` why the two could not be aligned.
    """

    changed = Signal()
    compared = Signal(object)
    failed = Signal(str)

    def __init__(self, context: ScreenContext, parent: QObject) -> None:
        super().__init__(parent)
        self.alignment: PairAlignment | None = None
        self._computed: PairAlignment | None = None
        self._context = context
        self._model: PairModel | None = None
        self._comparing = LatestRead(context.jobs, self)
        self._is_compared = False
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self._save)

    @property
    def trusted(self) -> bool:
        """Whether the alignment is good enough to copy anything."""
        return self.alignment is not None and self.alignment.quality is not AlignmentQuality.NONE

    def show(self, model: PairModel) -> None:
        """Show what the catalog has; a nudge not saved yet is newer and stays."""
        first, self._model = self._model is None, model
        if not self._settle.isActive():
            self.alignment = alignment_from_json(model.pair.alignment) or self._computed
        if self.alignment is None and (first or self._computed is None):
            self._align(model)

    def forget(self) -> None:
        """Forget the pair; save a pending nudge first."""
        self.settle()
        self.alignment = self._computed = self._model = None
        self._is_compared = False

    def nudge(self, by: QPointF) -> None:
        """Move the photograph after by (x, y) pixels of the one before."""
        if self.alignment is None or self._model is None:
            return
        # The photograph after moves one way, so its match of a point before moves the other way.
        times = self._model.after.width / self._model.before.width
        self.alignment = self.alignment.nudged(-by.x() * times, -by.y() * times)
        self._is_compared = False
        self._settle.start()
        self.changed.emit()

    def settle(self) -> None:
        """Save a pending nudge now."""
        if self._settle.isActive():
            self._settle.stop()
            self._save()

    def compare(self, pictures: PairPictures | None) -> None:
        """Compute what changed, unless it is known; takes about a second."""
        alignment = self.alignment
        if self._is_compared or pictures is None or alignment is None or not self.trusted:
            return
        self._comparing.ask(
            lambda _job: change_mask(
                pictures.before_rgb, pictures.after_rgb, alignment.nudged_warp
            ),
            done=self._compared,
        )

    def carry(self, *, pins: bool) -> None:
        """Copy pins, or else outlines, to the photograph after."""
        alignment, model, catalog = self.alignment, self._model, self._context.catalog
        if alignment is None or model is None:
            return

        def work(_job: Job) -> tuple[int, Changes]:
            if pins:
                return copy_pins(catalog, alignment, model.before, model.after)
            return copy_outlines(catalog, alignment, model.outlines_before, model.after)

        what = "pins" if pins else "outlines"
        self._context.jobs.edit(work, done=lambda answer: self._carried(what, *answer), owner=self)

    def write_new_finish(self, change: SurfaceChange) -> None:
        """Record the gain on a surface as new finish."""
        model, catalog = self._model, self._context.catalog
        new = None if model is None else new_finish_reading(model, change, self.alignment)
        if new is not None:
            self._context.jobs.edit(
                lambda _job: catalog.readings.add(new),
                done=lambda added: self._context.edits.happened.emit(added.changes),
            )

    def align_by_points(self, source: Points, target: Points) -> None:
        """Align by clicked points, N x 2 each, in pixels before and after; save the result."""
        model = self._model
        if model is None:
            return
        try:
            self.alignment = align_by_points(model.before, source, target)
        except InputError as error:
            self._context.notices.trouble(error)
            return
        self._is_compared = False
        self._save()

    def reset(self) -> None:
        """Forget what a person set and use the computed alignment again."""
        model, catalog = self._model, self._context.catalog
        if model is not None:
            self._settle.stop()
            self._context.jobs.edit(
                lambda _job: catalog.pairs.set_alignment(model.pair.id, None),
                done=self._context.edits.happened.emit,
            )

    def _align(self, model: PairModel) -> None:
        catalog, pair = self._context.catalog, model.pair
        self._context.jobs.read(
            lambda job: pair_alignment(catalog, pair, job.step),
            done=lambda alignment: self._aligned(pair.id, alignment),
            failed=self._alignment_failed,
            owner=self,
            text="Aligning the two photographs",
        )

    def _aligned(self, pair: PairId, alignment: PairAlignment) -> None:
        if self._model is not None and pair == self._model.pair.id:
            self.alignment = self._computed = alignment
            self.changed.emit()

    def _alignment_failed(self, error: Exception) -> None:
        if isinstance(error, PlanebenchError):
            self.failed.emit(f"{error.happened} {error.remedy}")
        else:
            self._context.notices.trouble(error)

    def _compared(self, mask: NDArray[np.uint8]) -> None:
        self._is_compared = True
        self.compared.emit(mask)

    def _save(self) -> None:
        alignment, model, catalog = self.alignment, self._model, self._context.catalog
        if alignment is None or model is None:
            return
        self._context.jobs.edit(
            lambda _job: save_alignment(catalog, model.pair.id, alignment),
            done=self._context.edits.happened.emit,
        )
        self.changed.emit()

    def _carried(self, what: str, count: int, changes: Changes) -> None:
        self._context.edits.happened.emit(changes)
        if not count:
            self._context.notices.advise(f"All {what} are on the other photograph already.")
