"""Homographies between planes: mapping, fitting, and the camera's tilt that one implies."""

from __future__ import annotations

import math

import cv2
import numpy as np
from numpy.typing import NDArray

Matrix = NDArray[np.float64]
Points = NDArray[np.float64]

# Focal lengths tried when the camera recorded none, as shares of the picture's diagonal: 18 mm to
# 200 mm on a full frame. 120 steps of 2% are finer than a card can tell them apart.
_MIN_FOCAL, _MAX_FOCAL, _FOCAL_STEPS = 0.42, 4.6, 120
# How far the axes may stray from equal and square by noise alone: about 0.1 mm over the card.
_AXIS_NOISE = 0.0015
# Focal lengths within this ratio of each other count as one estimate.
_FOCAL_RATIO = 1.5


def transform(matrix: Matrix, points: Points) -> Points:
    """Map N x 2 points by a 3 x 3 homography."""
    ends = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    return np.asarray(ends[:, :2] / ends[:, 2:], dtype=np.float64)


def jacobians(matrix: Matrix, points: Points) -> NDArray[np.float64]:
    """Return the N x 2 x 2 Jacobians of the map at N x 2 points."""
    ends = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    top = matrix[:2, :2][None] - (ends[:, :2] / ends[:, 2:])[:, :, None] * matrix[2, :2][None, None]
    return np.asarray(top / ends[:, 2][:, None, None], dtype=np.float64)


def scale_at(matrix: Matrix, points: Points) -> NDArray[np.float64]:
    """Return the local scale at N x 2 points: the square root of the Jacobian determinant."""
    return np.asarray(np.sqrt(np.abs(np.linalg.det(jacobians(matrix, points)))), dtype=np.float64)


def fit_homography(source: Points, target: Points) -> Matrix | None:
    """Return the least-squares homography from N x 2 source to target points, N at least 4.

    None if the points allow none.
    """
    # OpenCV returns None, against its own type hints, for points that allow no homography.
    found: object = cv2.findHomography(source, target, 0)[0]
    if not isinstance(found, np.ndarray) or not np.isfinite(found).all():
        return None
    return normalized(np.asarray(found, dtype=np.float64))


def fit_affine(source: Points, target: Points) -> Matrix | None:
    """Return the least-squares affine map from N x 2 source to target points, N at least 3.

    None if the source points lie on a line.
    """
    ends = np.column_stack((source, np.ones(len(source))))
    # A triangle flatter than a thousandth of its length gives no usable map.
    spread = np.linalg.svd(source - source.mean(axis=0), compute_uv=False)
    if spread[-1] < 1e-3 * spread[0]:
        return None
    top = np.linalg.lstsq(ends, target, rcond=None)[0].T
    return np.vstack((top, (0.0, 0.0, 1.0)))


def inverse(matrix: Matrix) -> Matrix:
    """Return the inverse homography."""
    return normalized(np.asarray(np.linalg.inv(matrix), dtype=np.float64))


def normalized(matrix: Matrix) -> Matrix:
    """Return a homography scaled so that its last element is 1."""
    return np.asarray(matrix / matrix[2, 2], dtype=np.float64)


def signed_area(corners: Points) -> float:
    """Return the area of a polygon; positive if it runs clockwise with y down."""
    x, y = corners.T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def is_front_facing(matrix: Matrix, corners: Points) -> bool:
    """Return whether a polygon, clockwise in its plane, is seen whole and from its face."""
    ends = np.column_stack((corners, np.ones(len(corners)))) @ matrix.T
    ahead = bool((ends[:, 2] > 0).all() or (ends[:, 2] < 0).all())
    return ahead and signed_area(np.asarray(ends[:, :2] / ends[:, 2:])) > 0


def tilt_degrees(matrix: Matrix, size: tuple[int, int], focal_px: float) -> float:
    """Return the angle between the camera's axis and the card's normal, 0 to 90 degrees.

    `matrix` maps mm to px in a picture of `size` (width, height), the axis at its center.
    Source: Zhang, "A flexible new technique for camera calibration", 2000, section 3.1.
    """
    across, down = _axes(matrix, size, focal_px)
    normal = np.cross(across / np.linalg.norm(across), down / np.linalg.norm(down))
    return math.degrees(math.acos(min(1.0, abs(float(normal[2])) / float(np.linalg.norm(normal)))))


def focal_by_card(matrix: Matrix, size: tuple[int, int]) -> tuple[float, bool]:
    """Return the focal length in px, from the card's foreshortening, and whether it is reliable.

    Seen straight on, every focal length explains the card equally well: then it is not.
    """
    diagonal = math.hypot(*size)
    focals = np.geomspace(_MIN_FOCAL, _MAX_FOCAL, _FOCAL_STEPS) * diagonal
    errors = np.array([_axis_error(matrix, size, focal) for focal in focals])
    good = focals[errors < errors.min() + _AXIS_NOISE]
    return float(math.exp(np.log(good).mean())), bool(good[-1] < _FOCAL_RATIO * good[0])


def _axis_error(matrix: Matrix, size: tuple[int, int], focal: float) -> float:
    """Return how far the card's axes are from square (cosine) and equal (log ratio)."""
    across, down = _axes(matrix, size, focal)
    a, d = np.linalg.norm(across), np.linalg.norm(down)
    return float(math.hypot(np.dot(across, down) / (a * d), math.log(a / d)))


def _axes(matrix: Matrix, size: tuple[int, int], focal: float) -> tuple[Points, Points]:
    """Return the card's two axes in camera coordinates, both to the same unknown scale."""
    middle = ((size[0] - 1) / 2, (size[1] - 1) / 2)
    camera = np.array([[focal, 0, middle[0]], [0, focal, middle[1]], [0, 0, 1]])
    placed = np.linalg.solve(camera, matrix)
    return placed[:, 0], placed[:, 1]
