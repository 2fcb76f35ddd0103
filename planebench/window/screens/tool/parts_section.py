"""Section 2: parts: a drawing of what was seen, and every part with its status."""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout
from typing_extensions import override

from planebench.catalog.entries import PartFields
from planebench.catalog.ids import PartId
from planebench.catalog.values import Part
from planebench.errors import InputError
from planebench.trade.terms import PART_STATUS_WORDS, PartStatus
from planebench.window.photograph_names import format_parts_seen
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.plane_drawing import PlaneDrawing, seen_of
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.pieces.text import LinkButton, small_label
from planebench.window.screens.tool.form_fields import FormField, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell, RowList
from planebench.window.screens.tool.record_wording import list_choices, lower_first
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel
from planebench.window.tokens import NOTE

KEYS = {
    Qt.Key.Key_P: PartStatus.PRESENT,
    Qt.Key.Key_M: PartStatus.MISSING,
    Qt.Key.Key_R: PartStatus.REPLACED,
    Qt.Key.Key_O: PartStatus.NOT_ORIGINAL,
    Qt.Key.Key_N: PartStatus.NOT_SEEN,
}
_STATUSES = tuple((state.value, PART_STATUS_WORDS[state]) for state in KEYS.values())
_HATCHES = {
    PartStatus.MISSING: Hatch.MISSING,
    PartStatus.NOT_SEEN: Hatch.NOT_SEEN,
    PartStatus.REPLACED: Hatch.NOT_ORIGINAL,
    PartStatus.NOT_ORIGINAL: Hatch.NOT_ORIGINAL,
}
_MOST_NAMED = 4  # rows beside the drawing before “and n more”


class PartStatusDropDown(DropDown):
    """The status of a part, also set by a single letter.

    Signals: `by_letter()` after a letter set it, to move on to the next part.
    """

    by_letter = Signal()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        status = KEYS.get(Qt.Key(event.key()))
        if status is None or event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
            return
        if self.held != status.value:
            self.hold(status.value)
            self.chosen.emit(status.value)
        self.by_letter.emit()


