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
    area_word,
)

CANVAS_TOOLS = {
    "O": ("outline", "outline", "outline"),
    "H": ("hole", "hole", "hole"),
    "K": ("kept", "kept", "kept"),
    "J": ("patina", "patina", "patina"),
    "L": ("lost", "lost", "lost"),
    "T": ("cannot_tell", "can’t tell", "cannot-tell"),
    "M": ("length", "length", "length"),
    "S": ("scale", "scale", "scale-card"),
    "P": ("pin", "pin", "pin"),
}
_SLIP_EDGE = 16


class PhotographWorkspace(QWidget):
    """The photograph with its tool box.

    Signals: `tool_chosen(str)` with the code of a tool; `command_chosen(str)`: brighten, turn, fit,
    one_to_one.
    """

    tool_chosen = Signal(str)
    command_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = PhotographView()
        self.tool_box = ToolBox("Tool box")
        self.scale = Tag("", self.view)
        self._legend = HatchLegend(self.view)
        self._brighten = self._fill_tool_box()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.view, 1)
        column.addWidget(self.tool_box)
        self.tool_box.tool_chosen.connect(self.tool_chosen)
        self.tool_box.command_chosen.connect(self.command_chosen)
        self.view.view_changed.connect(self._place_slips)

    def show_brightened(self, *, brightened: bool) -> None:
        """Show whether the shadows are brightened."""
        self.view.set_brightened(brightened)
        self._brighten.setChecked(brightened)

    def show_legend(self, *, shown: bool, rust: bool) -> None:
        """Show the legend while there is hatching, and name the stroke tools to match."""
        self._legend.show_words(rust=rust)
        for code, hatch in HATCHES.items():
            self.tool_box.rename(code, area_word(hatch, rust=rust))
        self.tool_box.show_entry("patina", shown=rust)
        self._legend.setVisible(shown)
        self._place_slips()

    def show_scale(self, words: str) -> None:
        """Show the scale in words on the photograph; empty hides it."""
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
        self._legend.move(_SLIP_EDGE, view.height() - self._legend.height() - _SLIP_EDGE)
        size = self.scale.sizeHint()
        self.scale.setFixedSize(size)
        left = view.width() - size.width() - _SLIP_EDGE
        self.scale.move(left, view.height() - size.height() - _SLIP_EDGE)

    def _fill_tool_box(self) -> ToolBoxEntry:
        tool_box = self.tool_box
        for letter, (code, words, icon) in CANVAS_TOOLS.items():
            if letter in "KM":
                tool_box.add_rule()
            tool_box.add_tool(code, words, icon, letter)
        tool_box.show_entry("patina", shown=False)
        tool_box.add_rule()
        brighten = tool_box.add_command("brighten", "brighten", letter="B")
        brighten.setCheckable(True)
        tool_box.add_command("turn", "turn", letter="R")
        tool_box.add_stretch()
        tool_box.add_command("fit", "fit", letter="F")
        tool_box.add_command("one_to_one", "actual size", letter="A")
        return brighten


_NEEDS_OUTLINE = frozenset({"hole", *KINDS})


class CanvasTools(QObject):
    """All canvas tools, made once.

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

    def activate(self, code: str) -> str:
        """Activate a tool, or none for an empty code; return the reason if it cannot be."""
        if code in _NEEDS_OUTLINE and self._outlines.chosen is None:
            first = next(iter(self._outlines.lines()), None)
            if first is None:
                self.deactivate()
                return "No outline is selected."
            self._outlines.choose(first.outline)
        self.code = code
        self._view.take(self._all.get(code))
        layers = self._outlines.layers
        layers.points_shown = code in self._outliners
        tool = self._all.get(code)
        layers.active = [tool] if isinstance(tool, _PAINTING) else []
        self._view.update()
        return ""

    def deactivate(self) -> None:
        """Deactivate the active tool."""
        self.activate("")

    def set_line(self, line: str) -> None:
        """Use another kind of line from the next point on."""
        self._drawer.line = line

    def show_outline(self) -> None:
        """Hand the selected outline's points to the tools that move them."""
        for outliner in self._outliners.values():
            outliner.show_outline(self._outlines.layers.chosen)


_PAINTING = (OutlineTool, StrokeTool, PointsTool)
