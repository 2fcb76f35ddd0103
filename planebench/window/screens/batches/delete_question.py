"""Asks before a batch is deleted together with its tools."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.values import BatchLine
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.lines import MessageNote


class DeleteQuestion(EscLeavesWidget):
    """The question with Delete and Cancel, hidden until it is asked.

    Signals: `confirmed(str)` with the batch to delete; `left()` by Cancel or Esc.
    """

    confirmed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._batch = ""
        self.message = MessageNote(trouble=True)
        self.delete = ActionButton("Delete", weight=ButtonWeight.MAIN, icon="bin")
        self.cancel = ActionButton("Cancel", key="Esc")
        buttons = QWidget()
        row = QHBoxLayout(buttons)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for button in (self.delete, self.cancel):
            row.addWidget(button)
        row.addStretch(1)
        self.message.add_below(buttons)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.addWidget(self.message)
        self.delete.clicked.connect(self._confirm)
        self.cancel.clicked.connect(self.left)
        self.left.connect(self.hide)
        self.setAccessibleName("Delete this batch?")
        self.hide()

    def ask_for(self, line: BatchLine) -> None:
        """Ask whether to delete a batch with its tools; Cancel has the focus."""
        self._batch = line.batch.id
        tools = "its tool" if line.tools == 1 else f"its {line.tools} tools"
        self.message.show_message(
            "You can restore them from the bin.",
            f"Delete {line.batch.code} and {tools}?",
            trouble=True,
        )
        self.show()
        self.cancel.setFocus()

    def _confirm(self) -> None:
        self.hide()
        self.confirmed.emit(self._batch)
