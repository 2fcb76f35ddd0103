"""How the camera stood to the scale card's plane."""

from __future__ import annotations

import math

import numpy as np

from planebench.photo.projective import Matrix, Points

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
