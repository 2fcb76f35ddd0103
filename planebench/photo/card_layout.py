"""The layout of the scale card, in millimeters from its top left corner, y down.

The sizes are those of the printed card; changing one makes cards already printed unreadable.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.homography import Matrix, scale_at

CARD_MM: Final = (90.0, 60.0)
MARKER_MM: Final = 15.0
# The top left corner of markers 0 to 3, which stand top left, top right, bottom right, bottom left.
MARKERS_AT: Final = ((4.0, 4.0), (71.0, 4.0), (71.0, 41.0), (4.0, 41.0))
MARKER_CELLS: Final = 6
QR_AT: Final = (33.0, 18.0)
QR_MM: Final = 24.0
QR_PREFIX: Final = "PB:"
DICTIONARY: Final = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)


@dataclass(frozen=True, slots=True, kw_only=True)
class NeutralPatch:
    """A neutral patch: its reflectance (0 to 1), top left corner and size in mm."""

    reflectance: float
    at: tuple[float, float]
    size: tuple[float, float] = (11.0, 9.5)


PATCHES: Final = (
    NeutralPatch(reflectance=0.90, at=(26.0, 45.5)),
    NeutralPatch(reflectance=0.18, at=(39.5, 45.5)),
    NeutralPatch(reflectance=0.05, at=(53.0, 45.5)),
)


def px_per_mm(matrix: Matrix) -> float:
    """Return the scale (pixels per mm) at the card's center of a homography from mm to pixels."""
    width, height = CARD_MM
    return float(scale_at(matrix, np.array([[width / 2, height / 2]]))[0])


@cache
def marker_cells(number: int) -> NDArray[np.bool_]:
    """Return the 6 x 6 cells of marker 0 to 3 including its dark border; true is white."""
    drawn = cv2.aruco.generateImageMarker(DICTIONARY, number, MARKER_CELLS)
    return np.asarray(drawn) > 0


def marker_corners(number: int) -> NDArray[np.float64]:
    """Return the 4 x 2 corners of a marker in mm, clockwise from its top left."""
    x, y = MARKERS_AT[number]
    return square(x, y, MARKER_MM)


def qr_corners() -> NDArray[np.float64]:
    """Return the 4 x 2 corners of the QR code in mm, clockwise from its top left."""
    return square(*QR_AT, QR_MM)


def card_corners() -> NDArray[np.float64]:
    """Return the 4 x 2 corners of the card in mm, clockwise from its top left."""
    width, height = CARD_MM
    return np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float64)


def square(x: float, y: float, side: float) -> NDArray[np.float64]:
    """Return the 4 x 2 corners of an upright square, clockwise from its top left at x, y."""
    return np.array([[x, y], [x + side, y], [x + side, y + side], [x, y + side]], dtype=np.float64)


# Unprinted areas left and right of the QR code: 4 x 2 corners in mm.
WHITE_AREAS: Final = tuple(
    np.array([[left, 21], [left + 29, 21], [left + 29, 40], [left, 40]], dtype=np.float64)
    for left in (2.0, 59.0)
)
