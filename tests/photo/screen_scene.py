"""An invented photograph of a screen that shows a scale card.

Each pixel of the screen is three stripes, red, green and blue, with dark between; a lens softens
them, a sensor with a mosaic of color filters samples them, and the file is saved as JPEG.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from tests.photo.card_scene import drawn_card

_FINER = 4
_GAP = 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """Screen pixels per millimeter of the card, and camera pixels per screen pixel."""

    pixels_a_mm: float
    camera_pixels: float
    blur_px: float = 0.6
    tilt_deg: float = 10.0
    turn_deg: float = 3.0
    size: tuple[int, int] = (1200, 800)

    def to_px(self) -> NDArray[np.float64]:
        """Return the homography of a pinhole camera from the screen's pixels to its own."""
        turn, tilt = math.radians(self.turn_deg), math.radians(self.tilt_deg)
        about, _ = cv2.Rodrigues(np.array([0, 0, turn]))
        away, _ = cv2.Rodrigues(np.array([0.77, 0.64, 0]) * tilt)
        turned = away @ about
        focal = 1.3 * self.size[0]
        camera = np.array([[focal, 0, self.size[0] / 2], [0, focal, self.size[1] / 2], [0, 0, 1.0]])
        middle = np.array([45.0, 30.0]) * self.pixels_a_mm
        place = np.array([0, 0, focal / self.camera_pixels]) - turned[:, :2] @ middle
        return np.asarray(camera @ np.column_stack((turned[:, :2], place)), dtype=np.float64)


def photograph_of_screen(screen: Screen) -> NDArray[np.uint8]:
    """Photograph a screen that shows a card of LOT7-003, in sRGB."""
    width, height = screen.size
    light = np.empty((height, width, 3), dtype=np.float32)
    rows = 80
    margin = math.ceil(3 * screen.blur_px) + 1
    for top in range(0, height, rows):
        first, last = max(0, top - margin), min(height, top + rows + margin)
        strip = _strip(screen, first, last)
        light[top : top + rows] = strip[top - first : top - first + rows]
    dice = np.random.default_rng(8)
    level = _sampled(light) + dice.normal(0, 0.002, (height, width, 3))
    seen = np.clip(level, 0, 1) ** (1 / 2.2) * 255
    _, data = cv2.imencode(".jpg", seen.astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, 92])
    return np.asarray(cv2.imdecode(data, cv2.IMREAD_COLOR), dtype=np.uint8)


def _strip(screen: Screen, first: int, last: int) -> NDArray[np.float32]:
    """Draw a few rows of the picture, softened, from points several times as fine."""
    size = tuple(round(side * screen.pixels_a_mm) for side in (90, 60))
    shown = cv2.resize(drawn_card(), size, interpolation=cv2.INTER_AREA)
    across = (np.arange(screen.size[0] * _FINER) + 0.5) / _FINER
    down = first + (np.arange((last - first) * _FINER) + 0.5) / _FINER
    points = np.dstack(np.meshgrid(across, down))
    at = cv2.perspectiveTransform(points, np.linalg.inv(screen.to_px()))
    x, y = at[:, :, 0], at[:, :, 1]
    value = cv2.remap(
        shown, np.floor(x).astype(np.float32), np.floor(y).astype(np.float32), cv2.INTER_NEAREST
    )
    lit = (np.mod(y, 1) > 2 * _GAP) & (np.mod(y, 1) < 1 - 2 * _GAP)
    third = np.mod(x, 1) * 3
    stripes = [
        value * (lit & (third > color + _GAP) & (third < color + 1 - _GAP)) for color in range(3)
    ]
    spread = screen.blur_px * _FINER
    soft = cv2.GaussianBlur(np.dstack(stripes).astype(np.float32), (0, 0), spread)
    coarse = cv2.resize(soft, (screen.size[0], last - first), interpolation=cv2.INTER_AREA)
    return np.asarray(coarse * 2.0, dtype=np.float32)


def _sampled(light: NDArray[np.float32]) -> NDArray[np.float64]:
    """See each place through one filter of a red, green, green, blue mosaic, and fill the rest."""
    mosaic = light[:, :, 1].copy()
    mosaic[0::2, 0::2] = light[0::2, 0::2, 0]
    mosaic[1::2, 1::2] = light[1::2, 1::2, 2]
    counts = np.clip(mosaic * 65535, 0, 65535).astype(np.uint16)
    filled = cv2.cvtColor(counts, cv2.COLOR_BayerBG2RGB)
    return np.asarray(filled, dtype=np.float64) / 65535
