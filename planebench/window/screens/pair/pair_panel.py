"""The column beside the pair: what changed, how well the two align, what can be done."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.catalog.ids import PhotographId
from planebench.catalog.pair_alignment import PairAlignment, describe_alignment
from planebench.catalog.values import Photograph
from planebench.photo.align import AlignmentQuality
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.side_panel import SidePanel, margin_free_column
from planebench.window.pieces.text import Label, LinkButton, small_label
from planebench.window.screens.pair.changed_panel import ChangedPanel
from planebench.window.screens.pair.matching_points import MatchingPoints
from planebench.window.screens.pair.pair_model import PairModel

_ADVICE = {
    AlignmentQuality.GOOD: "Raised parts, such as handle, knob and cutter, do not line up exactly; "
    "copied outlines are adjusted.",
    AlignmentQuality.WEAK: "Check what you copy, and nudge the alignment if it is off.",
    AlignmentQuality.NONE: "These may be two different planes, or two different views. They are "
    "shown side by side, and nothing can be copied. To align them yourself, click three or four "
    "matching points on each.",
}


class AlignmentPanel(QWidget):
    """How well the two photographs align: one sentence, with the figures on demand.

    Signals: `points_wanted()` to set matching points, `align_wanted()` with those set,
    `points_over()` to cancel them; `reset_wanted()` to align automatically again.
    """

    points_wanted = Signal()
    align_wanted = Signal()
    points_over = Signal()
    reset_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._summary = Label(strong=True).wrapped()
        self._advice = small_label().wrapped()
        self._details = small_label().wrapped()
        self._show_details = LinkButton("Details")
        self._show_details.clicked.connect(self._toggle_details)
        self.by_points = ActionButton("Align by points")
        self.align = ActionButton("Align", weight=ButtonWeight.MAIN)
        self.cancel = ActionButton("Cancel", key="Esc")
        self.reset = ActionButton("Align automatically")
        self._lay_out()
        self.show_waiting()

    @property
    def summary(self) -> str:
        """The sentence shown."""
        return self._summary.text()

    @property
    def advice(self) -> str:
        """What it means, or what to do."""
        return self._advice.text()

    @property
    def details(self) -> str:
        """The figures, shown on demand."""
        return self._details.text()

    def show_waiting(self) -> None:
        """Say that the alignment is being computed."""
        self._show_sentence("Aligning…", "")

    def show_trouble(self, words: str) -> None:
        """Say why the two could not be aligned."""
        advice = "Align them by three or four points, or compare them side by side."
        self._show_sentence("The two photographs could not be aligned", f"{words} {advice}")

    def show_points(self, points: MatchingPoints) -> None:
        """Say which matching point to set next."""
        self._show_sentence("Align by points", points.words)
        self.align.set_disabled_reason("" if points.is_complete else "Set the points first")
        self._show_buttons(setting=True)

    def show_alignment(self, alignment: PairAlignment, after: Photograph, *, stored: bool) -> None:
        """Show the quality and typical error; `stored`: a person set or nudged it."""
        advice = "" if alignment.by_points else _ADVICE[alignment.quality]
        self._show_sentence(describe_alignment(alignment, after), advice)
        self.reset.setVisible(stored)
        if alignment.quality is AlignmentQuality.NONE:
            return
        matches = f"{alignment.inliers} of {alignment.feature_count} features match"
        if alignment.by_points:
            matches = f"{alignment.inliers} points"
        error = f"typical error {alignment.median_error_px:.1f} pixels"
        x, y = alignment.nudge
        nudge = f"; nudged by {x:.0f} pixels across, {y:.0f} down" if (x, y) != (0.0, 0.0) else ""
        self._details.setText(f"{matches}; {error}{nudge}.")
        self._show_details.show()

    def _lay_out(self) -> None:
        column = margin_free_column(self, 4)
        for part in (self._summary, self._advice, self._show_details, self._details):
            column.addWidget(part)
        row = QHBoxLayout()
        row.setSpacing(8)
        for button in (self.by_points, self.align, self.cancel, self.reset):
            row.addWidget(button)
        row.addStretch(1)
        column.addLayout(row)
        self.by_points.clicked.connect(self.points_wanted)
        self.align.clicked.connect(self.align_wanted)
        self.cancel.clicked.connect(self.points_over)
        self.reset.clicked.connect(self.reset_wanted)

    def _show_sentence(self, summary: str, advice: str) -> None:
        self._summary.setText(summary)
        self._advice.setText(advice)
        self._advice.setVisible(bool(advice))
        self._details.hide()
        self._show_details.hide()
        self._show_buttons(setting=False)

    def _show_buttons(self, *, setting: bool) -> None:
        self.by_points.setVisible(not setting)
        self.align.setVisible(setting)
        self.cancel.setVisible(setting)
        self.reset.hide()

    def _toggle_details(self) -> None:
        self._details.setVisible(self._details.isHidden())


_NOT_ALIGNED = "The two photographs are not aligned"


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
        self.pins = ActionButton("Copy pins")
        self.outlines = ActionButton("Copy outlines")
        self.on_sheet = ActionButton("Put this pair on the sheet")
        self._one = ActionButton("Open before")
        self._other = ActionButton("Open after")
        self._before: PhotographId | None = None
        self._after: PhotographId | None = None
        self._has_outlines = self._has_pins = False
        self._rule = Rule()
        for part in (self.changed, self._rule, self.alignment):
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
        """Take what can be copied and whether the pair is on the sheet."""
        self._before, self._after = model.before.id, model.after.id
        self._has_pins = bool(model.pins_before)
        self._has_outlines = bool(model.outlines_before)
        on = model.pair.on_sheet
        self.on_sheet.set_words(
            "Leave this pair off the sheet" if on else "Put this pair on the sheet"
        )

    def show_alignment_first(self, *, first: bool, alone: bool) -> None:
        """Show the alignment above what changed, or below it; `alone` hides what changed."""
        self.panels.insertWidget(0 if first or alone else 2, self.alignment)
        for part in (self.changed, self._rule):
            part.setVisible(not alone)

    def show_can(self, *, nudging: bool, alignment: bool, trusted: bool) -> None:
        """Enable the buttons that make sense now."""
        self.nudge.set_disabled_reason("" if alignment else _NOT_ALIGNED)
        self.nudge.setChecked(nudging)
        no_pins = "" if self._has_pins else "The first photograph has no pins"
        self.pins.set_disabled_reason(no_pins if trusted else _NOT_ALIGNED)
        no_outlines = "" if self._has_outlines else "The first photograph has no outlines"
        self.outlines.set_disabled_reason(no_outlines if trusted else _NOT_ALIGNED)

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
