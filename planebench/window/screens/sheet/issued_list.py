"""The sheets issued for a tool, and what changed in the record since the newest."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.values import IssuedSheet
from planebench.trade.days import format_day
from planebench.trade.wording import join_words
from planebench.window.pieces.lines import MessageNote, SectionHeading
from planebench.window.pieces.text import ElidedLabel, Label, LinkButton
from planebench.window.screens.sheet.sheet_preview import IssuedBefore
from planebench.window.tokens import NOTE


class IssuedList(QWidget):
    """One line per sheet, newest first; hidden while there is none.

    Signals: `file_wanted(IssuedSheet)`.
    """

    file_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[IssuedBefore, ...] = ()
        self._rows: list[QWidget] = []
        self.since = MessageNote()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._column.addWidget(SectionHeading("Issued sheets", ruled=False))
        self._column.addWidget(self.since)
        self.hide()

    def show_issued(self, issued: tuple[IssuedBefore, ...]) -> None:
        """Show the sheets; rows that did not change stay, so keyboard focus stays too."""
        if issued == self._shown:
            return
        self._shown = issued
        for row in self._rows:
            self._column.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows = [_row(each, self.file_wanted.emit) for each in issued]
        for row in self._rows:
            self._column.addWidget(row)
        self._tell_changes(issued)
        self.setVisible(bool(issued))

    def _tell_changes(self, issued: tuple[IssuedBefore, ...]) -> None:
        newest = next((each for each in issued if each.newest), None)
        changed = newest.changed if newest is not None else ()
        self.since.setVisible(bool(changed))
        if newest is not None:
            self.since.show_message(
                f"Changed in the record: {join_words(list(changed))}. "
                "The issued sheet stays as it is; issue a new one for the buyer.",
                f"Changed since sheet {newest.sheet.number:04}",
            )


def _row(each: IssuedBefore, open_file: Callable[[IssuedSheet], object]) -> QWidget:
    sheet = each.sheet
    row = QWidget()
    line = QHBoxLayout(row)
    line.setContentsMargins(0, 0, 0, 0)
    line.setSpacing(12)
    line.addWidget(Label(f"{sheet.number:04}", strong=each.newest))
    by = f" by {sheet.issued_by}" if sheet.issued_by else ""
    line.addWidget(ElidedLabel(f"{format_day(sheet.issued_at.date())}{by}", size=NOTE), 1)
    act = LinkButton("Open PDF", size=NOTE)
    act.setAccessibleName(f"Open the PDF of sheet {sheet.number:04}")
    act.clicked.connect(lambda: open_file(sheet))
    line.addWidget(act, 0, Qt.AlignmentFlag.AlignRight)
    row.setFixedHeight(24)
    return row
