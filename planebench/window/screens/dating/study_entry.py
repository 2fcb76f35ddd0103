"""A type study entered as a table, one row per variant."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QTextCursor
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from planebench.window.fonts import text_font
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.text import Ink, Label, heading

_TEMPLATE = """\
# title:
# maker:
# model:
# source:
variant,years,note,source,lever cap,knob
1,1890/1901,,,plain,mushroom
2,c. 1902 to 1910,,,plain|one line of letters,low with a bead
"""
_HELP = (
    "One row per variant: name, years as people write them, note and source; then one "
    "column per feature with the form that the variant shows. Separate several forms with |, and "
    "leave unknown ones empty. Edit the example."
)


class StudyEntry(EscLeavesWidget):
    """Asks for a type study as text. Signals: `wanted(str)`; `left()`."""

    wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.box = QPlainTextEdit()
        self.box.setAccessibleName("Type study as a table")
        self.box.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        self.box.setTabChangesFocus(True)
        self.box.setFont(text_font())
        self.trouble = Label(ink=Ink.RUST).wrapped()
        self.write = ActionButton("Add type study", weight=ButtonWeight.MAIN)
        leave = ActionButton("Cancel", key="Esc")
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 24, 24, 16)
        column.setSpacing(8)
        column.addWidget(heading("Add a type study"))
        column.addWidget(Label(_HELP, ink=Ink.MUTED).wrapped())
        column.addWidget(self.box, 1)
        column.addWidget(self.trouble)
        actions = QHBoxLayout()
        actions.setSpacing(8)
        actions.addWidget(self.write)
        actions.addWidget(leave)
        actions.addStretch(1)
        column.addLayout(actions)
        self.write.clicked.connect(lambda: self.wanted.emit(self.box.toPlainText()))
        leave.clicked.connect(self.left)
        self.box.textChanged.connect(self.trouble.hide)

    def begin(self) -> None:
        """Show an example to edit."""
        if not self.box.toPlainText().strip():
            self.box.setPlainText(_TEMPLATE)
        self.trouble.hide()
        self.box.setFocus()
        self.box.moveCursor(QTextCursor.MoveOperation.Start)
        self.box.moveCursor(QTextCursor.MoveOperation.EndOfLine)

    def refuse(self, error: Exception) -> None:
        """Show what is wrong, with row and column."""
        self.trouble.setText(str(error))
        self.trouble.show()
