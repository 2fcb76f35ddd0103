"""Writing down that what was gained on a surface is new finish, with where it lies."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np

from planebench.catalog.readings import NewReading
from planebench.catalog.values import Json, Photograph, ReadingArea
from planebench.photo.align import AlignmentQuality
from planebench.photo.outline import mask_contours
from planebench.trade.shares import Share
from planebench.window.pair_alignment import PairAlignment
from planebench.window.screens.pair.model import Change, PairShown

_EDGE_PX = 1200


def new_finish_reading(
    shown: PairShown, change: Change, laid: PairAlignment | None
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
    shown: PairShown, change: Change, laid: PairAlignment | None, area: ReadingArea
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
