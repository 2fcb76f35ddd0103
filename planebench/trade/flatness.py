"""How flat a sole is: the minimum zone exactly, the least-squares plane beside it, the verdict.

Names follow ISO 12781-1: FLTt is the peak-to-valley flatness deviation, FLTp and FLTv are the
highest peak and lowest valley from the least-squares plane, FLTq is the root mean square. The
minimum zone is the closest pair of parallel planes that hold all readings (ISO 1101).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from planebench.errors import InputError

SolePoints = NDArray[np.float64]
"""Readings as N x 3: x along the sole, y across it, z its height, all in millimeters."""

NINETY = 1.6449
"""Half a 90% interval in standard deviations of a normal spread."""

_LEAST_READINGS = 4
"""Three points lie in one plane whatever the sole is like."""

_COLLINEAR = 1e-9
"""Spread across the longest direction, as a share of the spread along it, that is no width at
all: far below what a ruler on a sole can tell, far above rounding."""

_PLANAR = 1e-12
"""Height range, as a share of the spread, below which only rounding is left."""

_ARC_SLACK = 1e-13
"""Edge pairs are let through this far (in radians) outside their arcs, so that rounding loses none.
Each is measured over all readings afterward, so one too many costs time and changes nothing; with
1e-9 a fine grid over a belly let through nearly all pairs and took 0.9 s instead of 0.03 s."""

_PAIRS_AT_ONCE = 4096
"""Directions measured in one matrix product: 4096 x 400 readings are 13 MB."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flatness:
    """Flatness of N readings, in millimeters.

    `heights` (N) stand above the least-squares plane, `zone_heights` (N) above the lower plane of
    the minimum zone. `contacts` are the four readings
    (or fewer, on a sole that is exactly flat) that touch the two planes of the zone, and
    `contact_weights` how the zone's width follows from their heights.
    """

    mz_mm: float
    ls_mm: float
    peak_mm: float
    valley_mm: float
    rms_mm: float
    heights: SolePoints
    zone_heights: SolePoints
    contacts: tuple[int, ...]
    contact_weights: tuple[float, ...]

    def within(self, step_mm: float) -> float:
        """Return half the 90% interval of the minimum zone when heights are read to a step.

        A reading between two leaves of a gauge lies anywhere in the step between them (uniform,
        step / sqrt(12)); the zone's width is a weighted sum of the readings that touch it.
        """
        spread = step_mm / np.sqrt(12)
        weights = np.array(self.contact_weights)
        return float(NINETY * spread * np.sqrt((weights**2).sum()))


class FlatnessVerdict(StrEnum):
    """What a measured flatness says of a tolerance."""

    WITHIN = "within"
    OUTSIDE = "outside"
    TOO_CLOSE = "too_close"


def measure_flatness(points: SolePoints) -> Flatness:
    """Measure the flatness of N x 3 readings, N at least 4, not all on one line.

    Raises InputError naming the readings where there are too few, or they lie on a line.
    """
    points = np.asarray(points, dtype=np.float64)
    _check(points)
    center = points.mean(axis=0)
    _, sizes, axes = np.linalg.svd(points - center, full_matrices=False)
    normal = _upward(axes[2])
    heights = (points - center) @ normal
    zone = _narrowest(points, heights, normal, float(sizes[0]))
    along = points @ zone
    contacts, weights = _contacts(points, along)
    return Flatness(
        mz_mm=float(np.ptp(along)),
        ls_mm=float(np.ptp(heights)),
        peak_mm=float(heights.max()),
        valley_mm=float(-heights.min()),
        rms_mm=float(np.sqrt(np.mean(heights**2))),
        heights=heights,
        zone_heights=along - along.min(),
        contacts=contacts,
        contact_weights=weights,
    )


def judge_flatness(
    flatness: Flatness, *, plus_minus_mm: float, within_mm: float
) -> FlatnessVerdict:
    """Compare peak and valley with a tolerance either side of the mean plane.

    `within_mm` is how far the readings may be off; the verdict is given only where that changes
    nothing. Raises InputError for a tolerance that is not above zero.
    """
    if plus_minus_mm <= 0:
        raise InputError(
            f"The tolerance is ±{plus_minus_mm:g} mm.",
            remedy="Use one above zero, such as 0.04.",
            subject="tolerance",
        )
    worst = max(flatness.peak_mm, flatness.valley_mm)
    if worst + within_mm <= plus_minus_mm:
        return FlatnessVerdict.WITHIN
    return (
        FlatnessVerdict.OUTSIDE if worst - within_mm > plus_minus_mm else FlatnessVerdict.TOO_CLOSE
    )


