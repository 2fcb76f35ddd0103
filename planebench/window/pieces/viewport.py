"""The part of a photograph that is seen, and the transform between its pixels and the screen."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSizeF
from PySide6.QtGui import QTransform

MOST = 16.0
_STEP = 1.25


class Viewport:
    """Zoom, in screen pixels per pixel of the photograph, and the corner's place on the screen."""

    def __init__(self) -> None:
        self._room = QSizeF(1, 1)
        self._whole = QSizeF(1, 1)
        self._corner = QPointF(0, 0)
        self._quarters = 0
        self._turning = QTransform()
        self.zoom = 1.0
        self.fitted = True

    @property
    def key(self) -> tuple[float, ...]:
        """A key that changes whenever what is seen changes."""
        room, pivot = self._room, self._corner
        return (self.zoom, pivot.x(), pivot.y(), room.width(), room.height(), float(self._quarters))

    @property
    def fit_zoom(self) -> float:
        """The zoom at which the whole photograph is seen."""
        shown = self._shown
        return min(self._room.width() / shown.width(), self._room.height() / shown.height())

    def set_room(self, room: QSizeF) -> None:
        """Set the size of the view."""
        self._room = QSizeF(max(1.0, room.width()), max(1.0, room.height()))
        self._settle()

    def set_whole(self, size: QSizeF) -> None:
        """Set the size of the photograph and fit it."""
        self._whole = QSizeF(max(1.0, size.width()), max(1.0, size.height()))
        self.turn(0)

    def turn(self, quarters: int) -> None:
        """Rotate the view clockwise by quarter turns and fit it; the file is not changed."""
        self._quarters = (self._quarters + quarters) % 4
        wide, high = self._whole.width(), self._whole.height()
        away = ((0.0, 0.0), (high, 0.0), (wide, high), (0.0, wide))[self._quarters]
        self._turning = QTransform().translate(*away).rotate(90 * self._quarters)
        self.fit()

    def fit(self) -> None:
        """Fit the whole photograph, and keep fitting it when the view is resized."""
        self.fitted = True
        self._settle()

    def zoom_to(self, zoom: float, about: QPointF | None = None) -> None:
        """Zoom so that what lies under `about` (screen pixels; the middle if None) stays."""
        pivot = about if about is not None else QPointF(self._room.width(), self._room.height()) / 2
        anchor = self._turning.map(self.to_photo(pivot))
        self.zoom = min(max(zoom, self.fit_zoom / 2, 1e-4), max(MOST, self.fit_zoom))
        self.fitted = False
        self._corner = pivot - anchor * self.zoom
        self._settle()

    def zoom_by(self, steps: float, about: QPointF | None = None) -> None:
        """Zoom in by so many steps, out if negative."""
        self.zoom_to(self.zoom * _STEP**steps, about)

    def move_by(self, way: QPointF) -> None:
        """Move the photograph by so many screen pixels."""
        self.fitted = False
        self._corner += way
        self._settle()

    def show_spot(self, spot: QPointF) -> None:
        """Center the view on a spot of the photograph."""
        middle = QPointF(self._room.width(), self._room.height()) / 2
        self.move_by(middle - self.to_screen(spot))

    def to_screen(self, spot: QPointF) -> QPointF:
        """Map a point from the photograph to the screen."""
        return self._turning.map(spot) * self.zoom + self._corner

    def to_photo(self, point: QPointF) -> QPointF:
        """Map a point from the screen to the photograph."""
        return self._turning.inverted()[0].map((point - self._corner) / self.zoom)

    @property
    def transform(self) -> QTransform:
        """The transform from the photograph's pixels to the screen."""
        pivot = self._corner
        return self._turning * QTransform(self.zoom, 0, 0, self.zoom, pivot.x(), pivot.y())

    @property
    def _shown(self) -> QSizeF:
        return self._whole.transposed() if self._quarters % 2 else self._whole

    def _settle(self) -> None:
        if self.fitted:
            self.zoom = self.fit_zoom
        x = _kept(self._corner.x(), self._room.width(), self._shown.width() * self.zoom)
        y = _kept(self._corner.y(), self._room.height(), self._shown.height() * self.zoom)
        self._corner = QPointF(x, y)


def _kept(corner: float, room: float, shown: float) -> float:
    """Return the corner so that the photograph is centered if small, else covers the view."""
    if shown <= room:
        return (room - shown) / 2
    return min(0.0, max(room - shown, corner))
