"""The left of the screen: the photograph, the slips of paper on it, the tray under it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from planebench.window.pieces.photo_label import Tag
from planebench.window.pieces.tool_box import ToolBox, ToolBoxEntry
from planebench.window.screens.photograph.key_slip import KeySlip
from planebench.window.screens.photograph.strokes import judged_word
from planebench.window.screens.photograph.stroking import HATCHES
from planebench.window.screens.photograph.view import WorkView

MEANS = {
    "O": ("outline", "outline", "outline"),
    "H": ("hole", "hole", "hole"),
    "K": ("kept", "kept", "kept"),
    "L": ("lost", "lost", "lost"),
    "T": ("cannot_tell", "can’t tell", "cannot-tell"),
    "M": ("length", "length", "length"),
    "S": ("scale", "scale", "scale-card"),
    "P": ("pin", "pin", "pin"),
}
_SLIP_EDGE = 16


class PhotographBench(QWidget):
    """The photograph with its tray.

    Signals: `means_taken(str)` with the code of a means; `act_done(str)`: lift, turn, whole,
    one_to_one.
    """

    means_taken = Signal(str)
    act_done = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = WorkView()
        self.tray = ToolBox("Means")
        self.scale = Tag("", self.view)
        self._key = KeySlip(self.view)
        self._lift = self._fill_tray()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.view, 1)
        column.addWidget(self.tray)
        self.tray.taken.connect(self.means_taken)
        self.tray.done.connect(self.act_done)
        self.view.view_changed.connect(self._place_slips)

    def show_lift(self, *, lifted: bool) -> None:
        """Show that the shadows are lifted."""
        self.view.set_lift(lifted)
        self._lift.setChecked(lifted)

    def show_key(self, *, shown: bool, rust: bool) -> None:
        """Show what the hatching means, while there is any, and name the strokes alike."""
        self._key.show_words(rust=rust)
        for code, hatch in HATCHES.items():
            self.tray.name(code, judged_word(hatch, rust=rust))
        self._key.setVisible(shown)
        self._place_slips()

    def show_scale(self, words: str) -> None:
        """Say on the photograph what its scale is; empty for nothing."""
        self.scale.setText(words)
        self.scale.adjustSize()
        self.scale.setVisible(bool(words))
        self._place_slips()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_slips()

    def _place_slips(self) -> None:
        view = self.view
        self._key.move(_SLIP_EDGE, view.height() - self._key.height() - _SLIP_EDGE)
        size = self.scale.sizeHint()
        self.scale.setFixedSize(size)
        left = view.width() - size.width() - _SLIP_EDGE
        self.scale.move(left, view.height() - size.height() - _SLIP_EDGE)

    def _fill_tray(self) -> ToolBoxEntry:
        tray = self.tray
        for letter, (code, words, icon) in MEANS.items():
            if letter in "KM":
                tray.add_rule()
            tray.add_means(code, words, icon, letter)
        tray.add_rule()
        lift = tray.add_title_button("lift", "lift", letter="U")
        lift.setCheckable(True)
        tray.add_title_button("turn", "turn", letter="R")
        tray.add_stretch()
        tray.add_title_button("whole", "whole", letter="0")
        tray.add_title_button("one_to_one", "1:1", letter="1")
        return lift
