"""The photograph on the screen, and the base of the canvas tools that work on it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.pieces.crosshair import Crosshair
from planebench.window.pieces.photo_view import PhotoView


class CanvasTool(QObject):
    """The base of the canvas tools; does nothing. Points are in pixels of the photograph."""

    @property
    def drags(self) -> bool:
        """Whether the tool draws while the button is held."""
        return False

    @property
    def unfinished(self) -> bool:
        """Whether something is begun that undo would shorten."""
        return False

    def take(self) -> None:
        """Become the active tool."""

    def deactivate(self) -> None:
        """Stop being the active tool; drop what is unfinished."""

    def press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        """Handle a press of the button."""

    def drag(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        """Handle a move with the button down."""

    def release(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        """Handle a release of the button."""

    def hover(self, spot: QPointF) -> None:
        """Handle a move of the pointer."""

    def double(self, spot: QPointF) -> None:
        """Handle a double click."""

    def key(self, event: QKeyEvent) -> bool:
        """Handle a key; return whether it was meant for this tool."""
        del event
        return False


_NEAR = 8.0


class PhotographView(PhotoView):
    """A photograph with an active canvas tool; with none, dragging pans and a click selects pins.

    Signals: `letter(str)` for a letter, comma or period that no tool used, `shift_letter(str)`
    with Shift; `deactivated()` when Esc
    leaves the tool; `entered()` by Enter; `pin_off_wanted(int)` by Delete.
    """

    letter = Signal(str)
    shift_letter = Signal(str)
    deactivated = Signal()
    entered = Signal()
    pin_off_wanted = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, movable_pins=True)
        self._tool: CanvasTool | None = None
        self._crosshair = Crosshair()
        self._pen_down = False
        self.pressed.connect(self._press)
        self.dragged.connect(self._drag)
        self.released.connect(self._release)
        self.hovered.connect(self._hover)
        self.double_clicked.connect(self._double)

    @property
    def tool(self) -> CanvasTool | None:
        """The active canvas tool."""
        return self._tool

    def take(self, tool: CanvasTool | None) -> None:
        """Make a tool the active one, or none."""
        if self._tool is not None:
            self._tool.deactivate()
        self._tool = tool
        self._hide_crosshair()
        self.left_drag_pans = tool is None
        self.setCursor(Qt.CursorShape.ArrowCursor if tool is None else Qt.CursorShape.CrossCursor)
        if tool is not None:
            tool.take()
        self.update()

    def reach(self) -> float:
        """Return how near the pointer must be to grab a point, in pixels of the photograph."""
        return _NEAR / self.viewport.zoom

    @override
    def event(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            tool = self._tool
            stepping = event.matches(QKeySequence.StandardKey.Undo)
            if tool is not None and (
                event.key() == Qt.Key.Key_Escape or (stepping and tool.unfinished)
            ):
                event.accept()
                return True
        return super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        tool = self._tool
        if tool is not None and self._tool_key(tool, event):
            return
        if tool is not None and event.key() == Qt.Key.Key_Escape:
            self.deactivated.emit()
        elif not self._tell(event):
            super().keyPressEvent(event)

    def _tell(self, event: QKeyEvent) -> bool:
        """Emit what a key asks for that no tool used; return whether it asks for anything."""
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        elif key is Qt.Key.Key_Delete and self.highlighted_pin is not None:
            self.pin_off_wanted.emit(self.highlighted_pin)
        elif event.text().upper() in _LETTERS and not event.modifiers():
            self.letter.emit(event.text().upper())
        elif event.modifiers() == _SHIFT and event.text().upper() in _WHOLE_LETTERS:
            self.shift_letter.emit(event.text().upper())
        else:
            return False
        return True

    def _tool_key(self, tool: CanvasTool, event: QKeyEvent) -> bool:
        """Let the crosshair, then the tool use a key; an arrow that is left shows the crosshair."""
        used = self._crosshair_key(tool, event) or tool.key(event)
        return used or self._move_crosshair(tool, event)

    def _crosshair_key(self, tool: CanvasTool, event: QKeyEvent) -> bool:
        """Use a key for the crosshair if it is shown; return whether it was meant for it."""
        if self._crosshair.at is None or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._set_at_crosshair(tool)
            return True
        return self._move_crosshair(tool, event)

    def _move_crosshair(self, tool: CanvasTool, event: QKeyEvent) -> bool:
        if not self._crosshair.move(event, self.room()) or self._crosshair.at is None:
            return False
        spot = self.photo_point(self._crosshair.at)
        if self._pen_down:
            tool.drag(spot, Qt.KeyboardModifier.NoModifier)
        else:
            tool.hover(spot)
        self.update()
        return True

    def _set_at_crosshair(self, tool: CanvasTool) -> None:
        """Click at the crosshair; a tool that draws starts or ends its stroke."""
        if self._crosshair.at is None:
            return
        spot, none = self.photo_point(self._crosshair.at), Qt.KeyboardModifier.NoModifier
        if tool.drags:
            self._pen_down = not self._pen_down
            if self._pen_down:
                tool.press(spot, none)
            else:
                tool.release(spot, none)
        elif self._crosshair.set_point():
            tool.double(spot)
        else:
            tool.press(spot, none)
            tool.release(spot, none)
        self.update()

    def _hide_crosshair(self) -> None:
        self._crosshair.hide()
        self._pen_down = False

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        self._crosshair.paint(QPainter(self))

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._hide_crosshair()
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        super().mousePressEvent(event)

    def _press(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if self._tool is not None:
            self._tool.press(spot, modifiers)

    def _drag(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if self._tool is not None:
            self._tool.drag(spot, modifiers)

    def _release(self, spot: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        if self._tool is not None:
            self._tool.release(spot, modifiers)

    def _hover(self, spot: QPointF) -> None:
        if self._tool is not None:
            self._tool.hover(spot)

    def _double(self, spot: QPointF) -> None:
        if self._tool is not None:
            self._tool.double(spot)


_LETTERS = frozenset("OHJKLTMSPRGB,.")
_WHOLE_LETTERS = frozenset("JKL")
_SHIFT = Qt.KeyboardModifier.ShiftModifier
