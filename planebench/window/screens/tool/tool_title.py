"""What stands at the right end of the title: the tool's status, its neighbors, its sheet."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.trade.terms import TOOL_STATUS_WORDS
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.text import small_label
from planebench.window.screens.tool.tool_model import ToolModel


class TitleActs(QObject):
    """The status, Tool before, Tool after, Its sheet.

    Signals: `status_chosen(str)` with the status that was chosen.
    """

    status_chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.status = DropDown(
            "Now", [(status.value, words) for status, words in TOOL_STATUS_WORDS.items()]
        )
        self.status.chosen.connect(self.status_chosen)
        self.before = ActionButton("Tool before")
        self.after = ActionButton("Tool after")
        self.sheet = ActionButton("Its sheet", weight=ButtonWeight.MAIN)
        now = QWidget()
        row = QHBoxLayout(now)
        row.setContentsMargins(0, 0, 12, 0)
        row.setSpacing(6)
        row.addWidget(small_label("Now"))
        row.addWidget(self.status)
        self.controls = (now, self.before, self.after, self.sheet)

    def show(self, shown: ToolModel) -> None:
        """Show the status, and which neighbors there are."""
        self.status.hold(shown.tool.status.value)
        first, last = shown.neighbor(-1) is None, shown.neighbor(1) is None
        self.before.set_disabled_reason("It is the first tool of its batch." if first else "")
        self.after.set_disabled_reason("It is the last tool of its batch." if last else "")
