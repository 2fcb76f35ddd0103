"""The panels about lengths and the photograph’s scale."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from planebench.catalog.photo_scales import KnownScale
from planebench.errors import InputError
from planebench.trade.photo_measurement import NINETY, HeightAboveCard, MeasuredValue
from planebench.trade.units import LengthUnit, parse_length
from planebench.window.pieces.buttons import ActionButton, ButtonWeight, SegmentedSwitch
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.side_panel import margin_free_column
from planebench.window.pieces.text import Ink, Label, heading, small_label
from planebench.window.screens.photograph.measurement_text import (
    format_measured,
    format_measured_inches,
)
from planebench.window.screens.photograph.point_tools import ANGLE, CIRCLE, LENGTH, MARKS, RECTANGLE

_SHAPES = {LENGTH: "length", ANGLE: "angle", CIRCLE: "circle"}
_HINTS = {
    LENGTH: "Click both ends. Drag a point, or nudge it with the arrows.",
    ANGLE: "Click a point on one side, the corner, then a point on the other side.",
    CIRCLE: "Click three points on the rim to measure the diameter.",
}


class MeasurePanel(QWidget):
    """A measured figure and its uncertainty.

    Signals: `shape_chosen(str)`; `off_plane_changed()`; `use_wanted(str)` with the key offered.
    """

    shape_chosen = Signal(str)
    off_plane_changed = Signal()
    use_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shape = SegmentedSwitch("What to measure", _SHAPES, holds=LENGTH)
        self._figure = heading("", size=24)
        self._other = Label(ink=Ink.MUTED)
        self._hint = Label(ink=Ink.MUTED).wrapped()
        self._doubts = QWidget()
        self._doubt_words = [Label() for _ in range(3)]
        self.height_above = Field("Height above the card", hint="0 mm")
        self.distance = Field("Lens to the card", hint="about 500 mm")
        self._off = small_label(
            "Parts nearer the camera than the card read too large: 10 mm above it, seen from "
            "500 mm, reads 2% too large."
        ).wrapped()
        self._no_scale = MessageNote()
        self.use = DropDown("Record as")
        self.write = ActionButton("Record")
        self._lay_out()
        self.shape.chosen.connect(self._shape_chosen)
        self.height_above.kept.connect(lambda _text: self.off_plane_changed.emit())
        self.distance.kept.connect(lambda _text: self.off_plane_changed.emit())
        self.write.clicked.connect(lambda: self.use_wanted.emit(self.use.held))

    def offer(self, uses: Sequence[tuple[str, str]], *, anew: bool = False) -> None:
        """Offer what the figure can be recorded as; `anew` selects the first."""
        held = "" if anew else self.use.held
        keys = [key for key, _ in uses]
        self.use.offer(uses, holds=held if held in keys else (keys or [""])[0])

    def off_plane(self) -> HeightAboveCard | None:
        """Return the height above the card, None if it lies in its plane. Raises InputError."""
        if not self.height_above.text.strip():
            return None
        unit = LengthUnit.MILLIMETER
        height = parse_length(self.height_above.text, field="height", default_unit=unit)
        text = self.distance.text or "500 mm"
        away = parse_length(text, field="distance", default_unit=unit)
        try:
            return HeightAboveCard(
                height_mm=float(height.mm), within_mm=1.0, distance_mm=float(away.mm)
            )
        except ValueError as error:
            raise InputError(
                "That height reaches the lens.",
                remedy="Enter a height smaller than the distance, such as 10 mm and 500 mm.",
                subject="height",
            ) from error

    def show_measured(self, measured: MeasuredValue | None, *, scaled: bool) -> None:
        """Show a figure, or what to do to get one."""
        self._hint.setText(_HINTS[self.shape.held])
        self._hint.setVisible(measured is None)
        self._say_scale(scaled=scaled)
        for part in (self._figure, self._other, self._doubts):
            part.setVisible(measured is not None)
        self.write.set_disabled_reason(
            "" if measured is not None and self.use.held else "Set the points first"
        )
        if measured is not None:
            self._show_figure(measured)

    def _say_scale(self, *, scaled: bool) -> None:
        if scaled:
            self._no_scale.show_message("", "")
        else:
            self._no_scale.show_message(
                "Press S, then set two points a known distance apart, or a rectangle.",
                "This photograph has no scale yet",
            )
        self._no_scale.setVisible(not scaled)

    def _show_figure(self, measured: MeasuredValue) -> None:
        angle = self.shape.held == ANGLE
        unit = "°" if angle else "mm"
        self._figure.setText(format_measured(measured, unit))
        self._other.setText("" if angle else f"{format_measured_inches(measured)}, 90% interval")
        doubts = (measured.by_placing, measured.by_scale, measured.by_height)
        for label, doubt in zip(self._doubt_words, doubts, strict=True):
            label.setText(f"±{NINETY * doubt:.2f} {unit}")

    def _shape_chosen(self, shape: str) -> None:
        self._hint.setText(_HINTS[shape])
        self.shape_chosen.emit(shape)

    def _lay_out(self) -> None:
        column = margin_free_column(self)
        column.addWidget(Label("Measure", strong=True))
        column.addWidget(self.shape)
        column.addWidget(self._hint)
        column.addWidget(self._figure)
        column.addWidget(self._other)
        grid = QGridLayout(self._doubts)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        for row, words in enumerate(("points", "scale", "height above the card")):
            grid.addWidget(Label(words, ink=Ink.MUTED), row, 0)
            grid.addWidget(self._doubt_words[row], row, 1)
        column.addWidget(self._doubts)
        column.addWidget(self._no_scale)
        sides = QHBoxLayout()
        sides.setSpacing(12)
        sides.addWidget(LabeledControl("Height above the card", self.height_above), 1)
        sides.addWidget(LabeledControl("Lens to the card", self.distance), 1)
        column.addLayout(sides)
        column.addWidget(self._off)
        column.addWidget(LabeledControl("Record as", self.use))
        foot = QHBoxLayout()
        foot.addWidget(self.write)
        foot.addStretch(1)
        column.addLayout(foot)


_SCALE_SHAPES = {LENGTH: "two points", MARKS: "ruler marks", RECTANGLE: "rectangle"}
_LABELS = {LENGTH: "Apart", MARKS: "Mark to mark", RECTANGLE: "Width"}
_LENGTHS = {LENGTH: "100 mm or 4 in", MARKS: "10 mm or 1/2 in", RECTANGLE: "90 mm"}
_SCALE_HINTS = {
    LENGTH: "Click two points a known distance apart, such as two marks on a ruler. This "
    "assumes the camera looks straight down.",
    MARKS: "Click the marks along a ruler on the tool’s surface, evenly spaced, without "
    "skipping any. With four or more you see how well they fit; Backspace removes the "
    "last.",
    RECTANGLE: "Click the corners: top left, top right, bottom right, bottom left. This "
    "corrects the camera’s tilt.",
}


class ScalePanel(QWidget):
    """Where the scale comes from now, and a new one.

    Signals: `shape_chosen(str)`; `set_wanted(Known)`; `remove_wanted()`; `card_wanted()`;
    `apart_typed()` while the length between the points is typed.
    """

    card_wanted = Signal()
    apart_typed = Signal()
    shape_chosen = Signal(str)
    set_wanted = Signal(object)
    remove_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._now = Label().wrapped()
        self.shape = SegmentedSwitch("Scale from", _SCALE_SHAPES, holds=LENGTH)
        self._hint = Label(ink=Ink.MUTED).wrapped()
        self.across = Field("Distance apart", hint="100 mm or 4 in")
        self.down = Field("Height of the rectangle", hint="60 mm")
        self._across = LabeledControl(_LABELS[LENGTH], self.across)
        self._fit = Label().wrapped()
        self._down = LabeledControl("Height", self.down)
        self.write = ActionButton("Set the scale", weight=ButtonWeight.MAIN)
        self.off = ActionButton("Remove the scale")
        self.card = ActionButton("Read the scale card", icon="scale-card")
        self._lay_out()
        self.shape.chosen.connect(self._chosen)
        self.across.typed.connect(lambda _text: self.apart_typed.emit())
        self.write.clicked.connect(self._set)
        self.across.line.returnPressed.connect(self._set)
        self.down.line.returnPressed.connect(self._set)
        self.card.clicked.connect(self.card_wanted)
        self.off.clicked.connect(self.remove_wanted)
        self._show_shape(LENGTH)

    def show_scale(self, words: str, *, there: bool, still_to_set: int) -> None:
        """Show the scale, and how many points a new one still needs."""
        self._now.setText(f"{words}.")
        self.card.set_words("Read the card again" if there else "Read the scale card")
        self.off.setVisible(there)
        wanting = f"Set {still_to_set} more points" if still_to_set > 1 else "Set one more point"
        self.write.set_disabled_reason(wanting if still_to_set else "")

    def show_fit(self, words: str, *, doubtful: bool = False) -> None:
        """Show how many marks are set and how well they fit; empty hides it."""
        self._fit.setText(words)
        self._fit.set_ink(Ink.RUST if doubtful else Ink.INK)
        self._fit.setVisible(bool(words))

    @property
    def fit(self) -> str:
        """What is shown about the marks."""
        return self._fit.text()

    @property
    def step_mm(self) -> float | None:
        """The length from mark to mark in mm as typed so far; None while it cannot be parsed."""
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
                "A scale needs a length greater than zero.",
                remedy="Enter the distance between the points, such as 100 mm.",
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
        self._hint.setText(_SCALE_HINTS[shape])
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
