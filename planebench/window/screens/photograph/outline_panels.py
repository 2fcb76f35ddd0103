"""The panels about outlines: those on the photograph, and how the next one is drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planebench.catalog.ids import OutlineId, SurfaceId
from planebench.catalog.measuring import RUST
from planebench.catalog.reference import BARE, KindSurface, name_of
from planebench.catalog.values import Outline, Surface
from planebench.window.photograph_names import capital
from planebench.window.pieces.buttons import SegmentedSwitch
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import LabeledControl
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.side_panel import add_and_show, clear_layout, margin_free_column
from planebench.window.pieces.side_panel_row import SidePanelRow, hatch_mark
from planebench.window.pieces.text import Ink, Label, small_label
from planebench.window.screens.photograph.outline_tool import EDGES, FREEHAND, LINES
from planebench.window.screens.photograph.photograph_model import PhotographModel


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineSummary:
    """An outline in words and its share in words; the share is empty until it is measured."""

    outline: OutlineId
    words: str
    share: str


class OutlinesPanel(QWidget):
    """A row for each outline.

    Signals: `chosen(str)` the outline's id, empty when the chosen one is left; `bin_wanted(str)`;
    `surface_chosen(str)` with the key of what the selected outline goes around.
    """

    chosen = Signal(str)
    bin_wanted = Signal(str)
    surface_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: dict[OutlineId, SidePanelRow] = {}
        self._model: tuple[object, ...] = ()
        column = margin_free_column(self, 4)
        column.addWidget(small_label("Outlines on this photograph"))
        self._none = Label(
            "None yet. Press O and click along the edge of a surface to measure its finish.",
        ).wrapped()
        column.addWidget(self._none)
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        column.addLayout(self._list)
        self.surface = DropDown("Surface of the selected outline")
        self.surface.chosen.connect(self.surface_chosen)
        self._surface_row = LabeledControl("Surface", self.surface)
        self._surface_row.hide()
        self._surface_asked, self._has_outline = True, False
        column.addWidget(self._surface_row)
        self._said = MessageNote()
        self._said.hide()
        column.addWidget(self._said)

    def show_said(self, said: str) -> None:
        """Show a message about the outlines; empty hides it."""
        happened, _, remedy = said.partition("\n")
        self._said.show_message(remedy, happened)
        self._said.setVisible(bool(said))

    def show_surface(self, subjects: Mapping[str, SubjectChoice], outline: Outline | None) -> None:
        """Offer what the selected outline can go around; None hides the choice."""
        self._has_outline = outline is not None
        self._surface_row.setVisible(self._has_outline and self._surface_asked)
        if outline is not None:
            holds = _key(outline.surface, outline.finish)
            self.surface.offer([(one.key, one.words) for one in subjects.values()], holds=holds)

    def ask_surface(self, *, ask: bool) -> None:
        """Show the surface of the selected outline, or leave it out beside a panel of a tool."""
        self._surface_asked = ask
        self._surface_row.setVisible(self._has_outline and ask)

    def show_lines(self, lines: Sequence[OutlineSummary], chosen: OutlineId | None) -> None:
        """Show these outlines."""
        if (tuple(lines), chosen) == self._model:
            return
        self._model = (tuple(lines), chosen)
        held = next((key for key, row in self.rows.items() if row.hasFocus()), None)
        clear_layout(self._list)
        self.rows = {}
        for line in lines:
            row = self._row(line, on=line.outline == chosen)
            add_and_show(self._list, row)
            self.rows[line.outline] = row
        if held in self.rows:
            self.rows[held].setFocus()
        self._none.setVisible(not lines)

    def _row(self, line: OutlineSummary, *, on: bool) -> SidePanelRow:
        mark = hatch_mark(Hatch.KEPT if line.share else Hatch.NOT_SEEN)
        row = SidePanelRow(line.words, line.share or "not measured yet", mark)
        row.setChecked(on)
        wanted = "" if on else line.outline
        row.clicked.connect(lambda: self.chosen.emit(wanted))
        row.delete_wanted.connect(lambda: self.bin_wanted.emit(line.outline))
        return row


_METAL = frozenset({"japanning", "nickel", "plating_other", "paint", BARE})
_HINTS = {
    FREEHAND: "Hold the button and draw around the surface; release near the start to close "
    "the outline.",
    "": "Click along the edge. Enter, a double click or a click on the first point closes "
    "the outline; Backspace removes the last piece.",
}


OutlineSubject = tuple[SurfaceId | KindSurface, str]
"""A surface to outline and the finish it is judged for; one of the kind's if the tool has none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SubjectChoice:
    """One line of the list, and the views that show what it is about."""

    key: str
    words: str
    subject: OutlineSubject
    views: tuple[str, ...]


