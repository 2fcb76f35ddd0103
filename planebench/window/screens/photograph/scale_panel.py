"""How the photograph gets its scale: two points, a ruler's marks, or a known rectangle."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.catalog.scales import KnownScale
from planebench.errors import InputError
from planebench.trade.units import LengthUnit, parse_length
from planebench.window.pieces.buttons import ActionButton, ButtonWeight, SegmentedSwitch
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.side_panel import margin_free_column
from planebench.window.pieces.text import Ink, Label
from planebench.window.screens.photograph.spots import LENGTH, MARKS, RECTANGLE

_SHAPES = {LENGTH: "two points", MARKS: "ruler marks", RECTANGLE: "rectangle"}
_LABELS = {LENGTH: "Apart", MARKS: "From mark to mark", RECTANGLE: "Width"}
_LENGTHS = {LENGTH: "100 mm or 4 in", MARKS: "10 mm or 1/2 in", RECTANGLE: "90 mm"}
_HINTS = {
    LENGTH: "Click on two marks of a ruler, or any two points whose distance is known. The camera "
    "is taken to look straight down.",
    MARKS: "Click on mark after mark along a ruler that lies on the plane, at even steps, and "
    "leave none out. Four and more tell how well they fit; Backspace takes one back.",
    RECTANGLE: "Click on the corners: top left, top right, bottom right, bottom left. This takes "
    "out the camera’s tilt.",
}


class ScalePanel(QWidget):
    """Where the scale comes from now, and a new one.

    Signals: `shape_chosen(str)`; `set_wanted(Known)`; `take_off_wanted()`; `card_wanted()`;
    `apart_typed()` while the length between the points is typed.
    """

    card_wanted = Signal()
    apart_typed = Signal()
    shape_chosen = Signal(str)
    set_wanted = Signal(object)
    take_off_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._now = Label().wrapped()
        self.shape = SegmentedSwitch("Scale from", _SHAPES, holds=LENGTH)
        self._hint = Label(ink=Ink.MUTED).wrapped()
        self.across = Field("Distance apart", hint="100 mm or 4 in")
        self.down = Field("Height of the rectangle", hint="60 mm")
        self._across = LabeledControl(_LABELS[LENGTH], self.across)
        self._fit = Label().wrapped()
        self._down = LabeledControl("Height", self.down)
        self.write = ActionButton("Set the scale", weight=ButtonWeight.MAIN)
        self.off = ActionButton("Take the scale off")
        self.card = ActionButton("Read the scale card", icon="scale-card")
        self._lay_out()
        self.shape.chosen.connect(self._chosen)
        self.across.typed.connect(lambda _text: self.apart_typed.emit())
        self.write.clicked.connect(self._set)
        self.across.line.returnPressed.connect(self._set)
        self.down.line.returnPressed.connect(self._set)
        self.card.clicked.connect(self.card_wanted)
        self.off.clicked.connect(self.take_off_wanted)
        self._show_shape(LENGTH)

    def show_scale(self, words: str, *, there: bool, still_to_set: int) -> None:
        """Say what the scale is, and how many points are wanting for a new one."""
        self._now.setText(f"{words}.")
        self.card.set_words("Read the card again" if there else "Read the scale card")
        self.off.setVisible(there)
        wanting = f"Set {still_to_set} more points" if still_to_set > 1 else "Set one more point"
        self.write.set_disabled_reason(wanting if still_to_set else "")

    def show_fit(self, words: str, *, doubtful: bool = False) -> None:
        """Tell how many marks are set and how well they fit; empty for nothing."""
        self._fit.setText(words)
        self._fit.set_ink(Ink.RUST if doubtful else Ink.INK)
        self._fit.setVisible(bool(words))

    @property
    def fit(self) -> str:
        """What is told of the marks set."""
        return self._fit.text()

    @property
    def step_mm(self) -> float | None:
        """The length from mark to mark as typed so far, if it can be read already."""
        unit = LengthUnit.MILLIMETER
        try:
            step = float(parse_length(self.across.text, field="distance", default_unit=unit).mm)
        except InputError:
            return None
        return step if step > 0 else None

    def _known(self) -> KnownScale:
        unit = LengthUnit.MILLIMETER
        across = parse_length(self.across.text, field="distance", default_unit=unit)
        down = None
        if self.shape.held == RECTANGLE:
            down = float(parse_length(self.down.text, field="height", default_unit=unit).mm)
        if across.mm <= 0 or down == 0:
            raise InputError(
                "A scale needs a length above nothing.",
                remedy="Give what lies between the points, such as 100 mm.",
                subject="distance" if across.mm <= 0 else "height",
            )
        ruler = self.shape.held == MARKS
        return KnownScale(across_mm=float(across.mm), down_mm=down, ruler=ruler)

    def _set(self) -> None:
        try:
            known = self._known()
        except InputError as error:
            field = self.down if error.subject == "height" else self.across
            field.show_trouble(error)
            return
        self.set_wanted.emit(known)

    def _chosen(self, shape: str) -> None:
        self._show_shape(shape)
        self.shape_chosen.emit(shape)

    def _show_shape(self, shape: str) -> None:
        self._hint.setText(_HINTS[shape])
        self._down.setVisible(shape == RECTANGLE)
        self._across.set_label(_LABELS[shape])
        self.across.line.setPlaceholderText(_LENGTHS[shape])
        self.show_fit("")

    def _lay_out(self) -> None:
        column = margin_free_column(self)
        column.addWidget(Label("Scale", strong=True))
        column.addWidget(self._now)
        by_card = QHBoxLayout()
        by_card.addWidget(self.card)
        by_card.addStretch(1)
        column.addLayout(by_card)
        column.addWidget(self.shape)
        column.addWidget(self._hint)
        sides = QHBoxLayout()
        sides.setSpacing(12)
        sides.addWidget(self._across, 1)
        sides.addWidget(self._down, 1)
        column.addLayout(sides)
        column.addWidget(self._fit)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.write)
        row.addWidget(self.off)
        row.addStretch(1)
        column.addLayout(row)
