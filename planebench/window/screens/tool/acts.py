"""What stands at the right end of the title: the tool's state, its neighbors, its sheet."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.trade.terms import TOOL_STATUS_WORDS
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.text import note
from planebench.window.screens.tool.model import ToolModel


class TitleActs(QObject):
    """The state, Tool before, Tool after, Its sheet.

    Signals: `stated(str)` with the state that was chosen.
    """

    stated = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.state = DropDown(
            "Now", [(state.value, words) for state, words in TOOL_STATUS_WORDS.items()]
        )
        self.state.chosen.connect(self.stated)
        self.before = ActionButton("Tool before")
        self.after = ActionButton("Tool after")
        self.sheet = ActionButton("Its sheet", weight=ButtonWeight.MAIN)
        now = QWidget()
        row = QHBoxLayout(now)
        row.setContentsMargins(0, 0, 12, 0)
        row.setSpacing(6)
        row.addWidget(note("Now"))
        row.addWidget(self.state)
        self.controls = (now, self.before, self.after, self.sheet)

    def show(self, shown: ToolModel) -> None:
        """Show the state, and which neighbors there are."""
        self.state.hold(shown.tool.state.value)
        first, last = shown.neighbor(-1) is None, shown.neighbor(1) is None
        self.before.set_not_now("It is the first tool of its batch." if first else "")
        self.after.set_not_now("It is the last tool of its batch." if last else "")
