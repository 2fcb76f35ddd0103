"""Two photographs of a pair compared: with a divider, side by side, or with the changes shown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from math import sqrt

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QTransform
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.pieces.divider import (
    grip_box,
    paint_divider,
    paint_foot,
    paint_labels,
)
from planebench.window.pieces.photo_canvas import Layer, PhotoCanvas
from planebench.window.pieces.photo_view import ViewPin, paint_pins
from planebench.window.pieces.picture import Picture


class ComparisonMode(Enum):
    """How the two are compared."""

    DIVIDER = "divider"
    SIDE_BY_SIDE = "side by side"
    CHANGES = "changes"


MODE_KEYS = {
    Qt.Key.Key_D: ComparisonMode.DIVIDER,
    Qt.Key.Key_B: ComparisonMode.SIDE_BY_SIDE,
    Qt.Key.Key_C: ComparisonMode.CHANGES,
}
_STEP, _FINE_STEP = 0.01, 0.001
_NEAR = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparedPhotographs:
    """Two pictures; `after_to_before` maps pixels of `after` to those of `before`."""

    before: Picture
    after: Picture
    after_to_before: QTransform
    before_label: str = "as found"
    after_label: str = "finished"


class PhotoComparison(PhotoCanvas):
    """The pair, zoomed and moved together.

    Signals: `divider_moved(float)` 0 to 1 of the width; `mode_changed(ComparisonMode)`.
    Keys: D B C for the modes, left and right for the divider (Shift for small steps). With the
    changes shown, Space switches between the two.
    """

    divider_moved = Signal(float)
    mode_changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Before and after")
        self._pair: ComparedPhotographs | None = None
        self._mode = ComparisonMode.DIVIDER
        self._divider = 0.5
        self._after_seen = True
        self._dragging = False
        self._pins: tuple[tuple[ViewPin, ...], tuple[ViewPin, ...]] = ((), ())
        self._changed: Sequence[Layer] = ()

    @property
    def mode(self) -> ComparisonMode:
        """How the two are compared."""
        return self._mode

    @property
    def divider(self) -> float:
        """Where the divider stands, 0 to 1 of the width."""
        return self._divider

    @property
    def to_before(self) -> QTransform:
        """The transform from pixels of the photograph after to those of the one before."""
        return QTransform() if self._pair is None else self._pair.after_to_before

    def show_pair(self, pair: ComparedPhotographs | None, *, keep_view: bool = False) -> None:
        """Show a pair, fitted unless `keep_view`; None empties the view."""
        self._pair = pair
        if pair is not None and not keep_view:
            self.viewport.set_whole(pair.before.size)
        self.update()

    def set_pins(self, before: Iterable[ViewPin], after: Iterable[ViewPin]) -> None:
        """Show pins of each, in pixels of `before`; each is seen where its photograph is."""
        self._pins = (tuple(before), tuple(after))
        self.update()

    def set_changed(self, layers: Sequence[Layer]) -> None:
        """Show these layers over the photographs in CHANGES mode."""
        self._changed = layers
        self.update()

    def set_mode(self, mode: ComparisonMode) -> None:
        """Compare in another mode; CHANGES chosen again switches between the two photographs."""
        if mode is self._mode is ComparisonMode.CHANGES:
            self._after_seen = not self._after_seen
        self._mode = mode
        self.viewport.set_room(self.room())
        self.mode_changed.emit(mode)
        self.update()

    def move_divider(self, share: float) -> None:
        """Move the divider to a share of the width."""
        self._divider = min(1.0, max(0.0, share))
        self.setAccessibleDescription(f"divider at {self._divider * 100:.1f}%")
        self.divider_moved.emit(self._divider)
        self.update()

    @override
    def room(self) -> QSizeF:
        columns = 2 if self._mode is ComparisonMode.SIDE_BY_SIDE else 1
        return QSizeF(self.width() / columns, self.height())

    @override
    def local(self, point: QPointF) -> QPointF:
        half = self.room().width()
        beyond = self._mode is ComparisonMode.SIDE_BY_SIDE and point.x() >= half
        return point - QPointF(half, 0) if beyond else point

    @override
    def photo_key(self) -> tuple[object, ...]:
        return (id(self._pair), self._mode, self._divider, self._after_seen)

    @override
    def paint_photo(self, painter: QPainter) -> None:
        if self._pair is None:
            return
        for after, box, shift in self.views():
            painter.save()
            painter.setClipRect(box)
            painter.translate(shift, 0)
            self._paint_one(painter, self._pair, after=after)
            painter.restore()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        for after, box, shift in self.views():
            painter.save()
            painter.setClipRect(box)
            painter.translate(shift, 0)
            if self._mode is ComparisonMode.CHANGES:
                for layer in self._changed:
                    layer.paint(painter, self.viewport)
            seen = box.translated(-shift, 0)
            pins = [pin for pin in self._pins[int(after)] if self._spot_in(pin, seen)]
            paint_pins(painter, self.viewport, pins)
            painter.restore()
        self._paint_marks(painter)

    def _paint_marks(self, painter: QPainter) -> None:
        if self._pair is None:
            return
        labels = (self._pair.before_label, self._pair.after_label)
        whole = QRectF(self.rect())
        if self._mode is ComparisonMode.CHANGES:
            paint_labels(painter, whole, 0.0, ("", labels[int(self._after_seen)]))
            return
        divided = self._mode is ComparisonMode.DIVIDER
        at = self._divider if divided else 0.5
        paint_labels(painter, whole, at, labels)
        if divided:
            paint_foot(painter, whole)
        paint_divider(painter, whole, at, grip=divided)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._dragging = self._on_divider(event.position())
        if not self._dragging:
            super().mousePressEvent(event)

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragging:
            self.move_divider(event.position().x() / max(1, self.width()))
            return
        over = self._on_divider(event.position())
        self.setCursor(Qt.CursorShape.SplitHCursor if over else Qt.CursorShape.ArrowCursor)
        super().mouseMoveEvent(event)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if not self._dragging:
            super().mouseReleaseEvent(event)
        self._dragging = False

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        sideways = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(key)
        if key in MODE_KEYS:
            self.set_mode(MODE_KEYS[key])
        elif key is Qt.Key.Key_Space and self._mode is ComparisonMode.CHANGES:
            self.set_mode(ComparisonMode.CHANGES)
        elif sideways is not None and self._mode is ComparisonMode.DIVIDER:
            finely = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            self.move_divider(self._divider + sideways * (_FINE_STEP if finely else _STEP))
        else:
            super().keyPressEvent(event)

    def views(self) -> tuple[tuple[bool, QRectF, float], ...]:
        """Return what is seen: whether the finished one, in which box, moved by how much."""
        whole = QRectF(self.rect())
        if self._mode is ComparisonMode.SIDE_BY_SIDE:
            half = self.room().width()
            left = QRectF(0, 0, half, whole.height())
            return ((False, left, 0.0), (True, left.translated(half, 0), half))
        if self._mode is ComparisonMode.DIVIDER:
            cut = whole.width() * self._divider
            left = QRectF(0, 0, cut, whole.height())
            right = QRectF(cut, 0, whole.width() - cut, whole.height())
            return ((False, left, 0.0), (True, right, 0.0))
        return ((self._after_seen, whole, 0.0),)

    def _paint_one(self, painter: QPainter, pair: ComparedPhotographs, *, after: bool) -> None:
        viewport = self.viewport
        if not after:
            pair.before.paint(painter, viewport.transform, viewport.zoom)
            return
        scale = sqrt(
            abs(
                pair.after_to_before.m11() * pair.after_to_before.m22()
                - pair.after_to_before.m12() * pair.after_to_before.m21()
            )
        )
        pair.after.paint(painter, pair.after_to_before * viewport.transform, viewport.zoom * scale)

    def _spot_in(self, pin: ViewPin, box: QRectF) -> bool:
        return box.contains(self.viewport.to_screen(QPointF(*pin.spot)))

    def _on_divider(self, at: QPointF) -> bool:
        if self._mode is not ComparisonMode.DIVIDER:
            return False
        near = abs(at.x() - self.width() * self._divider) <= _NEAR
        return near or grip_box(QRectF(self.rect()), self._divider).contains(at)
