"""Section 2: what is missing: the plane inked by what was seen, and every part with its state."""

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
from planebench.window.screens.tool.entry_form import Ask, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell, RowList
from planebench.window.screens.tool.record_wording import list_choices, lower
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel
from planebench.window.tokens import NOTE

KEYS = {
    Qt.Key.Key_P: PartStatus.PRESENT,
    Qt.Key.Key_M: PartStatus.MISSING,
    Qt.Key.Key_R: PartStatus.REPLACED,
    Qt.Key.Key_O: PartStatus.NOT_ORIGINAL,
    Qt.Key.Key_N: PartStatus.NOT_SEEN,
}
_STATES = tuple((state.value, PART_STATUS_WORDS[state]) for state in KEYS.values())
_HATCHES = {
    PartStatus.MISSING: Hatch.MISSING,
    PartStatus.NOT_SEEN: Hatch.NOT_SEEN,
    PartStatus.REPLACED: Hatch.NOT_ORIGINAL,
    PartStatus.NOT_ORIGINAL: Hatch.NOT_ORIGINAL,
}
_MOST_NAMED = 4


class StateChoice(DropDown):
    """The state of a part; one letter says it.

    Signals: `by_letter()` when it was said so, to go on to the next part.
    """

    by_letter = Signal()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        state = KEYS.get(Qt.Key(event.key()))
        if state is None or event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
            return
        if self.held != state.value:
            self.hold(state.value)
            self.chosen.emit(state.value)
        self.by_letter.emit()


