"""The outlines on the photograph, each with what was read in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planebench.catalog.ids import OutlineId
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.side_panel import add_and_show, clear_layout, margin_free_column
from planebench.window.pieces.side_panel_row import SidePanelRow, hatch_mark
from planebench.window.pieces.text import Label, small_label


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineLine:
    """An outline in words, and its share as told; empty while it was not judged."""

    outline: OutlineId
    words: str
    share: str


class OutlinesPanel(QWidget):
    """A row for each outline.

    Signals: `chosen(str)` the outline's id, empty when the chosen one is left; `bin_wanted(str)`.
    """

    chosen = Signal(str)
    bin_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: dict[OutlineId, SidePanelRow] = {}
        self._shown: tuple[object, ...] = ()
        column = margin_free_column(self, 4)
        column.addWidget(small_label("Outlines on this photograph"))
        self._none = Label(
            "None yet. Press O and click along the edge of a surface to measure its finish.",
        ).wrapped()
        column.addWidget(self._none)
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        column.addLayout(self._list)
        self._said = MessageNote()
        self._said.hide()
        column.addWidget(self._said)

    def show_said(self, said: str) -> None:
        """Tell how the outlines came here; empty for nothing."""
        happened, _, remedy = said.partition("\n")
        self._said.say(remedy, happened)
        self._said.setVisible(bool(said))

    def show_lines(self, lines: Sequence[OutlineLine], chosen: OutlineId | None) -> None:
        """Show these outlines."""
        if (tuple(lines), chosen) == self._shown:
            return
        self._shown = (tuple(lines), chosen)
        held = next((key for key, row in self.rows.items() if row.hasFocus()), None)
        clear_layout(self._list)
        self.rows = {}
        for line in lines:
            row = self._row(line, on=line.outline == chosen)
            add_and_show(self._list, row)
            self.rows[line.outline] = row
        if held in self.rows:
            self.rows[held].setFocus()
        self._none.setVisible(not lines)

    def _row(self, line: OutlineLine, *, on: bool) -> SidePanelRow:
        mark = hatch_mark(Hatch.KEPT if line.share else Hatch.NOT_SEEN)
        row = SidePanelRow(line.words, line.share or "not judged yet", mark)
        row.setChecked(on)
        wanted = "" if on else line.outline
        row.clicked.connect(lambda: self.chosen.emit(wanted))
        row.delete_wanted.connect(lambda: self.bin_wanted.emit(line.outline))
        return row
