"""What can be in hand over the photograph, and which of it is."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from planebench.window.screens.photograph.drawing import Drawer
from planebench.window.screens.photograph.means import CanvasTool
from planebench.window.screens.photograph.outline_work import OutlineWork
from planebench.window.screens.photograph.outlining import OutlineMeans
from planebench.window.screens.photograph.pinning import PinMeans
from planebench.window.screens.photograph.spots import LENGTH, SpotsMeans
from planebench.window.screens.photograph.strokes import KINDS
from planebench.window.screens.photograph.stroking import Brush, StrokeMeans
from planebench.window.screens.photograph.view import WorkView

_NEEDS_OUTLINE = frozenset({"hole", *KINDS})


class ActiveTool(QObject):
    """All means, made once.

    Signals: `drawn(tuple)` a new ring; `refused(str)` why one was not; `drawn_on()` while one is.
    """

    drawn_on = Signal()
    drawn = Signal(object)
    refused = Signal(str)

    def __init__(
        self, view: WorkView, outlines: OutlineWork, drawer: Drawer, parent: QObject
    ) -> None:
        super().__init__(parent)
        self.code = ""
        self.brush = Brush()
        self.pinner = PinMeans(self)
        self.ruler = SpotsMeans(view, LENGTH, self)
        self.scaler = SpotsMeans(view, LENGTH, self)
        self._view = view
        self._outlines = outlines
        self._drawer = drawer
        self._drawer.accepts = outlines.accepts
        self._drawer.changed.connect(self.drawn_on)
        self._outliners = {
            "outline": OutlineMeans(view, self._drawer, self, cuts=False),
            "hole": OutlineMeans(view, self._drawer, self, cuts=True),
        }
        self._strokers = {kind: StrokeMeans(view, self.brush, kind, self) for kind in KINDS}
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


_PAINTING = (OutlineMeans, StrokeMeans, SpotsMeans)
