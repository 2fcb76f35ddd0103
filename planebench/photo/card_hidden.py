"""Finds a card's markers that the detector missed: in shadow, smeared or partly covered."""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_layout import MARKER_MM, MARKERS_AT, marker_cells, marker_corners
from planebench.photo.projective import Matrix, Points, mapped

_PX_PER_MM = 6
_AROUND_MM = 4.0
# A print in shadow correlates at 0.7 and more with its drawing; wood and cloth stay below 0.4.
_ALIKE = 0.6
_LOCAL_MM = 3.0


def missed_markers(
    gray: NDArray[np.uint8], matrix: Matrix, seen: frozenset[int]
) -> dict[int, Points]:
    """Look where the card's plan puts the markers not in `seen`; give their 4 x 2 corners in px."""
    found = {}
    for number in sorted(set(range(4)) - seen):
        corners = _found(gray, matrix, number)
        if corners is not None:
            found[number] = corners
    return found


def _found(gray: NDArray[np.uint8], matrix: Matrix, number: int) -> Points | None:
    x, y = MARKERS_AT[number]
    corner = np.array([x - _AROUND_MM, y - _AROUND_MM])
    flat = _flattened(gray, matrix, corner)
    if flat is None:
        return None
    match = cv2.matchTemplate(flat, _drawing(number), cv2.TM_CCOEFF_NORMED)
    _, alike, _, (column, row) = cv2.minMaxLoc(match)
    if alike < _ALIKE:
        return None
    moved = np.array([column, row]) / _PX_PER_MM - _AROUND_MM
    return mapped(matrix, marker_corners(number) + moved)


def _flattened(
    gray: NDArray[np.uint8], matrix: Matrix, corner: Points
) -> NDArray[np.float32] | None:
    """Lay the surroundings of a marker flat, with light and shadow evened out."""
    side = round((MARKER_MM + 2 * _AROUND_MM) * _PX_PER_MM)
    to_mm = np.array([[1 / _PX_PER_MM, 0, corner[0]], [0, 1 / _PX_PER_MM, corner[1]], [0, 0, 1]])
    ends = mapped(matrix @ to_mm, np.array([[0.0, 0], [side, 0], [side, side], [0, side]]))
    if (ends.max(axis=0) < 0).any() or (ends.min(axis=0) > gray.shape[1::-1]).any():
        return None
    flat = cv2.warpPerspective(
        gray,
        matrix @ to_mm,
        (side, side),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return _evened(flat)


@cache
def _drawing(number: int) -> NDArray[np.float32]:
    side = round(MARKER_MM * _PX_PER_MM)
    margin = round(_LOCAL_MM * _PX_PER_MM)
    cells = marker_cells(number).astype(np.uint8) * 200 + 30
    drawn = cv2.resize(cells, (side, side), interpolation=cv2.INTER_NEAREST)
    paper = np.pad(drawn, margin, constant_values=230)
    return _evened(paper)[margin:-margin, margin:-margin].copy()


def _evened(gray: cv2.typing.MatLike) -> NDArray[np.float32]:
    """Take slow changes of light away: the logarithm less its own surroundings."""
    light = np.log(np.asarray(gray, dtype=np.float32) + 4)
    around = cv2.GaussianBlur(light, (0, 0), _LOCAL_MM * _PX_PER_MM / 2)
    return np.asarray(light - around, dtype=np.float32)
