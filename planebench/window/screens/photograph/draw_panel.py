"""How the next ring is drawn: round which surface, and by which kind of line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planebench.catalog.ids import SurfaceId
from planebench.catalog.measuring import RUST
from planebench.catalog.reference import BARE, KindSurface, name_of
from planebench.catalog.values import Surface
from planebench.window.photograph_names import capital
from planebench.window.pieces.buttons import SegmentedSwitch
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import LabeledControl
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.side_panel import margin_free_column
from planebench.window.pieces.text import Ink, Label
from planebench.window.screens.photograph.drawing import EDGES, FREEHAND, LINES
from planebench.window.screens.photograph.model import PhotographModel

_METAL = frozenset({"japanning", "nickel", "plating_other", "paint", BARE})
_HINTS = {
    FREEHAND: "Draw round the surface with the button held; the ring closes where it began.",
    "": "Click along the edge. Enter, a double click or a click on the first point closes the ring;"
    " Backspace takes the last piece back.",
}


Wanted = tuple[SurfaceId | KindSurface, str]
"""A surface to outline and the finish it is judged for; one of the kind's if the tool has none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Choice:
    """One line of the list, and the views that show what it is about."""

    key: str
    words: str
    wanted: Wanted
    views: tuple[str, ...]


class DrawPanel(QWidget):
    """The surface to be outlined and the kind of line.

    Signals: `line_chosen(str)`, one of LINES.
    """

    line_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._offered: dict[str, Wanted] = {}
        self._title = Label("A new outline", strong=True)
        self.surface = DropDown("Surface to outline")
        self._labeled = LabeledControl("Goes round", self.surface)
        self.line = SegmentedSwitch("Kind of line", LINES, holds=EDGES)
        self._hint = Label(_HINTS[""], ink=Ink.MUTED).wrapped()
        column = margin_free_column(self)
        column.addWidget(self._title)
        column.addWidget(self._labeled)
        column.addWidget(self.line)
        column.addWidget(self._hint)
        self._refused = MessageNote(trouble=True)
        self._refused.hide()
        column.addWidget(self._refused)
        self.line.chosen.connect(self._chosen)

    @property
    def wanted(self) -> Wanted | None:
        """The surface to outline and the finish it is judged for; None if there is none."""
        return self._offered.get(self.surface.held)

    def offer(self, shown: PhotographModel) -> None:
        """Offer the surfaces of the tool; held is one without an outline that this view shows.

        Rust comes last, on bare metal too of which nothing was read yet.
        """
        choices = _choices(shown)
        self._offered = {one.key: one.wanted for one in choices}
        fresh = _fresh(choices, shown)
        holds = self.surface.held
        if holds not in {one.key for one in fresh}:
            holds = _first(fresh, shown.photograph.view)
        self.surface.offer([(one.key, one.words) for one in choices], holds=holds)

    def show_for(self, *, hole: bool) -> None:
        """Return whether an outline or a hole is drawn next."""
        self._title.setText("A hole in the chosen outline" if hole else "A new outline")
        self._labeled.setVisible(not hole)

    def show_refusal(self, happened: str, remedy: str = "") -> None:
        """Say why a ring was not taken, beside the photograph; empty once it is drawn on."""
        self._refused.say(remedy, happened, trouble=True)
        self._refused.setVisible(bool(happened))

    @property
    def refusal(self) -> str:
        """Why the ring was not taken; empty where it was."""
        return "" if self._refused.isHidden() else self._refused.accessibleName()

    def next_line(self) -> None:
        """Go to the next kind of line."""
        kinds = list(LINES)
        self.line.hold(kinds[(kinds.index(self.line.held) + 1) % len(kinds)])
        self._chosen(self.line.held)

    def _chosen(self, kind: str) -> None:
        self._hint.setText(_HINTS.get(kind, _HINTS[""]))
        self.line_chosen.emit(kind)


def _choices(shown: PhotographModel) -> list[_Choice]:
    """Return the finishes to be outlined, then the rust on what can rust."""
    finishes = [_choice(shown, one) for one in shown.surfaces if not one.is_bare]
    rust = [_choice(shown, one, rust=True) for one in shown.surfaces if one.finish in _METAL]
    return [*finishes, *rust, *(_bare_choice(one) for one in shown.bare)]


def _fresh(choices: list[_Choice], shown: PhotographModel) -> list[_Choice]:
    """Return those that have no outline on the photograph yet, or all."""
    there = {_key(one.surface, one.finish) for one in shown.outlines}
    return [one for one in choices if one.key not in there] or choices


def _first(choices: Sequence[_Choice], view: str) -> str:
    """Return the first that a view shows, else the first of all; empty for none."""
    seen = [one.key for one in choices if view in one.views]
    return next(iter([*seen, *(one.key for one in choices)]), "")


def _choice(shown: PhotographModel, surface: Surface, *, rust: bool = False) -> _Choice:
    finish = RUST if rust else surface.finish
    known = None if shown.kind is None else shown.kind.surface(surface.code)
    return _Choice(
        key=_key(surface.id, finish),
        words=_rust_words(surface.name) if rust else _words(surface),
        wanted=(surface.id, finish),
        views=() if known is None else known.views,
    )


def _bare_choice(surface: KindSurface) -> _Choice:
    return _Choice(
        key=_key(f"kind {surface.code}", RUST),
        words=_rust_words(surface.name),
        wanted=(surface, RUST),
        views=surface.views,
    )


def _rust_words(name: str) -> str:
    return f"Rust, {name[:1].lower()}{name[1:]}"


def _key(surface: str, finish: str) -> str:
    return f"{surface}|{finish}"


def _words(surface: Surface) -> str:
    return f"{capital(surface.name)}, {name_of('finishes', surface.finish)}"