class PartsSection(RecordSectionPanel):
    """A side drawing, the parts that are not present, and the list of all parts on demand."""

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section, record)
        self.listed = False
        self._status_boxes: dict[str, PartStatusDropDown] = {}
        self._drawing = PlaneDrawing(size=QSize(132, 56))
        self._named = RowList()
        self._named.opened.connect(self.show_part)
        self._rest = LinkButton("", size=NOTE)
        self._rest.clicked.connect(self.show_all)
        self._all = LinkButton("all parts", size=NOTE)
        self._all.clicked.connect(lambda: self.show_all() if not self.listed else self.hide_all())
        section.add_title_button(self._all)
        section.column.insertLayout(0, self._summary_row())
        self._list = EscLeavesWidget()
        self._list.left.connect(self._leave_list)
        self._lay_list()
        self.hide_all()

    @override
    def set_narrow(self, *, narrow: bool) -> None:
        super().set_narrow(narrow=narrow)
        self._drawing.setFixedSize(QSize(104 if narrow else 132, 48 if narrow else 56))

    @override
    def fill(self) -> None:
        """Fill the drawing and list parts that are missing, not original or not seen."""
        tool, kind = self.shown.tool, self.shown.kind
        self._drawing.show_drawing(kind.drawing if kind is not None else "other")
        self._drawing.show_parts(
            {part.code: seen_of(part.status, unasked=part.unasked) for part in tool.parts},
            {part.code: part.name for part in tool.parts},
        )
        asked = [part.status for part in tool.parts if not part.unasked]
        said = any(status is not PartStatus.NOT_SEEN for status in asked)
        self.section.set_remark(format_parts_seen(asked) if said else "not checked yet")
        self._name_some()
        self._fill_list()

    def show_all(self) -> None:
        """List every part with its status and focus the first."""
        self.listed = True
        self._list.show()
        self._all.setText("close list")
        for state in self._status_boxes.values():
            state.setFocus()
            return

    def show_part(self, key: str) -> None:
        """List every part and focus one of them."""
        self.show_all()
        if key in self._status_boxes:
            self._status_boxes[key].setFocus()

    def hide_all(self) -> None:
        """Show only the drawing and the parts that are not present."""
        self.listed = False
        self.close()
        self._list.hide()
        self._all.setText("all parts")

    def _leave_list(self) -> None:
        self.hide_all()
        self._all.setFocus()

    @override
    def take_focus(self, key: str = "") -> None:
        if self.listed and key in self.rows.rows:
            self.rows.rows[key].setFocus()
        else:
            self._all.setFocus()

    @override
    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return fields for a part's note and finish, and its name if it was added by hand."""
        part = self.shown.part(PartId(key))
        own = part is None or part.code == "own"
        name = FormField(
            key="name",
            label="Part",
            value=part.name if part else "",
            hint="wedge",
            parse=_parse_name,
        )
        finish = FormField(
            key="finish",
            label="Usual finish",
            choices=list_choices("finishes"),
            value=part.finish if part else "bare_metal",
        )
        if part is None:
            status = FormField(
                key="status", label="Status", choices=_STATUSES, value="present", parse=PartStatus
            )
            return (name, finish, status)
        said = FormField(key="note", label="Note", value=part.note, hint="what you saw")
        return (name, said, finish) if own else (said, finish)

    @override
    def form_text(self, key: str) -> FormText:
        """Return the title and actions of the form."""
        part = self.shown.part(PartId(key))
        if part is None:
            return FormText(name="new part", adding="Add part")
        return FormText(name=lower_first(part.name), binning="Delete part")

    @override
    def save_field(self, key: str, name: str, value: object) -> None:
        """Save one field of a part."""
        fields, change = cast(PartFields, {name: value}), self.catalog.parts.change
        self.record.editor.change(lambda: change(PartId(key), **fields), self.show_error)

    @override
    def save_new(self, values: dict[str, object]) -> None:
        """Add a part."""
        tool, add = self.shown.tool, self.catalog.parts.add
        position = max((part.position for part in tool.parts), default=0) + 1
        fields = cast(PartFields, {**values, "position": position})
        self.record.editor.add(
            lambda: add(tool.id, **fields), lambda _new: self.close_saved(), self.show_error
        )

    @override
    def delete(self, key: str) -> None:
        """Delete a part."""
        if key and key != NEW:
            self.record.editor.change(lambda: self.catalog.parts.bin(PartId(key)))

    def _summary_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(16)
        row.setContentsMargins(0, 0, 0, 4)
        row.addWidget(self._drawing, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout()
        column.setSpacing(0)
        column.addWidget(self._named)
        column.addWidget(self._rest)
        column.addStretch(1)
        row.addLayout(column, 1)
        return row

    def _lay_list(self) -> None:
        self.section.column.removeWidget(self.rows)
        column = QVBoxLayout(self._list)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        keys = "P present, M missing, R replaced, O not original, N not seen"
        column.addWidget(small_label(keys).wrapped())
        column.addWidget(self.rows)
        acts = QHBoxLayout()
        acts.setSpacing(8)
        rest = ActionButton("Mark the rest present")
        rest.clicked.connect(self._mark_rest_present)
        own = ActionButton("Add another part", weight=ButtonWeight.QUIET)
        own.clicked.connect(lambda: self.open(NEW))
        acts.addWidget(rest)
        acts.addWidget(own)
        acts.addStretch(1)
        column.addLayout(acts)
        self.section.column.addWidget(self._list)

    def _name_some(self) -> None:
        odd = [p for p in self.shown.tool.parts if p.status in _HATCHES and not p.unasked]
        odd.sort(key=lambda part: part.status is PartStatus.NOT_SEEN)
        shown = odd if len(odd) <= _MOST_NAMED else odd[: _MOST_NAMED - 1]
        cells = [
            RowCell(
                key=part.id,
                text=f"{lower_first(part.name)}: {PART_STATUS_WORDS[part.status]}",
                hatch=_HATCHES[part.status],
            )
            for part in shown
        ]
        none_missing = RowCell(key="", text="No parts missing.", unknown=True)
        self._named.show_cells(cells or [none_missing])
        left = len(odd) - len(shown)
        self._rest.setText(f"and {left} more" if left else "")
        self._rest.setVisible(bool(left))

    def _fill_list(self) -> None:
        parts = self.shown.tool.parts
        self.rows.show_cells(_part_fact(part) for part in parts)
        known = {part.id for part in parts}
        for gone in [key for key in self._status_boxes if key not in known]:
            self._status_boxes.pop(gone)
        for part in parts:
            state = self._status_boxes.get(part.id) or self._add_status_box(part)
            state.hold(part.status.value)

    def _add_status_box(self, part: Part) -> PartStatusDropDown:
        state = PartStatusDropDown(f"{part.name}: status", _STATUSES)
        state.setFixedWidth(156)
        state.chosen.connect(lambda said: self._save_status(part.id, said))
        state.by_letter.connect(lambda: self._next_after(part.id))
        self._status_boxes[part.id] = state
        self.rows.rows[part.id].add_control(state)
        return state

    def _next_after(self, part: str) -> None:
        order = [one.id for one in self.shown.tool.parts]
        at = order.index(PartId(part)) + 1
        if at < len(order):
            self._status_boxes[order[at]].setFocus()

    def _save_status(self, part: str, state: str) -> None:
        self.save_field(part, "status", PartStatus(state))

    def _mark_rest_present(self) -> None:
        rest = tuple(
            part.id
            for part in self.shown.tool.parts
            if part.status is PartStatus.NOT_SEEN and not part.optional
        )
        if rest:
            set_status = self.catalog.parts.set_status
            self.record.editor.change(lambda: set_status(rest, PartStatus.PRESENT))


def _part_fact(part: Part) -> RowCell:
    small = "small part" if part.small else ""
    maybe = "not on every model" if part.optional else ""
    beneath = part.note or ", ".join(filter(None, (small, maybe)))
    return RowCell(key=part.id, text=part.name, beneath=beneath, deletable=True)


def _parse_name(typed: str) -> str:
    if not typed.strip():
        raise InputError("A part needs a name.", remedy="Try wedge or depth stop.", subject="name")
    return typed.strip()
