"""Kinds of plane and their parts, and making kinds of one's own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QListWidget,
    QListWidgetItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
)
from shiboken6 import isValid

from planebench.catalog.changes import Changes
from planebench.catalog.reference import Kind, open_list
from planebench.errors import InputError
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label, heading, small_label
from planebench.window.screens.kinds.kind_definition import (
    TypedPart,
    code_for,
    definition_of,
    typed_of,
)

_CODE = Qt.ItemDataRole.UserRole
_CHECKED = Qt.CheckState.Checked


class KindsScreen(Screen):
    """The kinds at the left, the selected one at the right; the user's own can be edited.

    Edits are saved at once.
    """

    def __init__(self, context: ScreenContext) -> None:
        super().__init__()
        self._context = context
        self._kinds: Mapping[str, Kind] = {}
        self._select_after_read = ""
        self._filled = ""
        self._pending = 0
        self._reading = LatestRead(context.jobs, self)
        self.list = QListWidget()
        self.name = Field("Name of the kind")
        self.parts = QTableWidget(0, 4)
        self._title = heading()
        self._about = Label(ink=Ink.MUTED).wrapped()
        self._copy = ActionButton("Copy as my own", weight=ButtonWeight.MAIN)
        self._add = ActionButton("Add part")
        self._remove = ActionButton("Remove part")
        self._bin = ActionButton("Delete my kind", icon="bin")
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._refresh)
        self._ask()

    def _lay_out(self) -> None:
        self.list.setAccessibleName("Kinds of plane")
        self._prepare_parts()
        left = QVBoxLayout()
        left.setContentsMargins(24, 16, 16, 16)
        left.addWidget(self.list)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(left, 1)
        whole.addWidget(Rule(upright=True))
        whole.addLayout(self._right_column(), 2)
        self.set_title("Kinds of plane and their parts", up="Back")
        self.set_regions(self.list, self.parts)
        self.set_keys(
            ("Up, Down", "previous or next kind or part"),
            ("Tab", "leave the table of parts"),
            ("Esc", "back"),
        )

    def _prepare_parts(self) -> None:
        parts = self.parts
        parts.setAccessibleName("Parts of the kind")
        parts.setHorizontalHeaderLabels(["Part", "Usual finish", "Small", "Optional"])
        parts.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        parts.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        parts.setColumnWidth(1, 220)
        parts.verticalHeader().hide()
        parts.verticalHeader().setDefaultSectionSize(36)
        # Tab leaves the table; the arrows move inside it.
        parts.setTabKeyNavigation(False)
        parts.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)

    def _right_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(16, 16, 24, 16)
        column.setSpacing(12)
        self._name_row = LabeledControl("name", self.name, beside=120)
        for part in (self._title, self._about, self._name_row):
            column.addWidget(part)
        column.addWidget(self.parts, 1)
        column.addWidget(
            small_label("Small parts get lost easily. Optional parts are not on every model.")
        )
        acts = QHBoxLayout()
        acts.setSpacing(8)
        for act in (self._copy, self._add, self._remove, self._bin):
            acts.addWidget(act)
        acts.addStretch(1)
        column.addLayout(acts)
        return column

    def _connect(self) -> None:
        self.list.currentRowChanged.connect(lambda _row: self._show_kind())
        self._copy.clicked.connect(self._copy_as_own)
        self.name.kept.connect(lambda _name: self._save_own())
        self.name.save_at_rest(_parse_name)
        self.parts.itemChanged.connect(lambda _item: self._save_own())
        self._add.clicked.connect(self._add_empty_part)
        self._remove.clicked.connect(self._remove_part)
        self._bin.clicked.connect(self._delete_own)

    def _ask(self) -> None:
        catalog = self._context.catalog
        self._reading.ask(lambda _job: catalog.kinds.all(), done=self._show)

    def _show(self, kinds: Mapping[str, Kind]) -> None:
        made, keep = self._select_after_read, self._select_after_read or self._code()
        self._select_after_read = ""
        self._kinds = kinds
        row = self.list.currentRow()
        codes = list(kinds)
        with QSignalBlocker(self.list):
            self.list.clear()
            for kind in kinds.values():
                item = QListWidgetItem(f"{kind.name}, my own" if kind.own else kind.name)
                item.setData(_CODE, kind.code)
                self.list.addItem(item)
            self.list.setCurrentRow(codes.index(keep) if keep in codes else max(0, row - 1))
        self._show_kind()
        if made:
            self.name.line.setFocus()
            self.name.line.selectAll()

    def _code(self) -> str:
        at = self.list.currentIndex()
        return str(at.data(_CODE)) if at.isValid() else ""

    def _show_kind(self) -> None:
        kind = self._kinds.get(self._code())
        if kind is None:
            return
        self._title.setText(kind.name)
        self._about.setText(f"{kind.hint} Source: {kind.source}.".strip())
        self.name.set_text(kind.name)
        self._name_row.setVisible(kind.own)
        for act in (self._add, self._remove, self._bin):
            act.setVisible(kind.own)
        with QSignalBlocker(self.parts):
            self._fill(kind)
        edits = QAbstractItemView.EditTrigger
        self.parts.setEditTriggers(edits.AllEditTriggers if kind.own else edits.NoEditTriggers)

    def _fill(self, kind: Kind) -> None:
        """Show the parts; while an edit is being saved, they stay as typed."""
        same = kind.code == self._filled
        if same and (self._pending or _plain(self._typed()) == _plain(typed_of(kind))):
            return
        self._filled = kind.code
        self.parts.setRowCount(0)
        for part in typed_of(kind):
            self._add_part(part)

    def _add_empty_part(self) -> None:
        """Add an empty row for a part; it is saved once it has a name."""
        with QSignalBlocker(self.parts):
            self._add_part(TypedPart(name="", finish="bare_metal"))
        name = self.parts.model().index(self.parts.rowCount() - 1, 0)
        self.parts.scrollTo(name)
        self.parts.setCurrentIndex(name)
        self.parts.edit(name)

    def _remove_part(self) -> None:
        self.parts.removeRow(self.parts.currentRow())
        self._save_own()

    def _add_part(self, part: TypedPart) -> None:
        row = self.parts.rowCount()
        own = self._kinds[self._filled].own
        self.parts.insertRow(row)
        name = QTableWidgetItem(part.name)
        name.setData(_CODE, part.code)
        self.parts.setItem(row, 0, name)
        finishes = [(code, finish.name) for code, finish in open_list("finishes").items()]
        choice = DropDown(f"Finish of {part.name or 'the new part'}", finishes, holds=part.finish)
        choice.setEnabled(own)
        choice.chosen.connect(lambda _finish: self._save_own())
        self.parts.setCellWidget(row, 1, choice)
        for column, on in ((2, part.small), (3, part.optional)):
            item = QTableWidgetItem()
            flags = Qt.ItemFlag.ItemIsUserCheckable | Qt.ItemFlag.ItemIsSelectable
            item.setFlags(flags | Qt.ItemFlag.ItemIsEnabled if own else flags)
            item.setCheckState(_CHECKED if on else Qt.CheckState.Unchecked)
            self.parts.setItem(row, column, item)

    def _typed(self) -> tuple[TypedPart, ...]:
        parts = (self._part_in(row) for row in range(self.parts.rowCount()))
        return tuple(part for part in parts if part.name)

    def _part_in(self, row: int) -> TypedPart:
        model, choice = self.parts.model(), self.parts.cellWidget(row, 1)
        name, small, optional = (model.index(row, column) for column in (0, 2, 3))
        checked = Qt.ItemDataRole.CheckStateRole
        return TypedPart(
            name=str(name.data() or "").strip(),
            finish=choice.held if isinstance(choice, DropDown) else "bare_metal",
            small=Qt.CheckState(small.data(checked)) == _CHECKED,
            optional=Qt.CheckState(optional.data(checked)) == _CHECKED,
            code=str(name.data(_CODE) or ""),
        )

    def _copy_as_own(self) -> None:
        kind = self._kinds[self._code()]
        name = f"{kind.name}, copy"
        code = code_for(name, self._kinds)
        self._select_after_read = code
        self._save(definition_of(kind, code=code, name=name, parts=self._typed()))

    def _save_own(self) -> None:
        kind, name = self._kinds[self._filled], self.name.text.strip()
        if not kind.own or (name == kind.name and self._typed() == typed_of(kind)):
            return
        if not name:
            self.name.show_trouble(
                InputError("A kind needs a name.", remedy="Try Cork plane.", subject="name")
            )
            return
        self._save(definition_of(kind, code=kind.code, name=name, parts=self._typed()))

    def _save(self, definition: Mapping[str, object]) -> None:
        catalog = self._context.catalog
        self._pending += 1
        self._context.jobs.edit(
            lambda _job: catalog.kinds.write(definition),
            done=self._written,
            failed=self._refused,
            owner=self._context.edits,  # announced even after this screen is closed
        )

    def _written(self, changes: Changes) -> None:
        self._pending -= 1
        self._context.edits.happened.emit(changes)

    def _refused(self, error: Exception) -> None:
        self._pending -= 1
        if isinstance(error, InputError) and isValid(self):
            self.name.show_trouble(error)
        else:
            self._context.notices.trouble(error)

    def _delete_own(self) -> None:
        catalog, code = self._context.catalog, self._code()
        self._context.jobs.edit(
            lambda _job: catalog.kinds.bin(code), done=self._context.edits.happened.emit
        )

    def _refresh(self, changes: Changes) -> None:
        if changes.catalog_wide:
            self._ask()


def _parse_name(text: str) -> str:
    if not text.strip():
        raise InputError("A kind needs a name.", remedy="Try Cork plane.", subject="name")
    return text.strip()


def _plain(parts: Sequence[TypedPart]) -> list[TypedPart]:
    """Return parts without codes: a new part has none until it is saved."""
    return [replace(part, code="") for part in parts]
