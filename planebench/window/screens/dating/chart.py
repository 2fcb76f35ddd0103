"""The chart: the scale of years, the signs under it, and the result."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.ids import EvidenceId
from planebench.window.pieces.text import Ink, Words, heading
from planebench.window.screens.dating.across import Across, Axis, Scale
from planebench.window.screens.dating.model import DatingModel
from planebench.window.screens.dating.result import ResultPart
from planebench.window.screens.dating.rows import EvidenceList

_MUCH, _SOME = 1000, 30


class Chart(QWidget):
    """Signs over one scale of years.

    Signals: `moved()` to another sign; `toggled(SignId)` to count or leave out; `opened()` by
    Enter or a double click.
    """

    moved = Signal()
    toggled = Signal(str)
    opened = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scale = Scale(across=Across(width=800, first=1850, last=1950))
        self.list = EvidenceList(self._scale)
        self.result = ResultPart(self._scale)
        self._axis = Axis(self._scale)
        self._empty = heading("No sign of its date yet")
        self._empty_help = Words(
            "Press N, or choose Enter a sign: a number, a date, a form of a part, a paper, or "
            "what someone remembers. Or compare it with a type study.",
            ink=Ink.MUTED,
        ).wrapped()
        self._lay_out()
        self.list.moved.connect(self.moved)
        self.list.toggled.connect(self.toggled)
        self.list.activated.connect(lambda _index: self.opened.emit())

    @property
    def current(self) -> EvidenceId | None:
        """The sign chosen."""
        return self.list.current

    def show_shown(
        self, shown: DatingModel, *, choose: EvidenceId | None = None, change: str = ""
    ) -> None:
        """Show a tool's signs and date."""
        across = self._scale.across
        self._scale.across = replace(across, first=shown.first, last=shown.last)
        self._scale.bands = shown.bands
        self.list.show_lines(shown.lines, choose)
        self.result.show_result(shown, change)
        nothing = not shown.lines
        for part in (self._empty, self._empty_help):
            part.setVisible(nothing)
        for shown_part in (self._axis, self.list, self.result):
            shown_part.setVisible(not nothing)
        self._repaint()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._scale.across = replace(self._scale.across, width=self.width())
        self._repaint()

    def _repaint(self) -> None:
        self.result.place_words()
        self._axis.update()
        self.list.viewport().update()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(0)
        for words_ in (self._empty, self._empty_help):
            words_.setContentsMargins(24, 16, 24, 0)
            words_.hide()
            column.addWidget(words_)
        column.addWidget(self._axis)
        column.addWidget(self.list, _MUCH)
        column.addWidget(self.result, _SOME)
        column.addStretch(1)
