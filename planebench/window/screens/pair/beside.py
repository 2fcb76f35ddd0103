"""The column beside the pair: what changed, how well the two lie, what can be done."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.catalog.ids import PhotographId
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.side_panel import SidePanel
from planebench.window.screens.pair.changed_panel import ChangedPanel
from planebench.window.screens.pair.laid_panel import LaidPanel
from planebench.window.screens.pair.model import PairShown

_NOT_LAID = "The two are not laid on each other"


class BesidePair(SidePanel):
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
        self.laid = LaidPanel()
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
        for part in (self.changed, Rule(), self.laid):
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

    def show_pair(self, shown: PairShown) -> None:
        """Know what can be carried over and whether the pair is on the sheet."""
        self._before, self._after = shown.before.id, shown.after.id
        self._has_pins = bool(shown.pins_before)
        self._has_outlines = bool(shown.outlines_before)
        on = shown.pair.on_sheet
        self.on_sheet.set_words(
            "Leave this pair off the sheet" if on else "Put this pair on the sheet"
        )

    def show_can(self, *, nudging: bool, laid: bool, trusted: bool) -> None:
        """Show which acts can be done now."""
        self.nudge.set_disabled_reason("" if laid else _NOT_LAID)
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
