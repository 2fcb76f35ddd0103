"""Homographies: maps between the card's plane and the picture."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Matrix = NDArray[np.float64]
Points = NDArray[np.float64]


def mapped(matrix: Matrix, points: Points) -> Points:
    """Map N x 2 points by a 3 x 3 homography."""
    ends = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    return np.asarray(ends[:, :2] / ends[:, 2:], dtype=np.float64)


def slopes(matrix: Matrix, points: Points) -> NDArray[np.float64]:
    """Return the N x 2 x 2 derivatives of the mapped points by the points."""
    ends = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    top = matrix[:2, :2][None] - (ends[:, :2] / ends[:, 2:])[:, :, None] * matrix[2, :2][None, None]
    return np.asarray(top / ends[:, 2][:, None, None], dtype=np.float64)


def growth_at(matrix: Matrix, points: Points) -> NDArray[np.float64]:
    """Return how much larger lengths come out at N x 2 points: the root of the growth of area."""
    return np.asarray(np.sqrt(np.abs(np.linalg.det(slopes(matrix, points)))), dtype=np.float64)


def fitted(source: Points, target: Points) -> Matrix | None:
    """Find the homography that takes N x 2 source points to target points, N at least 4."""
    # OpenCV gives None, against its own types, for points that allow no homography.
    found: object = cv2.findHomography(source, target, 0)[0]
    if not isinstance(found, np.ndarray) or not np.isfinite(found).all():
        return None
    return normalized(np.asarray(found, dtype=np.float64))


def inverse(matrix: Matrix) -> Matrix:
    """Turn a homography round."""
    return normalized(np.asarray(np.linalg.inv(matrix), dtype=np.float64))


def normalized(matrix: Matrix) -> Matrix:
    """Scale a homography so that its last figure is 1."""
    return np.asarray(matrix / matrix[2, 2], dtype=np.float64)


def area(corners: Points) -> float:
    """Return the area of a polygon; above nought if it runs clockwise with y down."""
    x, y = corners.T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def faces_us(matrix: Matrix, corners: Points) -> bool:
    """Tell whether a polygon, clockwise in its plane, is seen whole and from its own face."""
    ends = np.column_stack((corners, np.ones(len(corners)))) @ matrix.T
    ahead = bool((ends[:, 2] > 0).all() or (ends[:, 2] < 0).all())
    return ahead and area(np.asarray(ends[:, :2] / ends[:, 2:])) > 0