class DrawPanel(QWidget):
    """The surface to be outlined and the kind of line.

    Signals: `line_chosen(str)`, one of LINES.
    """

    line_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._offered: dict[str, OutlineSubject] = {}
        self._title = Label("New outline", strong=True)
        self.surface = DropDown("Surface to outline")
        self._labeled = LabeledControl("Surface", self.surface)
        self.line = SegmentedSwitch("Line", LINES, holds=EDGES)
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
    def wanted(self) -> OutlineSubject | None:
        """The surface to outline and the finish it is judged for; None if there is none."""
        return self._offered.get(self.surface.held)

    def offer(self, model: PhotographModel) -> None:
        """Offer the tool's surfaces; selects one that this view shows and that has no outline.

        Rust comes last, including on bare metal that has no reading yet.
        """
        choices = _choices(model)
        self._offered = {one.key: one.subject for one in choices}
        fresh = _fresh(choices, model)
        holds = self.surface.held
        if holds not in {one.key for one in fresh}:
            holds = _first(fresh, model.photograph.view)
        self.surface.offer([(one.key, one.words) for one in choices], holds=holds)

    def show_for(self, *, hole: bool) -> None:
        """Show whether an outline or a hole is drawn next."""
        self._title.setText("Hole in the selected outline" if hole else "New outline")
        self._labeled.setVisible(not hole)

    def show_refusal(self, happened: str, remedy: str = "") -> None:
        """Show why a ring was refused; empty hides it."""
        self._refused.show_message(remedy, happened, trouble=True)
        self._refused.setVisible(bool(happened))

    @property
    def refusal(self) -> str:
        """Why the ring was refused; empty if it was not."""
        return "" if self._refused.isHidden() else self._refused.accessibleName()

    def next_line(self) -> None:
        """Go to the next kind of line."""
        kinds = list(LINES)
        self.line.hold(kinds[(kinds.index(self.line.held) + 1) % len(kinds)])
        self._chosen(self.line.held)

    def _chosen(self, kind: str) -> None:
        self._hint.setText(_HINTS.get(kind, _HINTS[""]))
        self.line_chosen.emit(kind)


def outline_subjects(model: PhotographModel) -> dict[str, SubjectChoice]:
    """Return what an outline can go around, by key: finishes first, then rust."""
    return {one.key: one for one in _choices(model)}


def _choices(model: PhotographModel) -> list[SubjectChoice]:
    """Return the finishes that can be outlined, then the rust on what can rust."""
    finishes = [_choice(model, one) for one in model.surfaces if not one.is_bare]
    rust = [_choice(model, one, rust=True) for one in model.surfaces if one.finish in _METAL]
    return [*finishes, *rust, *(_bare_choice(one) for one in model.bare)]


def _fresh(choices: list[SubjectChoice], model: PhotographModel) -> list[SubjectChoice]:
    """Return the choices without an outline on this photograph; all if every one has one."""
    there = {_key(one.surface, one.finish) for one in model.outlines}
    return [one for one in choices if one.key not in there] or choices


def _first(choices: Sequence[SubjectChoice], view: str) -> str:
    """Return the key of the choice that a view is about, else of the first; empty for none.

    The fewer other views show a surface, the more this one is about it: a side view is taken for
    the cheek, though it shows knob and handle too.
    """
    seen = sorted((one for one in choices if view in one.views), key=lambda one: len(one.views))
    return next((one.key for one in (*seen, *choices)), "")


def _choice(model: PhotographModel, surface: Surface, *, rust: bool = False) -> SubjectChoice:
    finish = RUST if rust else surface.finish
    known = None if model.kind is None else model.kind.surface(surface.code)
    return SubjectChoice(
        key=_key(surface.id, finish),
        words=_rust_words(surface.name) if rust else _words(surface),
        subject=(surface.id, finish),
        views=() if known is None else known.views,
    )


def _bare_choice(surface: KindSurface) -> SubjectChoice:
    return SubjectChoice(
        key=_key(f"kind {surface.code}", RUST),
        words=_rust_words(surface.name),
        subject=(surface, RUST),
        views=surface.views,
    )


def _rust_words(name: str) -> str:
    return f"Rust, {name[:1].lower()}{name[1:]}"


def _key(surface: str, finish: str) -> str:
    return f"{surface}|{finish}"


def _words(surface: Surface) -> str:
    return f"{capital(surface.name)}, {name_of('finishes', surface.finish)}"
