"""An invented photograph of a scale card, drawn anew from its description, seen by exact optics.

Nothing here uses the program's own layout: the card is drawn from its published measures (90 x 60
mm; markers of 15 mm, 4 mm in from the edges; QR code of 24 mm in the middle), the markers by
OpenCV, the QR code by segno.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
import segno
from numpy.typing import NDArray

_PX_PER_MM = 20
_FINER = 3
_PAPER, _INK = 0.88, 0.03
MARKERS_MM = ((4, 4), (71, 4), (71, 41), (4, 41))
PATCHES_MM = ((26.0, 0.90), (39.5, 0.18), (53.0, 0.05))


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Where the camera stands: tilt from the upright, turn in the picture, the card's place."""

    tilt_deg: float = 20.0
    toward_deg: float = 30.0
    turn_deg: float = 0.0
    distance_mm: float = 420.0
    focal_px: float = 1700.0
    size: tuple[int, int] = (1200, 800)
    at_px: tuple[float, float] = (600.0, 420.0)

    def mm_to_px(self) -> NDArray[np.float64]:
        """Return the homography of a pinhole camera: K [r1 r2 t]."""
        turn = _about((0, 0, 1), self.turn_deg)
        toward = math.radians(self.toward_deg)
        tilt = _about((math.cos(toward), math.sin(toward), 0), self.tilt_deg)
        turned = tilt @ turn
        width, height = self.size
        middle = ((width - 1) / 2, (height - 1) / 2)
        camera = np.array(
            [[self.focal_px, 0, middle[0]], [0, self.focal_px, middle[1]], [0, 0, 1.0]]
        )
        ray = np.linalg.inv(camera) @ np.array([*self.at_px, 1.0])
        moved = ray * self.distance_mm - turned[:, :2] @ np.array([45.0, 30.0])
        return np.asarray(camera @ np.column_stack((turned[:, :2], moved)), dtype=np.float64)


def drawn_card(text: str = "PB:LOT7-003") -> NDArray[np.float64]:
    """Draw a card in linear light, 0 to 1, at 20 pixels per millimeter."""
    card = np.full((60 * _PX_PER_MM, 90 * _PX_PER_MM), _PAPER)
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    for number, (x, y) in enumerate(MARKERS_MM):
        drawn = cv2.aruco.generateImageMarker(dictionary, number, 15 * _PX_PER_MM)
        _paste(card, np.asarray(drawn) > 0, x, y)
    modules = np.array([list(row) for row in segno.make(text, error="q", micro=False).matrix])
    side = 24 * _PX_PER_MM
    white = cv2.resize(1 - modules, (side, side), interpolation=cv2.INTER_NEAREST) > 0
    _paste(card, white, 33, 18)
    for x, light in PATCHES_MM:
        rows = slice(round(45.5 * _PX_PER_MM), 55 * _PX_PER_MM)
        card[rows, round(x * _PX_PER_MM) : round((x + 11) * _PX_PER_MM)] = light
    return card


def photograph(
    *cards: tuple[NDArray[np.float64], NDArray[np.float64]],
    size: tuple[int, int] = (1200, 800),
    light: tuple[float, float, float] = (1.0, 1.0, 1.0),
) -> NDArray[np.uint8]:
    """Photograph cards, each with its mm-to-px homography, lying on a grained bench, in sRGB."""
    fine = (size[0] * _FINER, size[1] * _FINER)
    dice = np.random.default_rng(5)
    grain = cv2.resize(dice.random((size[1] // 8, size[0] // 80)), fine)
    scene = np.asarray(0.08 + 0.12 * grain, dtype=np.float64)
    to_mm = np.array(
        [[1 / _PX_PER_MM, 0, 0.5 / _PX_PER_MM], [0, 1 / _PX_PER_MM, 0.5 / _PX_PER_MM], [0, 0, 1]]
    )
    to_fine = np.array([[_FINER, 0, (_FINER - 1) / 2], [0, _FINER, (_FINER - 1) / 2], [0, 0, 1.0]])
    for card, mm_to_px in cards:
        place = to_fine @ mm_to_px @ to_mm
        cv2.warpPerspective(
            card, place, fine, scene, cv2.INTER_LINEAR, borderMode=cv2.BORDER_TRANSPARENT
        )
    coarse = cv2.GaussianBlur(cv2.resize(scene, size, interpolation=cv2.INTER_AREA), (0, 0), 0.6)
    lit = np.clip(coarse[:, :, None] * np.array(light), 0, 1)
    seen = np.where(lit <= 0.0031308, lit * 12.92, 1.055 * lit ** (1 / 2.4) - 0.055) * 255
    return np.clip(np.rint(seen + dice.normal(0, 1.5, seen.shape)), 0, 255).astype(np.uint8)


def mapped(matrix: NDArray[np.float64], points: object) -> NDArray[np.float64]:
    """Map points by a homography, with OpenCV's own arithmetic."""
    source = np.asarray(points, dtype=np.float64).reshape(-1, 1, 2)
    return np.asarray(cv2.perspectiveTransform(source, matrix)).reshape(-1, 2)


LENGTHS_MM = (
    ((0, 0), (90, 0)),
    ((90, 0), (90, 60)),
    ((0, 60), (90, 60)),
    ((0, 0), (0, 60)),
    ((0, 0), (90, 60)),
    ((90, 0), (0, 60)),
    ((20, 30), (70, 30)),
)


def length_errors(px_to_mm: object, mm_to_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the errors, in percent, of seven known lengths measured with a reading."""
    matrix = np.asarray(px_to_mm, dtype=np.float64)
    off = []
    for start, end in LENGTHS_MM:
        first, last = mapped(matrix, mapped(mm_to_px, (start, end)))
        off.append(float(np.linalg.norm(last - first)) / math.dist(start, end) - 1)
    return np.abs(np.array(off)) * 100


def _paste(card: NDArray[np.float64], white: NDArray[np.bool_], x: float, y: float) -> None:
    rows = slice(round(y * _PX_PER_MM), round(y * _PX_PER_MM) + white.shape[0])
    columns = slice(round(x * _PX_PER_MM), round(x * _PX_PER_MM) + white.shape[1])
    card[rows, columns] = np.where(white, _PAPER, _INK)


def _about(axis: tuple[float, float, float], degrees: float) -> NDArray[np.float64]:
    turn, _ = cv2.Rodrigues(np.array(axis, dtype=np.float64) * math.radians(degrees))
    return np.asarray(turn, dtype=np.float64)
