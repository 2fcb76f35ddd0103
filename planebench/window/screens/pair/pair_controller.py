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
    alignment_from_json,
    carry_outlines,
    carry_pins,
    pair_alignment,
    save_alignment,
)
from planebench.catalog.readings import NewReading
from planebench.catalog.values import Json, Photograph, ReadingArea
from planebench.errors import PlanebenchError
from planebench.photo.align import AlignmentQuality
from planebench.photo.change_mask import change_mask
from planebench.photo.outline import mask_contours
from planebench.trade.shares import Share
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead
from planebench.window.screens.pair.pair_model import PairModel, PairPictures, SurfaceChange

_EDGE_PX = 1200


def new_finish_reading(
    shown: PairModel, change: SurfaceChange, laid: PairAlignment | None
) -> NewReading | None:
    """Compose the finished reading anew, with what was gained as new finish; None without two."""
    if change.found is None or change.finished is None:
        return None
    gained = change.gained
    old = change.finished
    areas = tuple(
        _with_new_finish(shown, change, laid, one) if one.photograph == shown.after.id else one
        for one in old.areas
    )
    return NewReading(
        tool=shown.tool.id,
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
    shown: PairModel, change: SurfaceChange, laid: PairAlignment | None, area: ReadingArea
) -> ReadingArea:
    """Lay what was lost as found on the finished photograph; what is not lost there is new."""
    found = () if change.found is None else change.found.areas
    if laid is None or laid.trust is AlignmentQuality.NONE:
        return area
    was = [ring for one in found if one.photograph == shown.before.id for ring in _lost(one.share)]
    carried = [laid.carry(ring) for ring in was]
    rings = _less(carried, _lost(area.share), shown.after)
    return replace(area, share={**area.share, "new_finish": rings})


def _less(
    rings: list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]],
    without: list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]],
    photograph: Photograph,
) -> list[list[list[float]]]:
    """Return the rings round what the first hold and the others do not."""
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
    """Holds how the pair shown lies together.

    Signals: `changed()` when that is known or was nudged; `compared(mask)` with what changed;
    `failed(str)` why the two could not be laid on each other.
    """

    changed = Signal()
    compared = Signal(object)
    failed = Signal(str)

    def __init__(self, given: ScreenContext, parent: QObject) -> None:
        super().__init__(parent)
        self.laid: PairAlignment | None = None
        self._given = given
        self._shown: PairModel | None = None
        self._comparing = LatestRead(given.jobs, self)
        self._is_compared = False
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self._keep_nudge)

    @property
    def trusted(self) -> bool:
        """Whether the two lie so that something can be carried over."""
        return self.laid is not None and self.laid.trust is not AlignmentQuality.NONE

    def show(self, shown: PairModel) -> None:
        """Take over what the catalog has; a nudge not yet written is newer and stays."""
        first, self._shown = self._shown is None, shown
        if not self._settle.isActive():
            self.laid = alignment_from_json(shown.pair.alignment) or self.laid
        if first and self.laid is None:
            self._reckon(shown)

    def forget(self) -> None:
        """Forget the pair; a nudge not yet written is written."""
        self.settle()
        self.laid, self._shown, self._is_compared = None, None, False

    def nudge(self, by: QPointF) -> None:
        """Move the photograph after by so many pixels of the one before."""
        if self.laid is None or self._shown is None:
            return
        # What lies at a spot before is found at another place after, against the way it moved.
        times = self._shown.after.width / self._shown.before.width
        self.laid = self.laid.nudged(-by.x() * times, -by.y() * times)
        self._is_compared = False
        self._settle.start()
        self.changed.emit()

    def settle(self) -> None:
        """Write a nudge down now."""
        if self._settle.isActive():
            self._settle.stop()
            self._keep_nudge()

    def compare(self, pictures: PairPictures | None) -> None:
        """Find what changed, unless that is known; it takes about a second."""
        laid = self.laid
        if self._is_compared or pictures is None or laid is None or not self.trusted:
            return
        self._comparing.ask(
            lambda _job: change_mask(pictures.before_rgb, pictures.after_rgb, laid.nudged_warp),
            done=self._compared,
        )

    def carry(self, *, pins: bool) -> None:
        """Carry pins, or else outlines, to the photograph after."""
        laid, shown, catalog = self.laid, self._shown, self._given.catalog
        if laid is None or shown is None:
            return

        def work(_job: Job) -> tuple[int, Changes]:
            if pins:
                return carry_pins(catalog, laid, shown.before, shown.after)
            return carry_outlines(catalog, laid, shown.outlines_before, shown.after)

        what = "pins" if pins else "outlines"
        self._given.jobs.edit(work, done=lambda answer: self._carried(what, *answer), owner=self)

    def write_new_finish(self, change: SurfaceChange) -> None:
        """Write down that what was gained on a surface is new finish."""
        shown, catalog = self._shown, self._given.catalog
        new = None if shown is None else new_finish_reading(shown, change, self.laid)
        if new is not None:
            self._given.jobs.edit(
                lambda _job: catalog.readings.add(new),
                done=lambda added: self._given.edits.happened.emit(added.changes),
            )

    def _reckon(self, shown: PairModel) -> None:
        catalog, pair = self._given.catalog, shown.pair
        self._given.jobs.edit(
            lambda job: pair_alignment(catalog, pair, job.step),
            done=lambda answer: self._reckoned(pair.id, *answer),
            failed=self._not_laid,
            owner=self,
            text="Laying the two photographs on each other",
        )

    def _reckoned(self, pair: PairId, laid: PairAlignment, changes: Changes) -> None:
        if self._shown is not None and pair == self._shown.pair.id:
            self.laid = laid
            self.changed.emit()
        self._given.edits.happened.emit(changes)

    def _not_laid(self, error: Exception) -> None:
        if isinstance(error, PlanebenchError):
            self.failed.emit(f"{error.happened} {error.remedy}")
        else:
            self._given.notices.trouble(error)

    def _compared(self, mask: NDArray[np.uint8]) -> None:
        self._is_compared = True
        self.compared.emit(mask)

    def _keep_nudge(self) -> None:
        laid, shown, catalog = self.laid, self._shown, self._given.catalog
        if laid is None or shown is None:
            return
        self._given.jobs.edit(
            lambda _job: save_alignment(catalog, shown.pair.id, laid),
            done=self._given.edits.happened.emit,
        )
        self.changed.emit()

    def _carried(self, what: str, count: int, changes: Changes) -> None:
        self._given.edits.happened.emit(changes)
        if not count:
            self._given.notices.advise(f"There were no {what} to carry over that are not there.")
