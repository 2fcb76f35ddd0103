"""What pins can show on the photograph: defects by number, signs of date by letter."""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planebench.window.photograph_names import Subject
from planebench.window.pieces.side_panel import add_and_show, clear_layout, margin_free_column
from planebench.window.pieces.side_panel_row import SidePanelRow, balloon_mark
from planebench.window.pieces.text import Ink, Label, LinkButton


class PinsPanel(QWidget):
    """A row for each defect and sign; the chosen one is set by the next click with the pin.

    Signals: `chosen(str)` with the key of a subject; `take_off_wanted(str)` by Delete on its row;
    `record_wanted()` to write down defects or signs.
    """

    chosen = Signal(str)
    take_off_wanted = Signal(str)
    record_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: dict[str, SidePanelRow] = {}
        self._asked: tuple[object, ...] = ()
        column = margin_free_column(self, 4)
        column.addWidget(Label("Pins", strong=True))
        self._none = Label(
            "No defect or sign of date is written down yet. Write one down in the tool’s record, "
            "then set its pin here.",
            ink=Ink.MUTED,
        ).wrapped()
        self._hint = Label(ink=Ink.MUTED).wrapped()
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        record = LinkButton("To the tool’s record")
        record.clicked.connect(self.record_wanted)
        column.addWidget(self._hint)
        column.addWidget(self._none)
        column.addLayout(self._list)
        column.addWidget(record)

    @property
    def rows(self) -> dict[str, SidePanelRow]:
        """The rows by the key of their subject."""
        return self._rows

    def show_subjects(
        self, subjects: Collection[Subject], pinned: Collection[str], chosen: str
    ) -> None:
        """Show what can be pinned and what is; keys of subjects."""
        asked = (tuple(subjects), frozenset(pinned), chosen)
        if asked == self._asked:
            return
        self._asked = asked
        had_focus = next((key for key, row in self._rows.items() if row.hasFocus()), "")
        clear_layout(self._list)
        self._rows = {}
        for subject in subjects:
            lit = subject.key == chosen
            remark = "pinned" if subject.key in pinned else "not on this one"
            row = SidePanelRow(subject.words, remark, balloon_mark(subject.mark, lit=lit))
            row.setChecked(lit)
            row.clicked.connect(lambda _on=False, key=subject.key: self.chosen.emit(key))
            row.delete_wanted.connect(lambda key=subject.key: self.take_off_wanted.emit(key))
            add_and_show(self._list, row)
            self._rows[subject.key] = row
        if had_focus in self._rows:
            self._rows[had_focus].setFocus()
        self._none.setVisible(not subjects)
        self._hint.setVisible(bool(subjects))

    def say(self, hint: str) -> None:
        """Say what the next click does."""
        self._hint.setText(hint)
