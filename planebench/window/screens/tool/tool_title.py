"""The controls in the title line of a tool: status, previous and next tool, condition sheet."""

from __future__ import annotations

from typing import ClassVar

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.trade.terms import TOOL_STATUS_WORDS, ToolStatus
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.text import small_label
from planebench.window.screens.tool.tool_model import ToolModel


class ToolTitleControls(QObject):
    """Status, Previous tool, Next tool and Condition sheet.

    Signals: `status_chosen(str)` with the new status.
    """

    status_chosen = Signal(str)

    _NEXT: ClassVar[dict[ToolStatus, tuple[ToolStatus, str]]] = {
        ToolStatus.AS_FOUND: (ToolStatus.ON_BENCH, "Start work"),
        ToolStatus.ON_BENCH: (ToolStatus.FINISHED, "Mark finished"),
        ToolStatus.FINISHED: (ToolStatus.OFFERED, "Mark offered"),
        ToolStatus.OFFERED: (ToolStatus.SOLD, "Mark sold"),
    }

    def __init__(self) -> None:
        super().__init__()
        self.status = DropDown(
            "Status", [(status.value, words) for status, words in TOOL_STATUS_WORDS.items()]
        )
        self.status.chosen.connect(self.status_chosen)
        self.next_status = ActionButton("Start work")
        self.next_status.clicked.connect(self._choose_next)
        self.previous = ActionButton("Previous tool")
        self.next = ActionButton("Next tool")
        self.sheet = ActionButton("Condition sheet", weight=ButtonWeight.MAIN)
        now = QWidget()
        row = QHBoxLayout(now)
        row.setContentsMargins(0, 0, 12, 0)
        row.setSpacing(6)
        row.addWidget(small_label("Status"))
        row.addWidget(self.status)
        row.addWidget(self.next_status)
        self.controls = (now, self.previous, self.next, self.sheet)

    def show(self, shown: ToolModel) -> None:
        """Show the status; disable Previous or Next at the ends of the batch."""
        self.status.hold(shown.tool.status.value)
        following = self._NEXT.get(shown.tool.status)
        self.next_status.setVisible(following is not None)
        if following is not None:
            self.next_status.set_words(following[1])
        first, last = shown.neighbor(-1) is None, shown.neighbor(1) is None
        self.previous.set_disabled_reason("This is the first tool in the batch." if first else "")
        self.next.set_disabled_reason("This is the last tool in the batch." if last else "")

    def _choose_next(self) -> None:
        following = self._NEXT.get(ToolStatus(self.status.held))
        if following is not None:
            self.status_chosen.emit(following[0].value)
