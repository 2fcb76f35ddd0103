"""The scale of a photographed plane: found from known points, and how sure it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planebench.trade.geometry import Matrix, Points, homography, line_map, mapped

PLACING_PX = 1.0
"""How far off a person sets a point on a photograph, one standard deviation (an assumption)."""

RULER_ERROR = 0.0005
"""How far off a ruler's own marks are, as a share, one standard deviation (an assumption)."""

LEAN_DEG = 15.0
"""How far a camera leans off the upright where nothing shows it, one standard deviation."""

_FOCAL_BY_SPAN = 1.5
_TWO = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoScale:
    """A map from pixels to millimeters on one plane, with its doubt.

    `doubts` are the maps that would come out if one of the givens were off by one standard
    deviation, one map for each: whatever is measured is measured by these too, and the differences
    add up as squares. `corrects_tilt` tells whether perspective is taken out, or the camera is
    taken to look straight down.
    """

    px_to_mm: Matrix
    doubts: tuple[Matrix, ...]
    corrects_tilt: bool

    def to_mm(self, points: Points) -> Points:
        """Take N x 2 points in pixels to millimeters on the plane."""
        return mapped(self.px_to_mm, points)

    def mm_per_px(self, at: Points) -> float:
        """Return the mean length of a pixel at one place (x, y), in millimeters."""
        around = at + np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
        here, right, below = self.to_mm(around)
        (a, b), (c, d) = right - here, below - here
        return float(np.sqrt(abs(a * d - b * c)))


def scale_by_matrix(px_to_mm: Matrix, *, error: float, corrects_tilt: bool = True) -> PhotoScale:
    """Take over a map found otherwise, such as a scale card's; `error` is its doubt as a share."""
    return PhotoScale(
        px_to_mm=px_to_mm, doubts=(_stretched(px_to_mm, error),), corrects_tilt=corrects_tilt
    )


def scale_by_points(px: Points, mm: Points, *, placing_px: float = PLACING_PX) -> PhotoScale:
    """Find the scale from four or more points whose places on the plane are known."""
    return _doubted(lambda points: homography(points, mm), px, placing_px, corrects_tilt=True)


def scale_by_rectangle(
    corners_px: Points, *, width_mm: float, height_mm: float, placing_px: float = PLACING_PX
) -> PhotoScale:
    """Find the scale from a known rectangle's corners: top left, top right, bottom right, left."""
    corners = [(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)]
    return scale_by_points(corners_px, np.array(corners), placing_px=placing_px)


def scale_by_two_points(
    px: Points,
    *,
    apart_mm: float,
    placing_px: float = PLACING_PX,
    focal_px: float | None = None,
) -> PhotoScale:
    """Find the scale from two points a known distance apart, as if seen from straight above."""
    marks = np.array([0.0, apart_mm])
    return scale_by_ruler(px, marks, placing_px=placing_px, focal_px=focal_px)


def scale_by_ruler(
    px: Points,
    marks_mm: NDArray[np.float64],
    *,
    placing_px: float = PLACING_PX,
    focal_px: float | None = None,
) -> PhotoScale:
    """Find the scale from two or more marks of a ruler lying on the plane.

    From three marks on, perspective along the ruler is taken out. Across it the scale is that of
    the ruler's middle, for a ruler does not show how the camera leans to its side: what is measured
    there is unsure by a lean of LEAN_DEG. Without `focal_px`, it is taken as 1.5 times the span.
    """
    span = float(np.linalg.norm(np.ptp(px, axis=0)))
    rise = float(np.sin(np.radians(LEAN_DEG))) / (focal_px or _FOCAL_BY_SPAN * span)
    placed = _doubted(
        lambda points: _by_line(points, marks_mm, _Lean()), px, placing_px, corrects_tilt=False
    )
    leans = [_Lean(stretch=1 / float(np.cos(np.radians(LEAN_DEG)))), _Lean(across=rise)]
    if len(px) == _TWO:
        leans.append(_Lean(along=rise))
    leaning = [_by_line(px, marks_mm, lean) for lean in leans]
    worn = _stretched(placed.px_to_mm, RULER_ERROR)
    return PhotoScale(
        px_to_mm=placed.px_to_mm, doubts=(*placed.doubts, worn, *leaning), corrects_tilt=False
    )


def along_ruler(px: Points) -> Points:
    """Return a ruler's marks, N x 2 in pixels, in their order along it, however they were set."""
    middle = px.mean(axis=0)
    direction = np.linalg.svd(px - middle)[2][0]
    if direction @ (px[-1] - px[0]) < 0:
        direction = -direction
    return px[np.argsort((px - middle) @ direction)]


def ruler_misses(scale: PhotoScale, px: Points, marks_mm: NDArray[np.float64]) -> float:
    """Return by how much the marks miss their places along the ruler, root mean square in mm.

    The line through two marks, and with perspective through three, misses none: from four on it
    tells whether one was set wrong or left out.
    """
    return float(np.sqrt(np.mean((scale.to_mm(px)[:, 0] - marks_mm) ** 2)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lean:
    """What a ruler does not show: foreshortening across it, and how scale changes by the pixel."""

    stretch: float = 1.0
    across: float = 0.0
    along: float = 0.0


def _by_line(px: Points, marks_mm: NDArray[np.float64], lean: _Lean) -> Matrix:
    px = px.astype(np.float64)
    middle = px.mean(axis=0)
    direction = np.linalg.svd(px - middle)[2][0]
    if (px[-1] - px[0]) @ direction * (marks_mm[-1] - marks_mm[0]) < 0:
        direction = -direction
    along = (px - middle) @ direction
    if lean.along:
        c = lean.along
        a, b = np.polyfit(along, marks_mm * (c * along + 1), 1).tolist()
    else:
        a, b, c = line_map(along, marks_mm)
    turn = np.array([[*direction, 0], [-direction[1], direction[0], 0], [0, 0, 1.0]])
    move = np.array([[1, 0, -middle[0]], [0, 1, -middle[1]], [0, 0, 1.0]])
    line = np.array([[a, 0, b], [0, (a - b * c) * lean.stretch, 0], [c, lean.across, 1.0]])
    # The line square to the ruler at its middle stays so where scale changes across it.
    line[0, 1] = b * lean.across
    matrix = line @ turn @ move
    return np.asarray(matrix / matrix[2, 2])


def _doubted(
    found: Callable[[Points], Matrix], px: Points, placing_px: float, *, corrects_tilt: bool
) -> PhotoScale:
    """Find the scale, and again with each coordinate of each point off by as much as it may be."""
    doubts = []
    for place in range(px.size):
        off = px.astype(np.float64).copy()
        off.flat[place] += placing_px
        doubts.append(found(off))
    return PhotoScale(
        px_to_mm=found(px.astype(np.float64)), doubts=tuple(doubts), corrects_tilt=corrects_tilt
    )


def _stretched(px_to_mm: Matrix, error: float) -> Matrix:
    return np.diag([1 + error, 1 + error, 1.0]) @ px_to_mm
