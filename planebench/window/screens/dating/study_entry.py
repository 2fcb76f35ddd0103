"""A type study typed in as a table, a row a variant."""

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
    "One row a variant: its name, its years as people write them, a note and a source; then one "
    "column for each feature, with the form that the variant shows. Part several forms by |, and "
    "leave empty what is not known. Change the example."
)


class StudyTyping(EscLeavesWidget):
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
        self.write = ActionButton("Write it down", weight=ButtonWeight.MAIN)
        leave = ActionButton("Leave it", key="Esc")
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 24, 24, 16)
        column.setSpacing(8)
        column.addWidget(heading("Type a type study in"))
        column.addWidget(Label(_HELP, ink=Ink.MUTED).wrapped())
        column.addWidget(self.box, 1)
        column.addWidget(self.trouble)
        acts = QHBoxLayout()
        acts.setSpacing(8)
        acts.addWidget(self.write)
        acts.addWidget(leave)
        acts.addStretch(1)
        column.addLayout(acts)
        self.write.clicked.connect(lambda: self.wanted.emit(self.box.toPlainText()))
        leave.clicked.connect(self.left)
        self.box.textChanged.connect(self.trouble.hide)

    def begin(self) -> None:
        """Show an example to be changed."""
        if not self.box.toPlainText().strip():
            self.box.setPlainText(_TEMPLATE)
        self.trouble.hide()
        self.box.setFocus()
        self.box.moveCursor(QTextCursor.MoveOperation.Start)
        self.box.moveCursor(QTextCursor.MoveOperation.EndOfLine)

    def refuse(self, error: Exception) -> None:
        """Say what is wrong, with the row and the column."""
        self.trouble.setText(str(error))
        self.trouble.show()
