"""The left of the screen: the two photographs and the tray of ways to see them."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planebench.window.pieces.photo_comparison import ComparisonMode
from planebench.window.pieces.photo_label import Tag
from planebench.window.pieces.tool_box import ToolBox, ToolBoxEntry
from planebench.window.screens.pair.view import PairView

_WAYS = {
    ComparisonMode.DIVIDER: ("divider", "divider", "D"),
    ComparisonMode.SIDE_BY_SIDE: ("side by side", "side-by-side", "B"),
    ComparisonMode.QUICK_CHANGE: ("quick change", "quick-change", "Q"),
    ComparisonMode.WHAT_CHANGED: ("only what changed", "what-changed", "C"),
}


class PairBench(QWidget):
    """The pair with its tray.

    Signals: `act_done(str)`: pins, nudge, whole, one_to_one.
    """

    act_done = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = PairView()
        self.tray = ToolBox("Ways to see the two")
        self._about_change = Tag("Hatched: it looks different there, also by light", self.view)
        self._about_change.hide()
        self._about_change.move(16, 56)
        for way, (words, icon, letter) in _WAYS.items():
            self.tray.add_means(way.value, words, icon, letter)
        self.tray.add_rule()
        self._nudge = self._held(self.tray.add_title_button("nudge", "nudge", letter="N"))
        self._pins = self._held(self.tray.add_title_button("pins", "pins", "pin", "P"))
        self.tray.add_stretch()
        self.tray.add_title_button("whole", "whole", letter="0")
        self.tray.add_title_button("one_to_one", "1:1", letter="1")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.view, 1)
        column.addWidget(self.tray)
        self.tray.take(ComparisonMode.DIVIDER.value)
        self.tray.taken.connect(self._taken)
        self.tray.done.connect(self.act_done)
        self.view.way_changed.connect(self.show_way)

    def show_way(self, way: ComparisonMode) -> None:
        """Show which way is in hand."""
        self.tray.take(way.value)
        self._about_change.setVisible(way is ComparisonMode.WHAT_CHANGED)
        self._nudge.setChecked(self._nudging)
        self._pins.setChecked(self._pinned)

    def show_switches(self, *, nudging: bool, pins: bool) -> None:
        """Show whether one nudges and whether pins are seen."""
        self._nudging, self._pinned = nudging, pins
        self._nudge.setChecked(nudging)
        self._pins.setChecked(pins)

    def _held(self, means: ToolBoxEntry) -> ToolBoxEntry:
        means.setCheckable(True)
        self._nudging, self._pinned = False, True
        return means

    def _taken(self, code: str) -> None:
        self.view.set_way(ComparisonMode(code))
        self.view.setFocus()