class PartsMissing(RecordSectionPanel):
    """The side drawing with what is not simply there, and the list of all parts on demand."""

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place, bench)
        self.listed = False
        self._states: dict[str, StateChoice] = {}
        self._drawing = PlaneDrawing(size=QSize(132, 56))
        self._named = RowList()
        self._named.opened.connect(self.show_part)
        self._rest = LinkButton("", size=NOTE)
        self._rest.clicked.connect(self.show_all)
        self._all = LinkButton("each part", size=NOTE)
        self._all.clicked.connect(lambda: self.show_all() if not self.listed else self.hide_all())
        place.add_title_button(self._all)
        place.column.insertLayout(0, self._beside())
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
        """Ink the drawing and name what is missing, foreign or not seen."""
        tool, kind = self.shown.tool, self.shown.kind
        self._drawing.show_drawing(kind.drawing if kind is not None else "other")
        self._drawing.show_parts(
            {part.code: seen_of(part.status, unasked=part.unasked) for part in tool.parts},
            {part.code: part.name for part in tool.parts},
        )
        asked = [part.status for part in tool.parts if not part.unasked]
        said = any(status is not PartStatus.NOT_SEEN for status in asked)
        self.place.set_remark(format_parts_seen(asked) if said else "nothing said yet")
        self._name_some()
        self._fill_list()

    def show_all(self) -> None:
        """List every part with its state, and take the keyboard to the first."""
        self.listed = True
        self._list.show()
        self._all.setText("close the list")
        for state in self._states.values():
            state.setFocus()
            return

    def show_part(self, key: str) -> None:
        """List every part and go to one of them."""
        self.show_all()
        if key in self._states:
            self._states[key].setFocus()

    def hide_all(self) -> None:
        """Leave only the drawing and what is missing."""
        self.listed = False
        self.close()
        self._list.hide()
        self._all.setText("each part")

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
    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Ask for a part's note and finish, and for its name if it is one's own."""
        part = self.shown.part(PartId(key))
        own = part is None or part.code == "own"
        name = Ask(
            key="name", label="Part", holds=part.name if part else "", hint="wedge", read=_read_name
        )
        finish = Ask(
            key="finish",
            label="Usual finish",
            choices=list_choices("finishes"),
            holds=part.finish if part else "bare_metal",
        )
        if part is None:
            status = Ask(
                key="status", label="State", choices=_STATES, holds="present", read=PartStatus
            )
            return (name, finish, status)
        said = Ask(key="small_label", label="Note", holds=part.note, hint="what was seen of it")
        return (name, said, finish) if own else (said, finish)

    @override
    def text_for(self, key: str) -> FormText:
        """Say what the form is for."""
        part = self.shown.part(PartId(key))
        if part is None:
            return FormText(name="new part", adding="Add the part")
        return FormText(name=lower(part.name), binning="Into the bin")

    @override
    def keep(self, key: str, name: str, value: object) -> None:
        """Write one thing of a part."""
        fields, change = cast(PartFields, {name: value}), self.catalog.parts.change
        self.bench.hand.change(lambda: change(PartId(key), **fields), self.refused)

    @override
    def write_new(self, values: dict[str, object]) -> None:
        """Add a part of one's own."""
        tool, add = self.shown.tool, self.catalog.parts.add
        position = max((part.position for part in tool.parts), default=0) + 1
        fields = cast(PartFields, {**values, "position": position})
        self.bench.hand.add(
            lambda: add(tool.id, **fields), lambda _new: self.written(), self.refused
        )

    @override
    def put_away(self, key: str) -> None:
        """Put a part in the bin."""
        if key and key != NEW:
            self.bench.hand.change(lambda: self.catalog.parts.bin(PartId(key)))

    def _beside(self) -> QHBoxLayout:
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
        self.place.column.removeWidget(self.rows)
        column = QVBoxLayout(self._list)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        keys = "P present, M missing, R replaced, O not original to it, N not seen"
        column.addWidget(small_label(keys).wrapped())
        column.addWidget(self.rows)
        acts = QHBoxLayout()
        acts.setSpacing(8)
        rest = ActionButton("All others present")
        rest.clicked.connect(self._say_rest)
        own = ActionButton("Add a part of its own", weight=ButtonWeight.QUIET)
        own.clicked.connect(lambda: self.open(NEW))
        acts.addWidget(rest)
        acts.addWidget(own)
        acts.addStretch(1)
        column.addLayout(acts)
        self.place.column.addWidget(self._list)

    def _name_some(self) -> None:
        odd = [p for p in self.shown.tool.parts if p.status in _HATCHES and not p.unasked]
        odd.sort(key=lambda part: part.status is PartStatus.NOT_SEEN)
        shown = odd if len(odd) <= _MOST_NAMED else odd[: _MOST_NAMED - 1]
        facts = [
            RowCell(
                key=part.id,
                text=f"{lower(part.name)}: {PART_STATUS_WORDS[part.status]}",
                hatch=_HATCHES[part.status],
            )
            for part in shown
        ]
        none_missing = RowCell(key="", text="Nothing is missing.", unknown=True)
        self._named.show_facts(facts or [none_missing])
        left = len(odd) - len(shown)
        self._rest.setText(f"and {left} more" if left else "")
        self._rest.setVisible(bool(left))

    def _fill_list(self) -> None:
        parts = self.shown.tool.parts
        self.rows.show_facts(_part_fact(part) for part in parts)
        known = {part.id for part in parts}
        for gone in [key for key in self._states if key not in known]:
            self._states.pop(gone)
        for part in parts:
            state = self._states.get(part.id) or self._add_state(part)
            state.hold(part.status.value)

    def _add_state(self, part: Part) -> StateChoice:
        state = StateChoice(f"{part.name}: state", _STATES)
        state.setFixedWidth(156)
        state.chosen.connect(lambda said: self._say(part.id, said))
        state.by_letter.connect(lambda: self._next_after(part.id))
        self._states[part.id] = state
        self.rows.rows[part.id].add_control(state)
        return state

    def _next_after(self, part: str) -> None:
        order = [one.id for one in self.shown.tool.parts]
        at = order.index(PartId(part)) + 1
        if at < len(order):
            self._states[order[at]].setFocus()

    def _say(self, part: str, state: str) -> None:
        self.keep(part, "status", PartStatus(state))

    def _say_rest(self) -> None:
        rest = tuple(
            part.id
            for part in self.shown.tool.parts
            if part.status is PartStatus.NOT_SEEN and not part.optional
        )
        if rest:
            set_status = self.catalog.parts.set_status
            self.bench.hand.change(lambda: set_status(rest, PartStatus.PRESENT))


def _part_fact(part: Part) -> RowCell:
    small = "small part" if part.small else ""
    maybe = "if it had one" if part.optional else ""
    beneath = part.note or ", ".join(filter(None, (small, maybe)))
    return RowCell(key=part.id, text=part.name, beneath=beneath)


def _read_name(typed: str) -> str:
    if not typed.strip():
        raise InputError("A part needs a name.", remedy="Try wedge or depth stop.", subject="name")
    return typed.strip()
