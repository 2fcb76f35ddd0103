"""Adding tools from the keyboard: one line each, Enter adds it and starts the next."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.reference import Kind
from planebench.catalog.tools import NewTool
from planebench.errors import InputError
from planebench.window.listed_suggestions import kind_suggestions
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.field import Field
from planebench.window.pieces.suggestion_field import SuggestionField
from planebench.window.pieces.text import LinkButton, heading, small_label
from planebench.window.tokens import NOTE

_FIELDS = (
    ("kind", "Kind", "type, or Down for the list"),
    ("maker", "Maker", "as marked"),
    ("model", "Model", "as marked"),
    ("size", "Size", "9 in"),
    ("note", "Note", "anything you notice"),
)


class AddToolsForm(EscLeavesWidget):
    """A one-line form for a new tool.

    Signals: `wanted(NewTool)` by Enter or the button; `left()` by Esc or the button;
    `kinds_wanted()` to see all kinds or make a new one.
    """

    wanted = Signal(object)
    kinds_wanted = Signal()

    def __init__(self, kinds: Mapping[str, Kind], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._by_name = {kind.name.casefold(): kind.code for kind in kinds.values()}
        listed = [one for _, one in kind_suggestions(kinds)]
        self.kind = SuggestionField("Kind", listed, hint=_FIELDS[0][2], listed_only=True)
        rest = {key: Field(name, hint=hint) for key, name, hint in _FIELDS[1:]}
        self.fields: dict[str, Field] = {"kind": self.kind, **rest}
        self.next_number = small_label()
        self._kept = small_label()
        for field in self.fields.values():
            field.line.installEventFilter(self)
        self._lay_out()

    def begin(self) -> None:
        """Focus the first field."""
        self.fields["kind"].line.setFocus()
        self.fields["kind"].line.selectAll()

    def say_next(self, number: str, added: int) -> None:
        """Show the next stock number, and how many tools were added."""
        self.next_number.setText(f"next: {number}")
        self._kept.setText(f"{added} added" if added else "Enter adds the tool")

    def refuse(self, error: InputError) -> None:
        """Show an error under the field it concerns."""
        field = self.fields.get(error.subject, self.fields["kind"])
        field.show_trouble(error)
        field.line.setFocus()

    def ready_for_next(self) -> None:
        """Clear all but kind and maker, which the next tool often shares."""
        for key in ("model", "size", "note"):
            self.fields[key].set_text("")
            self.fields[key].line.clear()
        self.begin()

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._submit()
                return True
            if event.key() == Qt.Key.Key_Escape:
                self.left.emit()
                return True
        return super().eventFilter(watched, event)

    def _submit(self) -> None:
        for field in self.fields.values():
            field.show_trouble(None)
        self.kind.take_match()
        texts = {key: field.text.strip() for key, field in self.fields.items()}
        if not texts["kind"]:
            self.refuse(
                InputError(
                    "A tool needs a kind.",
                    remedy="Type one, or press Down for the list.",
                    subject="kind",
                )
            )
            return
        kind = self._by_name.get(texts["kind"].casefold(), texts["kind"])
        rest = {key: text for key, text in texts.items() if key != "kind"}
        self.wanted.emit(NewTool(kind=kind, **rest))

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 12, 24, 12)
        column.setSpacing(8)
        title = QHBoxLayout()
        title.addWidget(heading("Add tools"), 0, Qt.AlignmentFlag.AlignBaseline)
        title.addWidget(self.next_number, 0, Qt.AlignmentFlag.AlignBaseline)
        title.addStretch(1)
        title.addWidget(self._kept, 0, Qt.AlignmentFlag.AlignBaseline)
        column.addLayout(title)
        column.addLayout(self._grid())
        acts = QHBoxLayout()
        acts.setSpacing(8)
        write = ActionButton("Add tool", weight=ButtonWeight.MAIN, key="Enter")
        write.clicked.connect(self._submit)
        done = ActionButton("Done", key="Esc")
        done.clicked.connect(self.left)
        kinds = LinkButton("See all kinds, or make one", size=NOTE)
        kinds.clicked.connect(self.kinds_wanted)
        acts.addWidget(write)
        acts.addWidget(done)
        acts.addSpacing(8)
        acts.addWidget(kinds)
        acts.addStretch(1)
        column.addLayout(acts)

    def _grid(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(2)
        for at, (key, name, _) in enumerate(_FIELDS):
            grid.addWidget(small_label(name), 0, at)
            grid.addWidget(self.fields[key], 1, at, Qt.AlignmentFlag.AlignTop)
            grid.setColumnStretch(at, 3 if key in {"kind", "small_label"} else 2)
        return grid