def iron_to_remove(flatness: Flatness, *, zone_mm: float) -> SolePoints:
    """Return how much iron must come off at each reading, in mm, until the zone is `zone_mm`."""
    return np.maximum(flatness.zone_heights - zone_mm, 0.0)


def _check(points: SolePoints) -> None:
    if len(points) < _LEAST_READINGS:
        raise InputError(
            f"Flatness needs four readings or more; there are {len(points)}.",
            remedy="Measure more places: the corners, the mouth, the middle.",
            subject="readings",
        )
    if not np.isfinite(points).all():
        raise InputError(
            "A reading is not a number.", remedy="Check the file or the field.", subject="readings"
        )
    sizes = np.linalg.svd(points[:, :2] - points[:, :2].mean(axis=0), compute_uv=False)
    if sizes[1] <= _COLLINEAR * max(float(sizes[0]), 1e-300):
        raise InputError(
            "All readings lie on one line, so they show no surface.",
            remedy="Add readings to the side of the line.",
            subject="readings",
        )


def _upward(normal: SolePoints) -> SolePoints:
    return normal if normal[2] >= 0 else -normal


def _narrowest(
    points: SolePoints, heights: SolePoints, normal: SolePoints, spread: float
) -> SolePoints:
    """Return the unit normal along which all points fit between the closest two planes.

    The two planes touch the convex hull in a face and a vertex, or in two edges (Houle and
    Toussaint 1988, Computing the width of a set). Faces alone are not enough: a twisted sole
    would come out up to twice as uneven.
    """
    depth = float(np.ptp(heights))
    if depth <= _PLANAR * spread:
        return normal
    hull = ConvexHull(_spread_out(points, normal, depth, spread), qhull_options="Qt")
    faces = _face_normals(points, hull)
    corners = points[hull.vertices]
    widths = np.ptp(faces @ corners.T, axis=1)
    best = faces[int(widths.argmin())]
    better = _edge_pairs(points, hull, faces, normal, float(widths.min()))
    best = _narrower(better, corners, best)
    return _upward(best)


def _spread_out(points: SolePoints, normal: SolePoints, depth: float, spread: float) -> SolePoints:
    """Return the points stretched along the normal until they are about as deep as wide.

    Stretching keeps faces, edges and corners of the hull, and keeps Qhull from taking a sole
    flat to a hundredth of a millimeter for a plane.
    """
    away = (points - points.mean(axis=0)) @ normal
    return points + np.outer(away, normal) * max(spread / depth - 1.0, 0.0)


def _face_normals(points: SolePoints, hull: ConvexHull) -> SolePoints:
    """Return the outward unit normals (F x 3) of the hull's triangles, in true coordinates."""
    a, b, c = (points[hull.simplices[:, corner]] for corner in range(3))
    normals = np.cross(b - a, c - a)
    lengths = np.linalg.norm(normals, axis=1)
    thin = lengths <= 0
    normals[~thin] /= lengths[~thin, None]
    inside = points.mean(axis=0)
    inward = np.einsum("ij,ij->i", normals, a - inside) < 0
    normals[inward] *= -1
    return normals


