"""The photograph with its tool box and legend, and which canvas tool is active."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from planebench.window.pieces.photo_label import Tag
from planebench.window.pieces.tool_box import ToolBox, ToolBoxEntry
from planebench.window.screens.photograph.outline_controller import OutlineController
from planebench.window.screens.photograph.outline_tool import OutlineTool, RingDrawing
from planebench.window.screens.photograph.photograph_overlay import HatchLegend
from planebench.window.screens.photograph.photograph_view import CanvasTool, PhotographView
from planebench.window.screens.photograph.point_tools import LENGTH, PinTool, PointsTool
from planebench.window.screens.photograph.stroke_tool import (
    HATCHES,
    KINDS,
    Brush,
    StrokeTool,
    judged_word,
)

CANVAS_TOOLS = {
    "O": ("outline", "outline", "outline"),
    "H": ("hole", "hole", "hole"),
    "K": ("kept", "kept", "kept"),
    "L": ("lost", "lost", "lost"),
    "T": ("cannot_tell", "can’t tell", "cannot-tell"),
    "M": ("length", "length", "length"),
    "S": ("scale", "scale", "scale-card"),
    "P": ("pin", "pin", "pin"),
}
_SLIP_EDGE = 16


class PhotographWorkspace(QWidget):
    """The photograph with its tray.

    Signals: `means_taken(str)` with the code of a means; `act_done(str)`: lift, turn, whole,
    one_to_one.
    """

    means_taken = Signal(str)
    act_done = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = PhotographView()
        self.tray = ToolBox("Means")
        self.scale = Tag("", self.view)
        self._key = HatchLegend(self.view)
        self._lift = self._fill_tray()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.view, 1)
        column.addWidget(self.tray)
        self.tray.taken.connect(self.means_taken)
        self.tray.done.connect(self.act_done)
        self.view.view_changed.connect(self._place_slips)

    def show_lift(self, *, lifted: bool) -> None:
        """Show that the shadows are lifted."""
        self.view.set_lift(lifted)
        self._lift.setChecked(lifted)

    def show_key(self, *, shown: bool, rust: bool) -> None:
        """Show what the hatching means, while there is any, and name the strokes alike."""
        self._key.show_words(rust=rust)
        for code, hatch in HATCHES.items():
            self.tray.name(code, judged_word(hatch, rust=rust))
        self._key.setVisible(shown)
        self._place_slips()

    def show_scale(self, words: str) -> None:
        """Say on the photograph what its scale is; empty for nothing."""
        self.scale.setText(words)
        self.scale.adjustSize()
        self.scale.setVisible(bool(words))
        self._place_slips()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_slips()

    def _place_slips(self) -> None:
        view = self.view
        self._key.move(_SLIP_EDGE, view.height() - self._key.height() - _SLIP_EDGE)
        size = self.scale.sizeHint()
        self.scale.setFixedSize(size)
        left = view.width() - size.width() - _SLIP_EDGE
        self.scale.move(left, view.height() - size.height() - _SLIP_EDGE)

    def _fill_tray(self) -> ToolBoxEntry:
        tray = self.tray
        for letter, (code, words, icon) in CANVAS_TOOLS.items():
            if letter in "KM":
                tray.add_rule()
            tray.add_means(code, words, icon, letter)
        tray.add_rule()
        lift = tray.add_title_button("lift", "lift", letter="U")
        lift.setCheckable(True)
        tray.add_title_button("turn", "turn", letter="R")
        tray.add_stretch()
        tray.add_title_button("whole", "whole", letter="0")
        tray.add_title_button("one_to_one", "1:1", letter="1")
        return lift


_NEEDS_OUTLINE = frozenset({"hole", *KINDS})


class CanvasTools(QObject):
    """All means, made once.

    Signals: `drawn(tuple)` a new ring; `refused(str)` why one was not; `drawn_on()` while one is.
    """

    drawn_on = Signal()
    drawn = Signal(object)
    refused = Signal(str)

    def __init__(
        self,
        view: PhotographView,
        outlines: OutlineController,
        drawer: RingDrawing,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self.code = ""
        self.brush = Brush()
        self.pinner = PinTool(self)
        self.ruler = PointsTool(view, LENGTH, self)
        self.scaler = PointsTool(view, LENGTH, self)
        self._view = view
        self._outlines = outlines
        self._drawer = drawer
        self._drawer.accepts = outlines.accepts
        self._drawer.changed.connect(self.drawn_on)
        self._outliners = {
            "outline": OutlineTool(view, self._drawer, self, cuts=False),
            "hole": OutlineTool(view, self._drawer, self, cuts=True),
        }
        self._strokers = {kind: StrokeTool(view, self.brush, kind, self) for kind in KINDS}
        self._all: dict[str, CanvasTool] = {
            **self._outliners,
            **self._strokers,
            "length": self.ruler,
            "scale": self.scaler,
            "pin": self.pinner,
        }
        for outliner in self._outliners.values():
            outliner.drawn.connect(self.drawn)
            outliner.altered.connect(outlines.alter)
            outliner.refused.connect(self.refused)
        for stroker in self._strokers.values():
            stroker.stroked.connect(outlines.stroke)

    def take(self, code: str) -> str:
        """Take a means in hand, or none for an empty code; say why if it can't be taken."""
        if code in _NEEDS_OUTLINE and self._outlines.chosen is None:
            first = next(iter(self._outlines.lines()), None)
            if first is None:
                self.lay_down()
                return "No outline is chosen."
            self._outlines.choose(first.outline)
        self.code = code
        self._view.take(self._all.get(code))
        layers = self._outlines.layers
        layers.points_shown = code in self._outliners
        means = self._all.get(code)
        layers.in_hand = [means] if isinstance(means, _PAINTING) else []
        self._view.update()
        return ""

    def lay_down(self) -> None:
        """Lay down what is in hand."""
        self.take("")

    def set_line(self, line: str) -> None:
        """Draw by another kind of line from the next point on."""
        self._drawer.line = line

    def show_outline(self) -> None:
        """Return the chosen outline's points to the means that move them."""
        for outliner in self._outliners.values():
            outliner.show_outline(self._outlines.layers.chosen)


_PAINTING = (OutlineTool, StrokeTool, PointsTool)
