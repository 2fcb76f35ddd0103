"""Files that could not be taken in, each with what is wrong and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.import_values import FileOutcome
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.text import ElidedLabel, Ink, Label

_MOST_SHOWN = 200
_HIGHEST, _NAME_WIDE = 148, 150


class _Whole(QWidget):
    """All rows. Signals: `grown()` once they want another height."""

    grown = Signal()

    @override
    def event(self, event: QEvent) -> bool:
        answered = super().event(event)
        if event.type() is QEvent.Type.LayoutRequest:
            self.grown.emit()
        return answered


class Refusals(QScrollArea):
    """A row a file; hidden while there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setAccessibleName("What could not be taken in")
        self.outcomes: list[FileOutcome] = []
        self._begin()

    def show_outcomes(self, outcomes: Sequence[FileOutcome]) -> None:
        """Show these files and no others."""
        if list(outcomes) == self.outcomes:
            return
        self.outcomes = []
        self._begin()
        self.add(outcomes)

    def add(self, outcomes: Sequence[FileOutcome]) -> None:
        """Show more files below."""
        room = max(0, _MOST_SHOWN - len(self.outcomes))
        for outcome in outcomes[:room]:
            self._rows.addWidget(_row(outcome))
        self.outcomes += outcomes
        count = len(self.outcomes)
        plural = "file" if count == 1 else "files"
        self._note.say("", f"{count} {plural} could not be taken in", trouble=True)
        self.setVisible(count > 0)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Be as high as the rows are, and no higher than a few of them."""
        whole = self.widget()
        if whole is not None:
            wide, usual = self.viewport().width(), whole.sizeHint().height()
            high = whole.heightForWidth(wide) if whole.hasHeightForWidth() else usual
            # Else the words are given the room that they would need on the narrowest page.
            whole.setMinimumHeight(high)
            self.setFixedHeight(min(_HIGHEST, high))

    def _begin(self) -> None:
        self._note = MessageNote(trouble=True)
        held = QWidget()
        self._rows = QVBoxLayout(held)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(0)
        self._note.lay_in(held)
        whole = _Whole()
        whole.grown.connect(self._fit)
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._note)
        column.addStretch(1)
        self.setWidget(whole)
        self.hide()


def _row(outcome: FileOutcome) -> QWidget:
    line = QWidget()
    row = QHBoxLayout(line)
    row.setContentsMargins(0, 0, 0, 0)
    name = ElidedLabel(Path(outcome.file).name)
    name.setFixedWidth(_NAME_WIDE)
    name.setToolTip(outcome.file)
    row.addWidget(name, 0, Qt.AlignmentFlag.AlignTop)
    told = Label(f"{outcome.happened} {outcome.remedy}", ink=Ink.MUTED).wrapped()
    told.setAlignment(Qt.AlignmentFlag.AlignTop)
    row.addWidget(told, 1)
    return line
