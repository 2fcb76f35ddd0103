"""A type study entered or edited: its title, maker, model and source, and a grid of variants."""

from __future__ import annotations

import csv
from io import StringIO

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.trade.type_study import FIXED, TypeStudy
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.text import Ink, Label, heading
from planebench.window.screens.dating.study_grid import StudyGrid

_HELP = (
    "One row per variant: name, years as people write them, note and source; then one column per "
    "feature with the form that the variant shows. Separate several forms with |, and leave "
    "unknown ones empty. Paste rows from a spreadsheet with Ctrl+V."
)
_FIELDS = (("title", "Title"), ("maker", "Maker"), ("model", "Model"), ("source", "Source"))


class StudyEntry(EscLeavesWidget):
    """Asks for a type study. Signals: `wanted(str)` with its table as CSV; `left()`."""

    wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = heading()
        self._invented = False
        self.fields = {key: Field(name) for key, name in _FIELDS}
        self.grid = StudyGrid()
        self.feature = Field("New feature", hint="lever cap, knob…")
        self.trouble = Label(ink=Ink.RUST).wrapped()
        self.write = ActionButton("Save type study", weight=ButtonWeight.MAIN)
        self._leave = ActionButton("Cancel", key="Esc")
        self._lay_out()
        self.write.clicked.connect(lambda: self.wanted.emit(self.text))
        self._leave.clicked.connect(self.left)
        self.feature.line.returnPressed.connect(self._add_feature)
        self.grid.itemChanged.connect(lambda _item: self.trouble.hide())

    @property
    def text(self) -> str:
        """The study as CSV."""
        out = StringIO()
        for key, field in self.fields.items():
            if field.text.strip():
                out.write(f"# {key}: {field.text.strip()}\n")
        if self._invented:
            out.write("# invented: yes\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow((*FIXED, *self.grid.features))
        writer.writerows(self.grid.texts)
        return out.getvalue()

    def begin(self, study: TypeStudy | None) -> None:
        """Show an existing study to edit, or empty fields and rows."""
        self._title.setText("Add a type study" if study is None else "Edit the type study")
        self._invented = study is not None and study.invented
        for key, field in self.fields.items():
            field.set_text("" if study is None else str(getattr(study, key)))
        if study is None:
            self.grid.show_rows((), [[""] * len(FIXED)])
        else:
            self.grid.show_rows(study.features, _rows_of(study))
        self.trouble.hide()
        self.fields["title"].setFocus()

    def refuse(self, error: Exception) -> None:
        """Show what is wrong, with row and column."""
        self.trouble.setText(str(error))
        self.trouble.show()

    def _add_feature(self) -> None:
        name = self.feature.text.strip()
        if name and name not in self.grid.features:
            self.grid.add_feature(name)
            self.feature.line.clear()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 24, 24, 16)
        column.setSpacing(8)
        column.addWidget(self._title)
        column.addWidget(Label(_HELP, ink=Ink.MUTED).wrapped())
        about = QHBoxLayout()
        about.setSpacing(8)
        for key, name in _FIELDS:
            about.addWidget(LabeledControl(name, self.fields[key]), 2 if key == "title" else 1)
        column.addLayout(about)
        self.grid.setMinimumHeight(160)  # header and four rows
        column.addWidget(self.grid, 1)
        column.addLayout(self._grid_buttons())
        column.addWidget(self.trouble)
        buttons = QHBoxLayout()
        buttons.setSpacing(8)
        buttons.addWidget(self.write)
        buttons.addWidget(self._leave)
        buttons.addStretch(1)
        column.addLayout(buttons)

    def _grid_buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        for words, act in (
            ("Add variant", self.grid.add_row),
            ("Duplicate", self.grid.duplicate_row),
            ("Remove", self.grid.remove_rows),
        ):
            button = ActionButton(words)
            button.clicked.connect(act)
            row.addWidget(button)
        row.addStretch(1)
        self.feature.setFixedWidth(200)
        row.addWidget(self.feature)
        add = ActionButton("Add feature")
        add.clicked.connect(self._add_feature)
        remove = ActionButton("Remove feature")
        remove.clicked.connect(self.grid.remove_feature)
        row.addWidget(add)
        row.addWidget(remove)
        return row


def _rows_of(study: TypeStudy) -> list[list[str]]:
    return [
        [
            variant.name,
            variant.years.edtf,
            variant.note,
            variant.source,
            *("|".join(variant.forms.get(feature, ())) for feature in study.features),
        ]
        for variant in study.variants
    ]
