"""A large picture, held in halved sizes so that it can be drawn at any zoom at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, QSizeF
from PySide6.QtGui import QImage, QPainter, QTransform

_SMALLEST = 640
# Above this enlargement single pixels are shown as squares, so that nothing is made up.
_SQUARES_FROM = 4.0


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture and its halves, the whole first. Make it on a job: halving takes time.

    A small copy can stand for the picture until that is there; `full` is then the picture's size.
    `held` are the bytes of the levels, where they are not the images' own.
    """

    levels: tuple[QImage, ...]
    full: QSizeF | None = None
    held: tuple[NDArray[np.uint8], ...] = field(default=(), repr=False)

    @classmethod
    def of(cls, rgb: NDArray[np.uint8]) -> Picture:
        """Return a picture of pixels, H x W x 3; they are held, not copied.

        Takes about 10 ms for 24 million pixels. Qt would halve them as well, but while it does so
        no other thread of the program gets on, the window's neither.
        """
        arrays = [np.ascontiguousarray(rgb)]
        while max(arrays[-1].shape) > _SMALLEST:
            high, wide = arrays[-1].shape[:2]
            half = max(1, wide // 2), max(1, high // 2)
            smaller = cv2.resize(arrays[-1], half, interpolation=cv2.INTER_AREA)
            arrays.append(np.asarray(smaller, dtype=np.uint8))
        return cls(tuple(_image(array) for array in arrays), held=tuple(arrays))

    @classmethod
    def of_image(cls, image: QImage) -> Picture:
        """Return a picture of an image, which is copied."""
        plain = image.convertToFormat(QImage.Format.Format_RGB888)
        high, wide, step = plain.height(), plain.width(), plain.bytesPerLine()
        rows = np.frombuffer(plain.constBits(), dtype=np.uint8).reshape(high, step)
        return cls.of(rows[:, : 3 * wide].reshape(high, wide, 3).copy())

    @property
    def size(self) -> QSizeF:
        """Width and height in pixels of the whole."""
        return QSizeF(self.levels[0].size()) if self.full is None else self.full

    def paint(self, painter: QPainter, to_view: QTransform, zoom: float) -> None:
        """Paint the picture; `to_view` leads from its pixels to the painter's."""
        number = 0
        while number + 1 < len(self.levels) and zoom * 2 ** (number + 1) <= 1:
            number += 1
        level = self.levels[number]
        smooth = zoom < _SQUARES_FROM
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, smooth)
        painter.setTransform(to_view, combine=True)
        whole = QRectF(0, 0, self.size.width(), self.size.height())
        painter.drawImage(whole, level, QRectF(level.rect()))
        painter.restore()


def _image(rgb: NDArray[np.uint8]) -> QImage:
    """Return an image on the same bytes; they must live as long as it does."""
    high, wide = rgb.shape[:2]
    data: Any = rgb.data  # the buffer's type differs between releases of the binding
    return QImage(data, wide, high, 3 * wide, QImage.Format.Format_RGB888)


def lift_shadows(image: QImage) -> None:
    """Brighten the dark tones of a picture in place, the light ones hardly.

    A view only: nothing that is measured passes through here.
    """
    flat = np.frombuffer(image.bits(), dtype=np.uint8)
    flat[:] = _lift_table()[flat]


@cache
def _lift_table() -> np.ndarray[tuple[int], np.dtype[np.uint8]]:
    tone = np.arange(256) / 255
    lifted = tone**0.55 * (1 - tone) + tone * tone
    return np.rint(255 * np.clip(lifted, 0, 1)).astype(np.uint8)
