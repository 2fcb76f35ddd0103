"""Messages below the title: advice stays with its screen, trouble until closed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.window.notices import Notice, Tone
from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.lines import MessageNote
from planebench.window.tokens import PAGE_EDGE

# More would push the work off a small screen.
_SHOWN_AT_ONCE = 3


class _Row(QWidget):
    """One message and its buttons."""

    def __init__(self, tone: Tone, parent: QWidget) -> None:
        super().__init__(parent)
        self.tone = tone


class NoticeBar(Background):
    """Shows the three newest messages; older ones come up as these close."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("panel", parent, ruled=Qt.Edge.BottomEdge)
        self.setAccessibleName("Messages")
        self._rows: list[_Row] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(PAGE_EDGE, 8, PAGE_EDGE, 8)
        self._column.setSpacing(8)
        self.hide()

    def show_notice(self, notice: Notice) -> None:
        """Add a message on top."""
        row = _Row(notice.tone, self)
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(8)
        title = f"{notice.subject}: {notice.happened}" if notice.subject else notice.happened
        line.addWidget(MessageNote(notice.remedy, title, trouble=notice.tone is Tone.TROUBLE), 1)
        if notice.offer is not None:
            offered = ActionButton(notice.offer.words)
            offered.clicked.connect(notice.offer.action)
            line.addWidget(offered, 0, Qt.AlignmentFlag.AlignTop)
        copy = ActionButton("Copy message")
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(notice.text))
        close = ActionButton("Close")
        close.clicked.connect(lambda: self._close(row))
        line.addWidget(copy, 0, Qt.AlignmentFlag.AlignTop)
        line.addWidget(close, 0, Qt.AlignmentFlag.AlignTop)
        self._rows.insert(0, row)
        self._column.insertWidget(0, row)
        self._show_newest()

    @property
    def texts(self) -> tuple[str, ...]:
        """The messages, newest first."""
        notes = (row.findChild(MessageNote) for row in self._rows)
        return tuple(note.accessibleName() for note in notes if note is not None)

    def leave_screen(self) -> None:
        """Remove the advice that belonged to the screen that is left; trouble stays."""
        for row in [row for row in self._rows if row.tone is Tone.ADVICE]:
            self._close(row)

    def _close(self, row: _Row) -> None:
        self._rows.remove(row)
        self._column.removeWidget(row)
        row.deleteLater()
        self._show_newest()

    def _show_newest(self) -> None:
        for number, row in enumerate(self._rows):
            row.setVisible(number < _SHOWN_AT_ONCE)
        self.setVisible(bool(self._rows))
