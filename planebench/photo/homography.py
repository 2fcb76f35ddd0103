"""Homographies: maps between the card's plane and the picture."""

from __future__ import annotations

import math

import cv2
import numpy as np
from numpy.typing import NDArray

Matrix = NDArray[np.float64]
Points = NDArray[np.float64]


def transform(matrix: Matrix, points: Points) -> Points:
    """Map N x 2 points by a 3 x 3 homography."""
    ends = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    return np.asarray(ends[:, :2] / ends[:, 2:], dtype=np.float64)


def jacobians(matrix: Matrix, points: Points) -> NDArray[np.float64]:
    """Return the N x 2 x 2 derivatives of the mapped points by the points."""
    ends = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    top = matrix[:2, :2][None] - (ends[:, :2] / ends[:, 2:])[:, :, None] * matrix[2, :2][None, None]
    return np.asarray(top / ends[:, 2][:, None, None], dtype=np.float64)


def scale_at(matrix: Matrix, points: Points) -> NDArray[np.float64]:
    """Return how much larger lengths come out at N x 2 points: the root of the growth of area."""
    return np.asarray(np.sqrt(np.abs(np.linalg.det(jacobians(matrix, points)))), dtype=np.float64)


def fit_homography(source: Points, target: Points) -> Matrix | None:
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


def signed_area(corners: Points) -> float:
    """Return the area of a polygon; above nought if it runs clockwise with y down."""
    x, y = corners.T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def is_front_facing(matrix: Matrix, corners: Points) -> bool:
    """Tell whether a polygon, clockwise in its plane, is seen whole and from its own face."""
    ends = np.column_stack((corners, np.ones(len(corners)))) @ matrix.T
    ahead = bool((ends[:, 2] > 0).all() or (ends[:, 2] < 0).all())
    return ahead and signed_area(np.asarray(ends[:, :2] / ends[:, 2:])) > 0


# Focal lengths tried when the camera noted none, as shares of the picture's diagonal:
# 18 mm to 200 mm on a full frame.
_SHORTEST, _LONGEST, _TRIES = 0.42, 4.6, 120
# How far a plane seen by a camera may stray from equal and square axes by noise alone.
_STRAY = 0.0015


def tilt_degrees(matrix: Matrix, size: tuple[int, int], focal_px: float) -> float:
    """Return the angle between the camera's axis and the upright on the card, 0 to 90 degrees.

    `matrix` takes mm to px in a picture of `size` (width, height) whose axis meets its middle.
    Source: Zhang, "A flexible new technique for camera calibration", 2000, section 3.1.
    """
    across, down = _axes(matrix, size, focal_px)
    upright = np.cross(across / np.linalg.norm(across), down / np.linalg.norm(down))
    return math.degrees(
        math.acos(min(1.0, abs(float(upright[2])) / float(np.linalg.norm(upright))))
    )


def focal_by_card(matrix: Matrix, size: tuple[int, int]) -> tuple[float, bool]:
    """Estimate the focal length in px from the card's foreshortening, and whether it is telling.

    Seen straight on, every focal length explains the card alike: then the middle is not telling.
    """
    diagonal = math.hypot(*size)
    focals = np.geomspace(_SHORTEST, _LONGEST, _TRIES) * diagonal
    strays = np.array([_stray(matrix, size, focal) for focal in focals])
    good = focals[strays < strays.min() + _STRAY]
    return float(math.exp(np.log(good).mean())), bool(good[-1] < 1.5 * good[0])


def _stray(matrix: Matrix, size: tuple[int, int], focal: float) -> float:
    across, down = _axes(matrix, size, focal)
    a, d = np.linalg.norm(across), np.linalg.norm(down)
    return float(math.hypot(np.dot(across, down) / (a * d), math.log(a / d)))


def _axes(matrix: Matrix, size: tuple[int, int], focal: float) -> tuple[Points, Points]:
    """Return the card's two edges as the camera sees them, both to the same unknown scale."""
    middle = ((size[0] - 1) / 2, (size[1] - 1) / 2)
    camera = np.array([[focal, 0, middle[0]], [0, focal, middle[1]], [0, 0, 1]])
    placed = np.linalg.solve(camera, matrix)
    return placed[:, 0], placed[:, 1]
