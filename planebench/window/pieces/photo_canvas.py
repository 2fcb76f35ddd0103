"""The base of photograph views: zoom and pan by wheel, pinch, drag and keys; layers on top."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtCore import QEvent, QPointF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QGestureEvent, QPinchGesture, QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.pieces.focus_ring import ring_inside
from planebench.window.pieces.picture import lift_shadows
from planebench.window.pieces.viewport import Viewport
from planebench.window.tokens import tokens_now

_NOTCH = 120
_ARROW = 48
_PAN_STEPS = {
    Qt.Key.Key_Left: QPointF(_ARROW, 0),
    Qt.Key.Key_Right: QPointF(-_ARROW, 0),
    Qt.Key.Key_Up: QPointF(0, _ARROW),
    Qt.Key.Key_Down: QPointF(0, -_ARROW),
}
VIEW_KEYS = (
    ("+ -", "zoom in, zoom out"),
    ("F", "fit the window"),
    ("A", "actual size: one pixel of the photograph per pixel of the screen"),
    ("arrows", "pan"),
)


class Layer(Protocol):
    """Something painted over the photograph, in screen pixels."""

    def paint(self, painter: QPainter, viewport: Viewport) -> None:
        """Paint; `viewport` maps the photograph's pixels to the screen."""


class PhotoCanvas(QWidget):
    """The base of the views on photographs.

    `left_drag_pans` True: the left button moves the photograph; False: it emits pressed, dragged,
    released. The middle button always pans.
    Signals, points in pixels of the photograph: `pressed(QPointF, modifiers)`, `dragged(QPointF,
    modifiers)`, `released(QPointF, modifiers)`, `clicked(QPointF)` with the hand,
    `hovered(QPointF)`, `double_clicked(QPointF)`, `view_changed()`.
    """

    spoken_role = QAccessible.Role.Graphic

    pressed = Signal(QPointF, object)
    dragged = Signal(QPointF, object)
    released = Signal(QPointF, object)
    clicked = Signal(QPointF)
    hovered = Signal(QPointF)
    double_clicked = Signal(QPointF)
    view_changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.viewport = Viewport()
        self.left_drag_pans = True
        self._layers: list[Layer] = []
        self._brightened = False
        self._buffer: QImage | None = None
        self._buffer_key: tuple[object, ...] = ()
        self._panning_from: QPointF | None = None
        self._press_at: QPointF | None = None
        self.setMouseTracking(True)
        self.grabGesture(Qt.GestureType.PinchGesture)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        ring_inside(self)

    def add_layer(self, layer: Layer) -> None:
        """Paint a layer above those there are."""
        self._layers.append(layer)
        self.update()

    def set_brightened(self, brightened: bool) -> None:  # noqa: FBT001 (a setter, to be connected to)
        """Show dark tones brighter; the file is not changed."""
        self._brightened = brightened
        self.update()

    def fit(self) -> None:
        """Fit the whole photograph."""
        self.viewport.fit()
        self._viewport_changed()

    def one_to_one(self) -> None:
        """Show one pixel of the photograph per pixel of the screen."""
        self.viewport.zoom_to(1 / self.devicePixelRatioF())
        self._viewport_changed()

    def zoom_by(self, steps: float, about: QPointF | None = None) -> None:
        """Zoom in by so many steps, out if negative."""
        self.viewport.zoom_by(steps, about)
        self._viewport_changed()

    def look_at(self, spot: QPointF) -> None:
        """Center the view on a spot of the photograph."""
        self.viewport.show_spot(spot)
        self._viewport_changed()

    def paint_photo(self, painter: QPainter) -> None:
        """Paint what lies beneath the layers; views override this."""

    def photo_key(self) -> tuple[object, ...]:
        """Return what the picture depends on besides viewport and brightening."""
        return ()

    def local(self, point: QPointF) -> QPointF:
        """Map a point of the widget to the view under it, where there are several."""
        return point

    def room(self) -> QSizeF:
        """Return the size of one view."""
        return QSizeF(self.size())

    def photo_point(self, point: QPointF) -> QPointF:
        """Map a point of the widget to pixels of the photograph."""
        return self.viewport.to_photo(self.local(point))

    @override
    def sizeHint(self) -> QSize:
        return QSize(640, 480)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        self.viewport.set_room(self.room())
        self._viewport_changed()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.drawImage(0, 0, self._photo())
        for layer in self._layers:
            painter.save()
            layer.paint(painter, self.viewport)
            painter.restore()

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        by_touch = event.phase() is not Qt.ScrollPhase.NoScrollPhase
        if by_touch and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.viewport.move_by(QPointF(event.pixelDelta()))
            self._viewport_changed()
        else:
            self.zoom_by(event.angleDelta().y() / _NOTCH, self.local(event.position()))
        event.accept()

    @override
    def event(self, event: QEvent) -> bool:
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() is Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.viewport.zoom_to(
                self.viewport.zoom * (1 + event.value()), self.local(event.position())
            )
            self._viewport_changed()
            return True
        if isinstance(event, QGestureEvent):
            return self._pinched(event)
        return super().event(event)

    def _pinched(self, event: QGestureEvent) -> bool:
        pinch = event.gesture(Qt.GestureType.PinchGesture)
        if not isinstance(pinch, QPinchGesture):
            return False
        middle = self.mapFromGlobal(pinch.hotSpot())
        self.viewport.zoom_to(self.viewport.zoom * pinch.scaleFactor(), self.local(middle))
        self._viewport_changed()
        return True

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom_by(1)
        elif key is Qt.Key.Key_Minus:
            self.zoom_by(-1)
        elif key is Qt.Key.Key_F:
            self.fit()
        elif key is Qt.Key.Key_A:
            self.one_to_one()
        elif key in _PAN_STEPS:
            self.viewport.move_by(_PAN_STEPS[key])
            self._viewport_changed()
        else:
            super().keyPressEvent(event)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        middle = event.button() is Qt.MouseButton.MiddleButton
        left = event.button() is Qt.MouseButton.LeftButton
        if middle or (left and self.left_drag_pans):
            self._panning_from = event.position()
            self._press_at = event.position() if left else None
        elif left:
            self.pressed.emit(self.photo_point(event.position()), event.modifiers())

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        spot = self.photo_point(event.position())
        if self._panning_from is not None:
            self.viewport.move_by(event.position() - self._panning_from)
            self._panning_from = event.position()
            self._viewport_changed()
        elif event.buttons() & Qt.MouseButton.LeftButton:
            self.dragged.emit(spot, event.modifiers())
        else:
            self.hovered.emit(spot)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        spot = self.photo_point(event.position())
        if self._panning_from is not None:
            self._panning_from = None
            started = self._press_at
            if started is not None and (started - event.position()).manhattanLength() <= 2:  # noqa: PLR2004 (a hand's tremble)
                self.clicked.emit(spot)
        elif event.button() is Qt.MouseButton.LeftButton:
            self.released.emit(spot, event.modifiers())

    @override
    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.double_clicked.emit(self.photo_point(event.position()))

    def _viewport_changed(self) -> None:
        self.view_changed.emit()
        self.update()

    def _photo(self) -> QImage:
        """Return the photograph as seen, redrawn only if that changed."""
        ratio = self.devicePixelRatioF()
        ground = tokens_now().panel
        key = (*self.viewport.key, ratio, self._brightened, ground, *self.photo_key())
        if self._buffer is None or key != self._buffer_key:
            image = QImage(self.size() * ratio, QImage.Format.Format_ARGB32_Premultiplied)
            image.setDevicePixelRatio(ratio)
            image.fill(Qt.GlobalColor.transparent if self._brightened else QColor(ground))
            painter = QPainter(image)
            self.paint_photo(painter)
            painter.end()
            if self._brightened:
                # Only the photograph is brightened; the ground is painted under it afterward.
                lift_shadows(image)
                painter = QPainter(image)
                painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_DestinationOver)
                painter.fillRect(self.rect(), QColor(ground))
                painter.end()
            self._buffer, self._buffer_key = image, key
        return self._buffer
