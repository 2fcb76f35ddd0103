"""A large picture, held in halved sizes so that it can be drawn at any zoom at once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from PySide6.QtCore import QRectF, QSizeF, Qt
from PySide6.QtGui import QImage, QPainter, QTransform

_SMALLEST = 640
# Above this enlargement single pixels are shown as squares, so that nothing is made up.
_SQUARES_FROM = 4.0


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture and its halves, the whole first. Make it on a job: halving takes time.

    A small copy can stand for the picture until that is there; `full` is then the picture's size.
    """

    levels: tuple[QImage, ...]
    full: QSizeF | None = None

    @classmethod
    def of(cls, image: QImage) -> Picture:
        """Return a picture of an image; about 100 ms for 24 million pixels."""
        level = image.convertToFormat(QImage.Format.Format_RGB32)
        levels = [level]
        while max(level.width(), level.height()) > _SMALLEST:
            level = level.scaled(
                max(1, level.width() // 2),
                max(1, level.height() // 2),
                Qt.AspectRatioMode.IgnoreAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )
            levels.append(level)
        return cls(tuple(levels))

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
