"""One photograph with numbered pins."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import hypot

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.pieces.balloon import RADIUS, paint_balloon, paint_leader
from planebench.window.pieces.photo_canvas import PhotoCanvas
from planebench.window.pieces.picture import Picture
from planebench.window.pieces.viewport import Viewport

_GRAB_PX = 8.0
_ARROW_STEPS = {
    Qt.Key.Key_Left: QPointF(-1, 0),
    Qt.Key.Key_Right: QPointF(1, 0),
    Qt.Key.Key_Up: QPointF(0, -1),
    Qt.Key.Key_Down: QPointF(0, 1),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewPin:
    """A balloon and the spot it points at, both (x, y) in pixels of the photograph.

    `number` tells pins apart; `mark` stands in the balloon in its place, if given.
    """

    number: int
    spot: tuple[float, float]
    balloon: tuple[float, float]
    text: str = ""
    mark: str = ""


class PhotoView(PhotoCanvas):
    """A photograph seen at any zoom, with pins that can be chosen and moved.

    Signals: `pin_chosen(int)`; `pin_moved(ViewPin)` when a balloon or spot was dragged.
    """

    pin_chosen = Signal(int)
    pin_moved = Signal(object)

    def __init__(self, parent: QWidget | None = None, *, movable_pins: bool = False) -> None:
        super().__init__(parent)
        self.setAccessibleName("Photograph")
        self._picture: Picture | None = None
        self._pins: dict[int, ViewPin] = {}
        self._highlighted: int | None = None
        self._movable = movable_pins
        self._held: tuple[int, str] | None = None

    def show_picture(self, picture: Picture | None, *, keep_view: bool = False) -> None:
        """Show a picture, fitted unless `keep_view`; None empties the view."""
        self._picture = picture
        if picture is not None and not keep_view:
            self.viewport.set_whole(picture.size)
        self.view_changed.emit()
        self.update()

    @property
    def has_picture(self) -> bool:
        """Whether a picture is shown, be it a small copy."""
        return self._picture is not None

    @property
    def pins(self) -> tuple[ViewPin, ...]:
        """The pins shown."""
        return tuple(self._pins.values())

    def set_pins(self, pins: Iterable[ViewPin]) -> None:
        """Show these pins."""
        self._pins = {pin.number: pin for pin in pins}
        self.setAccessibleDescription(
            "; ".join(f"{pin.mark or pin.number} {pin.text}".strip() for pin in self._pins.values())
        )
        self.update()

    @property
    def highlighted_pin(self) -> int | None:
        """The number of the highlighted pin."""
        return self._highlighted

    def highlight_pin(self, number: int | None) -> None:
        """Highlight a pin's balloon, or none."""
        self._highlighted = number
        self.update()

    @override
    def paint_photo(self, painter: QPainter) -> None:
        if self._picture is not None:
            self._picture.paint(painter, self.viewport.transform, self.viewport.zoom)

    @override
    def photo_key(self) -> tuple[object, ...]:
        return (id(self._picture),)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        paint_pins(QPainter(self), self.viewport, self.pins, self._highlighted)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._held = self._pin_at(event.position())
        if self._held is None or event.button() is not Qt.MouseButton.LeftButton:
            self._held = None
            super().mousePressEvent(event)
            return
        self._choose(self._held[0])

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._held is None:
            super().mouseMoveEvent(event)
        elif self._movable:
            self._move_held(self.viewport.to_photo(event.position()))

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._held is None:
            super().mouseReleaseEvent(event)
            return
        number, self._held = self._held[0], None
        if self._movable:
            self.pin_moved.emit(self._pins[number])

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = _ARROW_STEPS.get(Qt.Key(event.key()))
        if step is None or not self._movable or self._highlighted not in self._pins:
            super().keyPressEvent(event)
            return
        far = 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
        self._held = (self._highlighted, "spot")
        spot = QPointF(*self._pins[self._highlighted].spot)
        self._move_held(spot + step * far / self.viewport.zoom)
        self._held = None
        self.pin_moved.emit(self._pins[self._highlighted])

    def _choose(self, number: int) -> None:
        self.highlight_pin(number)
        self.pin_chosen.emit(number)

    def _move_held(self, to: QPointF) -> None:
        if self._held is None:
            return
        number, part = self._held
        place = (to.x(), to.y())
        pin = self._pins[number]
        moved = replace(pin, spot=place) if part == "spot" else replace(pin, balloon=place)
        self._pins[number] = moved
        self.update()

    def _pin_at(self, at: QPointF) -> tuple[int, str] | None:
        for pin in reversed(self.pins):
            for part, place, reach in (
                ("balloon", pin.balloon, RADIUS),
                ("spot", pin.spot, _GRAB_PX),
            ):
                away = self.viewport.to_screen(QPointF(*place)) - at
                if hypot(away.x(), away.y()) <= reach:
                    return pin.number, part
        return None


def paint_pins(
    painter: QPainter, viewport: Viewport, pins: Iterable[ViewPin], highlighted: int | None = None
) -> None:
    """Paint leaders, then balloons, so that no leader crosses a number."""
    shown = tuple(pins)
    for pin in shown:
        paint_leader(
            painter,
            viewport.to_screen(QPointF(*pin.spot)),
            viewport.to_screen(QPointF(*pin.balloon)),
        )
    for pin in shown:
        at = viewport.to_screen(QPointF(*pin.balloon))
        paint_balloon(painter, at, pin.mark or pin.number, lit=pin.number == highlighted)
