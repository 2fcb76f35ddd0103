"""Draws a judgment on its photograph: kept hatched, lost crossed, patina lined, unsure dotted."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

KEPT_COLOR = (0x83, 0xC7, 0xB6)
LOST_GROUND, LOST_LINES = (0x97, 0x3C, 0x1B), (0xFF, 0xD2, 0xBC)
PATINA_LINES = (0xE3, 0xA8, 0x5C)
UNSURE_GROUND, UNSURE_DOTS = (0x17, 0x19, 0x1C), (0xFA, 0xF7, 0xF0)
OUTLINE, OUTLINE_EDGE = (0xDD, 0xB5, 0x6A), (0x17, 0x19, 0x1C)
_USUAL_WIDTH = 1600  # picture width at which a hatch step is 9 pixels
_STEP = 9


def overlay(image: NDArray[np.uint8], judged: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return a copy of an image (H x W x 3 RGB) hatched by its map (H x W, 0 to 4)."""
    drawn = image.astype(np.float32)
    unit = max(1, round(image.shape[1] / _USUAL_WIDTH))
    step = _STEP * unit
    rows, columns = np.ogrid[: image.shape[0], : image.shape[1]]
    rising, falling = (rows + columns) % step < unit, (rows - columns) % step < unit
    dots = ((rows + step // 2) % step < 2 * unit) & (columns % step < 2 * unit)
    _lay(drawn, (judged == 1) & rising, KEPT_COLOR, 0.9)
    _lay(drawn, judged == 2, LOST_GROUND, 0.55)  # noqa: PLR2004 - the map's own numbers
    _lay(drawn, (judged == 2) & (rising | falling), LOST_LINES, 0.9)  # noqa: PLR2004 - as above
    level = (rows % step < unit) & (columns >= 0)
    _lay(drawn, (judged == 4) & level, PATINA_LINES, 0.9)  # noqa: PLR2004 - as above
    _lay(drawn, judged == 3, UNSURE_GROUND, 0.35)  # noqa: PLR2004 - as above
    _lay(drawn, (judged == 3) & dots, UNSURE_DOTS, 1.0)  # noqa: PLR2004 - as above
    whole = drawn.round().astype(np.uint8)
    rings, _ = cv2.findContours(
        (judged > 0).astype(np.uint8), cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE
    )
    cv2.drawContours(whole, rings, -1, OUTLINE_EDGE, 4 * unit)
    cv2.drawContours(whole, rings, -1, OUTLINE, 2 * unit)
    return whole


def _lay(
    drawn: NDArray[np.float32],
    where: NDArray[np.bool_],
    color: tuple[int, int, int],
    strength: float,
) -> None:
    drawn[where] = drawn[where] * (1 - strength) + np.array(color, dtype=np.float32) * strength
