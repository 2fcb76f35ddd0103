"""Plane geometry: polygons with holes, circles, and the map between a photograph and a plane."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Matrix = NDArray[np.float64]

_LEAST_CORNERS = 3
_LEAST_PAIRS = 4
_THIN = 1e-9


def mapped(matrix: Matrix, points: Points) -> Points:
    """Take N x 2 points through a 3 x 3 homography."""
    ends = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    return np.asarray(ends[:, :2] / ends[:, 2:])


def ring_area(ring: Points) -> float:
    """Return the signed area of a closed ring of N x 2 corners (Gauss's area formula).

    Positive if it runs counter-clockwise with y up, clockwise with y down.
    """
    x, y = (ring - ring[0]).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def area(outer: Points, holes: Sequence[Points] = ()) -> float:
    """Return the area inside `outer` and outside its holes, whichever way the rings run."""
    return abs(ring_area(outer)) - sum(abs(ring_area(hole)) for hole in holes)


def homography(source: Points, target: Points) -> Matrix:
    """Find the map that takes N x 2 source points to target points, N at least 4.

    The direct linear transform on normalized points (Hartley and Zisserman, Multiple View
    Geometry, algorithm 4.2); exact for four, least squares for more. ValueError if three of four
    lie on a line, or all but one of more.
    """
    if len(source) < _LEAST_PAIRS or source.shape != target.shape:
        raise ValueError(f"a plane needs four points or more, not {len(source)}")
    from_unit, to_unit = _unit(source), _unit(target)
    a, b = mapped(from_unit, source), mapped(to_unit, target)
    one, zeros = np.ones((len(a), 1)), np.zeros((len(a), 3))
    plain = np.hstack((a, one))
    upper = np.hstack((plain, zeros, -b[:, :1] * plain))
    lower = np.hstack((zeros, plain, -b[:, 1:] * plain))
    _, sizes, rows = np.linalg.svd(np.vstack((upper, lower)))
    matrix = np.linalg.inv(to_unit) @ rows[-1].reshape(3, 3) @ from_unit
    if sizes[7] < _THIN * sizes[0] or abs(np.linalg.det(rows[-1].reshape(3, 3))) < _THIN:
        raise ValueError("the points lie on a line and do not fix a plane")
    return np.asarray(matrix / matrix[2, 2])


def line_map(along: NDArray[np.float64], marks: NDArray[np.float64]) -> tuple[float, float, float]:
    """Find a, b, c so that mark = (a t + b) / (c t + 1): a line seen in perspective.

    Three marks fix it (their cross-ratio with a fourth is what a photograph keeps), more are
    fitted by least squares; two give the map without perspective. `along` is in pixels.
    """
    middle, spread = float(along.mean()), float(np.ptp(along)) / 2
    if spread < _THIN:
        raise ValueError("the marks lie on one spot")
    t = (along - middle) / spread
    if len(t) < _LEAST_CORNERS:
        slope, start = np.polyfit(t, marks, 1)
        a, b, c = float(slope), float(start), 0.0
    else:
        rows = np.column_stack((t, np.ones(len(t)), -t * marks))
        a, b, c = np.linalg.lstsq(rows, marks, rcond=None)[0].tolist()
    # Back from t to pixels: (a (p - m) / s + b) / (c (p - m) / s + 1).
    below = 1 - c * middle / spread
    return a / spread / below, (b - a * middle / spread) / below, c / spread / below


def circle_through(points: Points) -> tuple[Points, float]:
    """Fit a circle to N x 2 points on its rim: center and radius, N at least 3.

    Kasa's algebraic fit, then Gauss-Newton on the distances from the rim. ValueError if the
    points lie on a line.
    """
    if len(points) < _LEAST_CORNERS:
        raise ValueError(f"a circle needs three points of its rim, not {len(points)}")
    middle = points.mean(axis=0)
    near = points - middle
    rows = np.column_stack((2 * near, np.ones(len(near))))
    if np.linalg.matrix_rank(rows, tol=_THIN * np.abs(rows).max()) < _LEAST_CORNERS:
        raise ValueError("the points lie on a line, which is no circle")
    x, y, rest = np.linalg.lstsq(rows, (near**2).sum(axis=1), rcond=None)[0]
    center, radius = np.array([x, y]), float(np.sqrt(rest + x * x + y * y))
    for _ in range(8):
        away = near - center
        far = np.linalg.norm(away, axis=1)
        slopes = np.column_stack((-away / far[:, None], -np.ones(len(far))))
        step = np.linalg.lstsq(slopes, radius - far, rcond=None)[0]
        center, radius = center + step[:2], radius + float(step[2])
    return np.asarray(center + middle), radius


def tilt_degrees(px_to_mm: Matrix, *, focal_px: float, middle_px: tuple[float, float]) -> float:
    """Return the angle between the camera's axis and the plane's upright, 0 to 90.

    For a pinhole camera with square pixels: the plane's two axes, seen from the lens, span its
    direction (Zhang 2000, section 2.3).
    """
    camera = np.array([[focal_px, 0, middle_px[0]], [0, focal_px, middle_px[1]], [0, 0, 1.0]])
    axes = np.linalg.inv(camera) @ np.linalg.inv(px_to_mm)
    upright = np.cross(axes[:, 0], axes[:, 1])
    return float(np.degrees(np.arccos(min(1.0, abs(upright[2]) / float(np.linalg.norm(upright))))))


def _unit(points: Points) -> Matrix:
    """Return the map that moves points about the origin and to a mean distance of root two."""
    middle = points.mean(axis=0)
    far = float(np.linalg.norm(points - middle, axis=1).mean())
    if far < _THIN:
        raise ValueError("the points lie on one spot")
    scale = np.sqrt(2) / far
    return np.array([[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1.0]])
