"""How the next ring is drawn: round which surface, and by which kind of line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planebench.catalog.ids import SurfaceId
from planebench.catalog.measuring import RUST
from planebench.catalog.reference import BARE, name_of
from planebench.catalog.values import Outline, Surface
from planebench.window.naming import capital
from planebench.window.pieces.act import SegmentedSwitch
from planebench.window.pieces.choices import DropDown
from planebench.window.pieces.column import plain_column
from planebench.window.pieces.field import Labeled
from planebench.window.pieces.words import Ink, Words
from planebench.window.screens.photograph.drawing import EDGES, FREEHAND, LINES

_METAL = frozenset({"japanning", "nickel", "plating_other", "paint", BARE})
_HINTS = {
    FREEHAND: "Draw round the surface with the button held; the ring closes where it began.",
    "": "Click along the edge. Enter, a double click or a click on the first point closes the ring;"
    " Backspace takes the last piece back.",
}


class DrawPanel(QWidget):
    """The surface to be outlined and the kind of line.

    Signals: `line_chosen(str)`, one of LINES.
    """

    line_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = Words("A new outline", strong=True)
        self.surface = DropDown("Surface to outline")
        self._labeled = Labeled("Goes round", self.surface)
        self.line = SegmentedSwitch("Kind of line", LINES, holds=EDGES)
        self._hint = Words(_HINTS[""], ink=Ink.MUTED).wrapped()
        column = plain_column(self)
        column.addWidget(self._title)
        column.addWidget(self._labeled)
        column.addWidget(self.line)
        column.addWidget(self._hint)
        self.line.chosen.connect(self._chosen)

    @property
    def wanted(self) -> tuple[SurfaceId, str] | None:
        """The surface to outline and the finish it is judged for; None if there is none."""
        surface, _, finish = self.surface.held.partition("|")
        return (SurfaceId(surface), finish) if surface and finish else None

    def offer(self, surfaces: Sequence[Surface], outlines: Sequence[Outline]) -> None:
        """Offer the surfaces of the tool; the first that has no outline here yet is held."""
        choices = _choices(surfaces)
        there = {_key(one.surface, one.finish) for one in outlines}
        held = self.surface.held
        keys = [key for key, _ in choices]
        fresh = [key for key in keys if key not in there] or keys
        self.surface.offer(choices, holds=held if held in fresh else (fresh or [""])[0])

    def show_for(self, *, hole: bool) -> None:
        """Say whether an outline or a hole is drawn next."""
        self._title.setText("A hole in the chosen outline" if hole else "A new outline")
        self._labeled.setVisible(not hole)

    def next_line(self) -> None:
        """Go to the next kind of line."""
        kinds = list(LINES)
        self.line.hold(kinds[(kinds.index(self.line.held) + 1) % len(kinds)])
        self._chosen(self.line.held)

    def _chosen(self, kind: str) -> None:
        self._hint.setText(_HINTS.get(kind, _HINTS[""]))
        self.line_chosen.emit(kind)


def _choices(surfaces: Sequence[Surface]) -> list[tuple[str, str]]:
    """Give the finishes to be outlined, then the rust on what can rust, by key and words."""
    finishes = [(_key(one.id, one.finish), _words(one)) for one in surfaces if one.finish != BARE]
    rust = [
        (_key(one.id, RUST), f"Rust, {one.name.lower()}")
        for one in surfaces
        if one.finish in _METAL
    ]
    return [*finishes, *rust]


def _key(surface: SurfaceId, finish: str) -> str:
    return f"{surface}|{finish}"


def _words(surface: Surface) -> str:
    return f"{capital(surface.name)}, {name_of('finishes', surface.finish)}"
