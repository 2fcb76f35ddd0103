"""The two photographs of a pair on the screen, with the tool box under them."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QSizeF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from planebench.window.pieces.crosshair import Crosshair
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.photo_comparison import ComparisonMode, PhotoComparison
from planebench.window.pieces.photo_label import Tag
from planebench.window.pieces.tool_box import ToolBox, ToolBoxEntry
from planebench.window.screens.pair.matching_points import MatchingPoints, paint_numbered

_ARROWS = {
    Qt.Key.Key_Left: QPointF(-1, 0),
    Qt.Key.Key_Right: QPointF(1, 0),
    Qt.Key.Key_Up: QPointF(0, -1),
    Qt.Key.Key_Down: QPointF(0, 1),
}


class PairView(PhotoComparison):
    """While nudging, arrows and dragging move the photograph after, not the divider or the view.

    Signals: `nudged(QPointF)` by how many pixels of the photograph before; `nudge_over()` by Esc
    or Enter; `pins_wanted()` by P; `nudge_wanted()` by N. While matching points are set:
    `points_changed()`, `points_done()`, `points_over()` by Esc.
    """

    nudged = Signal(QPointF)
    nudge_over = Signal()
    nudge_wanted = Signal()
    pins_wanted = Signal()
    points_changed = Signal()
    points_done = Signal()
    points_over = Signal()
    # A class attribute: Qt sends events before __init__ has finished.
    _nudging = False
    _points: MatchingPoints | None = None

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._from: QPointF | None = None
        self._crosshair = Crosshair()
        self._pressed_at = QPointF()
        self.clicked.connect(lambda _spot: self._set_point(self._pressed_at))
        self.pressed.connect(self._press)
        self.dragged.connect(self._drag)
        self.released.connect(self._release)

    def set_nudging(self, *, nudging: bool) -> None:
        """Start or stop nudging."""
        self._nudging = nudging
        self.left_drag_pans = not nudging
        shape = Qt.CursorShape.SizeAllCursor if nudging else Qt.CursorShape.ArrowCursor
        self.setCursor(shape)

    def set_points(self, points: MatchingPoints | None) -> None:
        """Start setting matching points, side by side, or stop with None."""
        self._points = points
        self._crosshair.hide()
        if points is not None:
            self.set_mode(ComparisonMode.SIDE_BY_SIDE)
        self.update()

    @override
    def event(self, event: QEvent) -> bool:
        keeps = self._nudging or self._points is not None
        return (keeps and keeps_esc(event)) or super().event(event)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._crosshair.hide()
        self._pressed_at = event.position()
        super().mousePressEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._points is None:
            return
        painter = QPainter(self)
        for after, half, shift in self.views():
            painter.save()
            painter.setClipRect(half)
            painter.translate(shift, 0)
            for number, point in enumerate(self._points.sides[int(after)], start=1):
                shown = self.to_before.map(point) if after else point
                paint_numbered(painter, self.viewport.to_screen(shown), number)
            painter.restore()
        self._crosshair.paint(painter)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self._points is not None and self._points_key(self._points, event):
            return
        if self._nudging and self._nudge_key(event):
            return
        wanted = {Qt.Key.Key_P: self.pins_wanted, Qt.Key.Key_N: self.nudge_wanted}
        signal = wanted.get(Qt.Key(event.key()))
        if signal is None:
            super().keyPressEvent(event)
        else:
            signal.emit()

    def _nudge_key(self, event: QKeyEvent) -> bool:
        """Use a key while nudging; return whether it was meant for it."""
        key = Qt.Key(event.key())
        if key in _ARROWS:
            far = 10 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            self.nudged.emit(_ARROWS[key] * far / self.viewport.zoom)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            self.nudge_over.emit()
        else:
            return False
        return True

    def _points_key(self, points: MatchingPoints, event: QKeyEvent) -> bool:
        """Use a key while matching points are set; return whether it was meant for them."""
        key = Qt.Key(event.key())
        at = self._crosshair.at
        if key is Qt.Key.Key_Escape:
            self.points_over.emit()
        elif key is Qt.Key.Key_Backspace:
            points.remove_last()
            self.points_changed.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if at is None or self._crosshair.set_point():
                self.points_done.emit()
            else:
                self._set_point(at)
        elif not self._crosshair.move(event, QSizeF(self.size())):
            return False
        self.update()
        return True

    def _set_point(self, at: QPointF) -> None:
        """Set a matching point at a place of the widget, on the photograph that is seen there."""
        if self._points is None:
            return
        after = at.x() >= self.room().width()
        spot = self.photo_point(at)
        if after:
            spot = self.to_before.inverted()[0].map(spot)
        self._points.add(spot, after=after)
        self.points_changed.emit()
        self.update()

    def _press(self, spot: QPointF, _modifiers: object) -> None:
        self._from = spot

    def _drag(self, spot: QPointF, _modifiers: object) -> None:
        if self._nudging and self._from is not None:
            self.nudged.emit(spot - self._from)
            self._from = spot

    def _release(self, _spot: QPointF, _modifiers: object) -> None:
        self._from = None


_MODES = {
    ComparisonMode.DIVIDER: ("divider", "divider", "D"),
    ComparisonMode.SIDE_BY_SIDE: ("side by side", "side-by-side", "B"),
    ComparisonMode.CHANGES: ("changes", "what-changed", "C"),
}


class PairWorkspace(QWidget):
    """The pair with its tool box.

    Signals: `command_chosen(str)`: pins, nudge, whole, one_to_one.
    """

    command_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = PairView()
        self.tool_box = ToolBox("Ways to compare")
        self._about_change = Tag(
            "Hatched where the two look different; light alone can cause it", self.view
        )
        self._about_change.hide()
        self._about_change.move(16, 56)
        for mode, (words, icon, letter) in _MODES.items():
            self.tool_box.add_tool(mode.value, words, icon, letter)
        self.tool_box.add_rule()
        self._nudge = self._checkable(self.tool_box.add_command("nudge", "nudge", letter="N"))
        self._pins = self._checkable(self.tool_box.add_command("pins", "pins", "pin", "P"))
        self.tool_box.add_stretch()
        self.tool_box.add_command("fit", "fit", letter="F")
        self.tool_box.add_command("one_to_one", "actual size", letter="A")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.view, 1)
        column.addWidget(self.tool_box)
        self.tool_box.select(ComparisonMode.DIVIDER.value)
        self.tool_box.tool_chosen.connect(self._taken)
        self.tool_box.command_chosen.connect(self.command_chosen)
        self.view.mode_changed.connect(self.show_mode)

    def show_mode(self, mode: ComparisonMode) -> None:
        """Show the mode in use."""
        self.tool_box.select(mode.value)
        self._about_change.setVisible(mode is ComparisonMode.CHANGES)
        self._nudge.setChecked(self._nudging)
        self._pins.setChecked(self._pinned)

    def show_switches(self, *, nudging: bool, pins: bool) -> None:
        """Show whether nudging is on and whether pins are shown."""
        self._nudging, self._pinned = nudging, pins
        self._nudge.setChecked(nudging)
        self._pins.setChecked(pins)

    def _checkable(self, entry: ToolBoxEntry) -> ToolBoxEntry:
        entry.setCheckable(True)
        self._nudging, self._pinned = False, True
        return entry

    def _taken(self, code: str) -> None:
        self.view.set_mode(ComparisonMode(code))
        self.view.setFocus()
