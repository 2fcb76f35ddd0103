"""The column beside the pair: what changed, how well the two align, what can be done."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from planebench.catalog.ids import PhotographId
from planebench.catalog.pair_alignment import PairAlignment
from planebench.catalog.values import Photograph
from planebench.photo.align import AlignmentQuality
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.side_panel import SidePanel, margin_free_column
from planebench.window.pieces.text import Ink, Label, small_label
from planebench.window.screens.pair.changed_panel import ChangedPanel
from planebench.window.screens.pair.pair_model import PairModel

_TELLS = {
    AlignmentQuality.GOOD: "Trust: good. Handle, knob and cutter stand above the bed, so they lie beside "
    "themselves; what is carried over is bent to fit them.",
    AlignmentQuality.WEAK: "Trust: weak. Look at what was carried over before using it; nudge what is off.",
    AlignmentQuality.NONE: "Trust: none. These may be two different planes, or two different views. They are "
    "shown as they are, and nothing is carried over.",
}


class AlignmentPanel(QWidget):
    """The fit of the two."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._values = [Label() for _ in range(3)]
        self._names = [
            Label(text, ink=Ink.MUTED)
            for text in ("points that agree", "typical miss", "nudged by")
        ]
        self._told = small_label().wrapped()
        column = margin_free_column(self, 4)
        column.addWidget(Label("How well the two lie on each other", strong=True))
        grid = QGridLayout()
        grid.setVerticalSpacing(4)
        grid.setHorizontalSpacing(16)
        grid.setColumnStretch(1, 1)
        for row, (name, value) in enumerate(zip(self._names, self._values, strict=True)):
            grid.addWidget(name, row, 0)
            grid.addWidget(value, row, 1)
        column.addLayout(grid)
        column.addWidget(self._told)
        self.show_waiting()

    def show_waiting(self) -> None:
        """Say that it is being reckoned."""
        for part in (*self._names, *self._values):
            part.hide()
        self._told.setText("Being laid on each other …")

    def show_trouble(self, words: str) -> None:
        """Say why they could not be laid on each other."""
        self.show_waiting()
        self._told.setText(words)

    def show_alignment(self, alignment: PairAlignment, after: Photograph) -> None:
        """Show the figures of a fit."""
        miss = f"{alignment.median_error_px:.1f} px"
        each = (after.scale or {}).get("mm_per_px")
        if isinstance(each, int | float):
            miss += f" ({alignment.median_error_px * each:.1f} mm)"
        x, y = alignment.nudge
        texts = (
            f"{alignment.inliers} of {alignment.looked_for}",
            miss if alignment.trust is not AlignmentQuality.NONE else "not told",
            f"{x:.0f} px across, {y:.0f} px down",
        )
        for value, text in zip(self._values, texts, strict=True):
            value.setText(text)
        for number, (name, value) in enumerate(zip(self._names, self._values, strict=True)):
            model = number < 2 or alignment.nudge != (0.0, 0.0)  # noqa: PLR2004 (the nudge comes third)
            name.setVisible(model)
            value.setVisible(model)
        self._told.setText(_TELLS[alignment.trust])


_NOT_LAID = "The two are not laid on each other"


class PairPanel(SidePanel):
    """The column.

    Signals: `nudge_wanted()`, `carry_pins_wanted()`, `carry_outlines_wanted()`,
    `on_sheet_wanted()`, `photograph_wanted(str)` to work on one of the two.
    """

    nudge_wanted = Signal()
    carry_pins_wanted = Signal()
    carry_outlines_wanted = Signal()
    on_sheet_wanted = Signal()
    photograph_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("What changed", parent)
        self.changed = ChangedPanel()
        self.alignment = AlignmentPanel()
        self.nudge = ActionButton("Nudge")
        self.nudge.setCheckable(True)
        self.pins = ActionButton("Carry pins over")
        self.outlines = ActionButton("Carry outlines over")
        self.on_sheet = ActionButton("Put this pair on the sheet")
        self._one = ActionButton("Work on the one as found")
        self._other = ActionButton("On the finished one")
        self._before: PhotographId | None = None
        self._after: PhotographId | None = None
        self._has_outlines = self._has_pins = False
        for part in (self.changed, Rule(), self.alignment):
            self.panels.addWidget(part)
        self.panels.addStretch(1)
        for acts in (
            (self._one, self._other),
            (self.pins, self.outlines),
            (self.nudge, self.on_sheet),
        ):
            row = QHBoxLayout()
            row.setSpacing(8)
            for act in acts:
                row.addWidget(act)
            row.addStretch(1)
            self.foot.addLayout(row)
        self._connect()

    def show_pair(self, model: PairModel) -> None:
        """Know what can be carried over and whether the pair is on the sheet."""
        self._before, self._after = model.before.id, model.after.id
        self._has_pins = bool(model.pins_before)
        self._has_outlines = bool(model.outlines_before)
        on = model.pair.on_sheet
        self.on_sheet.set_words(
            "Leave this pair off the sheet" if on else "Put this pair on the sheet"
        )

    def show_can(self, *, nudging: bool, alignment: bool, trusted: bool) -> None:
        """Show which acts can be done now."""
        self.nudge.set_disabled_reason("" if alignment else _NOT_LAID)
        self.nudge.setChecked(nudging)
        no_pins = "" if self._has_pins else "No pin is on the one as found"
        self.pins.set_disabled_reason(no_pins if trusted else _NOT_LAID)
        no_outlines = "" if self._has_outlines else "No outline is on the one as found"
        self.outlines.set_disabled_reason(no_outlines if trusted else _NOT_LAID)

    def _connect(self) -> None:
        self.nudge.clicked.connect(self.nudge_wanted)
        self.pins.clicked.connect(self.carry_pins_wanted)
        self.outlines.clicked.connect(self.carry_outlines_wanted)
        self.on_sheet.clicked.connect(self.on_sheet_wanted)
        self._one.clicked.connect(lambda: self._want(self._before))
        self._other.clicked.connect(lambda: self._want(self._after))

    def _want(self, photograph: PhotographId | None) -> None:
        if photograph is not None:
            self.photograph_wanted.emit(photograph)
