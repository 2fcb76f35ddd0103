"""The outlined surface brought to the size at which it is judged, and the judgment back."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

# The outline's box fills this many pixels when judged: losses keep their size for the network,
# and a 50-megapixel photograph takes no longer than a small one.
FRAMED_AREA = 230_400.0
_MARGIN = 0.12
_LARGEST_SCALE = 2.0
_CELL = 32
_LONGEST_SIDE = 2048


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedFrame:
    """A window on the photograph (x0, y0, x1, y1 in its pixels) and its size when judged."""

    x0: int
    y0: int
    x1: int
    y1: int
    width: int
    height: int

    @property
    def scale(self) -> float:
        """Pixels of the judged picture to a pixel of the photograph."""
        return self.width / (self.x1 - self.x0)

    @property
    def padded(self) -> tuple[int, int]:
        """Height and width rounded up to what the network takes."""
        return -(-self.height // _CELL) * _CELL, -(-self.width // _CELL) * _CELL

    def placed(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the photograph lies in the judged picture; pixel centers are whole."""
        across = self.width / (self.x1 - self.x0)
        down = self.height / (self.y1 - self.y0)
        return (x - self.x0 + 0.5) * across - 0.5, (y - self.y0 + 0.5) * down - 0.5


def frame_of(mask: NDArray[np.uint8]) -> JudgedFrame:
    """Choose the window round a mask (height x width, not empty) and the size to judge it at."""
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    y0, y1, x0, x1 = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
    side = math.sqrt((y1 - y0) * (x1 - x0))
    scale = min(math.sqrt(FRAMED_AREA) / side, _LARGEST_SCALE)
    margin = round(_MARGIN * side) + 4
    y0, x0 = max(0, y0 - margin), max(0, x0 - margin)
    y1, x1 = min(mask.shape[0], y1 + margin), min(mask.shape[1], x1 + margin)
    scale = min(scale, _LONGEST_SIDE / max(y1 - y0, x1 - x0))
    width, height = (max(_CELL, round(side * scale)) for side in (x1 - x0, y1 - y0))
    return JudgedFrame(x0=x0, y0=y0, x1=x1, y1=y1, width=width, height=height)


def cut_image(frame: JudgedFrame, image: NDArray[np.uint8]) -> NDArray[np.float32]:
    """Return the window as 1 x 3 x height x width, 0 to 1, padded by mirroring."""
    part = _sized(frame, image[frame.y0 : frame.y1, frame.x0 : frame.x1])
    height, width = frame.padded
    down, right = height - frame.height, width - frame.width
    part = np.asarray(cv2.copyMakeBorder(part, 0, down, 0, right, cv2.BORDER_REFLECT_101))
    return np.ascontiguousarray(part.transpose(2, 0, 1)[None].astype(np.float32) / 255)


def cut_mask(frame: JudgedFrame, mask: NDArray[np.uint8]) -> NDArray[np.float32]:
    """Return the share of each judged pixel inside the mask, height x width, 0 to 1, not padded."""
    part = mask[frame.y0 : frame.y1, frame.x0 : frame.x1].astype(np.float32)
    return _sized(frame, part)


def pad(frame: JudgedFrame, plane: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return height x width as 1 x 1 x padded height x padded width, zeros beyond."""
    height, width = frame.padded
    padded = np.zeros((1, 1, height, width), dtype=np.float32)
    padded[0, 0, : frame.height, : frame.width] = plane
    return padded


def _sized(frame: JudgedFrame, part: NDArray[Any]) -> NDArray[Any]:
    way = cv2.INTER_AREA if frame.scale < 1 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(part, (frame.width, frame.height), interpolation=way))
