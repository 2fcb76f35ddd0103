"""What was measured between points, how sure it is, and what it is to be written down as."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from planebench.errors import InputError
from planebench.trade.photo_measurement import NINETY, HeightAboveCard, MeasuredValue
from planebench.trade.units import LengthUnit, parse_length
from planebench.window.pieces.buttons import ActionButton, SegmentedSwitch
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.side_panel import margin_free_column
from planebench.window.pieces.text import Ink, Label, heading, small_label
from planebench.window.screens.photograph.scaled import inch_words, say_measured
from planebench.window.screens.photograph.spots import ANGLE, CIRCLE, LENGTH

_SHAPES = {LENGTH: "length", ANGLE: "angle", CIRCLE: "circle"}
_HINTS = {
    LENGTH: "Click on both ends. Drag a point or nudge it with the arrows to set it right.",
    ANGLE: "Click on one arm, on the corner, on the other arm.",
    CIRCLE: "Click on three points of the rim; its diameter is measured.",
}


class MeasurePanel(QWidget):
    """The figure and its doubt.

    Signals: `shape_chosen(str)`; `off_plane_changed()`; `use_wanted(str)` with the key offered.
    """

    shape_chosen = Signal(str)
    off_plane_changed = Signal()
    use_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shape = SegmentedSwitch("What is measured", _SHAPES, holds=LENGTH)
        self._figure = heading("", size=24)
        self._other = Label(ink=Ink.MUTED)
        self._hint = Label(ink=Ink.MUTED).wrapped()
        self._doubts = QWidget()
        self._doubt_words = [Label() for _ in range(3)]
        self.height_above = Field("Stands above the scaled plane by", hint="0 mm")
        self.distance = Field("Lens to the plane", hint="about 500 mm")
        self._off = small_label(
            "What stands off the scaled plane measures wrong, by h / (D - h): 10 mm above it seen "
            "from 500 mm measures 2% too large."
        ).wrapped()
        self._no_scale = MessageNote()
        self.use = DropDown("Write it down as")
        self.write = ActionButton("Write it down")
        self._lay_out()
        self.shape.chosen.connect(self._shape_chosen)
        self.height_above.kept.connect(lambda _text: self.off_plane_changed.emit())
        self.distance.kept.connect(lambda _text: self.off_plane_changed.emit())
        self.write.clicked.connect(lambda: self.use_wanted.emit(self.use.held))

    def offer(self, uses: Sequence[tuple[str, str]], *, anew: bool = False) -> None:
        """Offer what the figure can be written down as; `anew` holds the first of it."""
        held = "" if anew else self.use.held
        keys = [key for key, _ in uses]
        self.use.offer(uses, holds=held if held in keys else (keys or [""])[0])

    def off_plane(self) -> HeightAboveCard | None:
        """Return how the thing stands off the plane, None if it lies on it. Raises InputError."""
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
                "The thing would stand nearer than the lens.",
                remedy="Give a height smaller than the distance, such as 10 mm and 500 mm.",
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
            "" if measured is not None and self.use.held else "Set the points"
        )
        if measured is not None:
            self._show_figure(measured)

    def _say_scale(self, *, scaled: bool) -> None:
        if scaled:
            self._no_scale.say("", "")
        else:
            self._no_scale.say(
                "Press S and give two points a known distance apart, or a rectangle.",
                "This photograph has no scale yet",
            )
        self._no_scale.setVisible(not scaled)

    def _show_figure(self, measured: MeasuredValue) -> None:
        angle = self.shape.held == ANGLE
        unit = "°" if angle else "mm"
        self._figure.setText(say_measured(measured, unit))
        self._other.setText("" if angle else f"{inch_words(measured)}, 90% interval")
        doubts = (measured.by_placing, measured.by_scale, measured.by_height)
        for label, doubt in zip(self._doubt_words, doubts, strict=True):
            label.setText(f"± {NINETY * doubt:.2f} {unit}")

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
        for row, words in enumerate(("points set", "scale", "height above the plane")):
            grid.addWidget(Label(words, ink=Ink.MUTED), row, 0)
            grid.addWidget(self._doubt_words[row], row, 1)
        column.addWidget(self._doubts)
        column.addWidget(self._no_scale)
        sides = QHBoxLayout()
        sides.setSpacing(12)
        sides.addWidget(LabeledControl("Stands above the plane by", self.height_above), 1)
        sides.addWidget(LabeledControl("Lens to the plane", self.distance), 1)
        column.addLayout(sides)
        column.addWidget(self._off)
        column.addWidget(LabeledControl("Write it down as", self.use))
        foot = QHBoxLayout()
        foot.addWidget(self.write)
        foot.addStretch(1)
        column.addLayout(foot)