def _edge_pairs(
    points: SolePoints, hull: ConvexHull, faces: SolePoints, axis: SolePoints, limit: float
) -> SolePoints:
    """Return unit normals (P x 3) of the edge pairs that face each other closer than `limit`.

    An edge is touched by planes whose normals lie on the arc between those of its two faces; two
    edges can be touched at once where one arc crosses the other turned over. Of such two, one
    has a face that looks up along `axis`, and the other one that looks down. Sorted by width.
    """
    edges = _Edges.of(points, hull, faces)
    rises = np.stack((edges.a @ axis, edges.b @ axis))
    above, below = edges.some(rises.max(axis=0) >= 0), edges.some(rises.min(axis=0) <= 0)
    crossing = above.splits(below) & below.splits(above).T
    crossing &= (above.a + above.b) @ (below.a + below.b).T <= 0
    first, second = np.nonzero(crossing)
    normals = np.cross(above.directions[first], below.directions[second])
    lengths = np.linalg.norm(normals, axis=1)
    kept = lengths > 0
    first, second, normals = first[kept], second[kept], normals[kept] / lengths[kept, None]
    gaps = np.abs(np.einsum("ij,ij->i", normals, above.starts[first] - below.starts[second]))
    near = np.flatnonzero(gaps < limit)
    return np.asarray(normals[near[np.argsort(gaps[near])]])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edges:
    """Edges of a hull: a point and the direction of each, and the normals of its two faces."""

    starts: SolePoints
    directions: SolePoints
    a: SolePoints
    b: SolePoints

    @classmethod
    def of(cls, points: SolePoints, hull: ConvexHull, faces: SolePoints) -> _Edges:
        """Return the edges between faces that do not lie in one plane; the faces cover those."""
        starts, ends, one, other = _edges(hull)
        bent = np.linalg.norm(np.cross(faces[one], faces[other]), axis=1) > _ARC_SLACK
        starts, ends = points[starts[bent]], points[ends[bent]]
        return cls(
            starts=starts, directions=ends - starts, a=faces[one[bent]], b=faces[other[bent]]
        )

    def some(self, which: NDArray[np.bool_]) -> _Edges:
        """Return the edges chosen by a mask."""
        return _Edges(
            starts=self.starts[which],
            directions=self.directions[which],
            a=self.a[which],
            b=self.b[which],
        )

    def splits(self, others: _Edges) -> NDArray[np.bool_]:
        """Return whether the great circle of each arc has the ends of each other on two sides."""
        poles = np.cross(self.a, self.b)
        poles /= np.linalg.norm(poles, axis=1, keepdims=True)
        sides_a, sides_b = poles @ others.a.T, poles @ others.b.T
        low, high = np.minimum(sides_a, sides_b), np.maximum(sides_a, sides_b)
        return np.asarray((low <= _ARC_SLACK) & (high >= -_ARC_SLACK))


def _edges(
    hull: ConvexHull,
) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.intp], NDArray[np.intp]]:
    """Return the hull's edges: both ends, and both faces, each edge once."""
    count = len(hull.simplices)
    faces = np.repeat(np.arange(count), 3)
    neighbors = hull.neighbors.ravel()
    # The neighbor number k of a simplex lies across from its corner number k.
    ends = np.stack([np.delete(np.arange(3), corner) for corner in range(3)])
    corners = hull.simplices[:, ends].reshape(-1, 2)
    once = faces < neighbors
    return corners[once, 0], corners[once, 1], faces[once], neighbors[once]


def _narrower(normals: SolePoints, corners: SolePoints, best: SolePoints) -> SolePoints:
    """Return the normal of least width over all corners, `best` where none of them is narrower."""
    width = float(np.ptp(corners @ best))
    for start in range(0, len(normals), _PAIRS_AT_ONCE):
        widths = np.ptp(normals[start : start + _PAIRS_AT_ONCE] @ corners.T, axis=1)
        place = int(widths.argmin())
        if widths[place] < width:
            width, best = float(widths[place]), normals[start + place]
    return best


def _contacts(points: SolePoints, along: SolePoints) -> tuple[tuple[int, ...], tuple[float, ...]]:
    """Return the readings that touch the zone's planes, and the weight of each in its width.

    The width is the height of a point of the upper contacts' hull over the same point of the
    lower ones' hull; the weights place that point. Upper weights sum to 1, lower ones to -1.
    """
    reach = max(float(np.ptp(along)) * 1e-6, 1e-12)
    top = np.flatnonzero(along >= along.max() - reach)
    low = np.flatnonzero(along <= along.min() + reach)
    if set(top) & set(low):
        return tuple(range(len(points))), (1.0 / np.sqrt(len(points)),) * len(points)
    weights = _balance(points[top, :2], points[low, :2])
    return tuple(int(n) for n in (*top, *low)), tuple(weights)


def _balance(top: SolePoints, low: SolePoints) -> Sequence[float]:
    """Return weights that put the upper contacts' mean over the lower ones', as even as can be."""
    count = len(top) + len(low)
    rows = np.zeros((4, count))
    rows[:2, : len(top)], rows[:2, len(top) :] = top.T, low.T
    rows[2, : len(top)] = 1.0
    rows[3, len(top) :] = -1.0
    return [float(w) for w in np.linalg.lstsq(rows, np.array([0.0, 0, 1, 1]), rcond=None)[0]]
