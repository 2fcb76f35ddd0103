"""A small form inside the record: it saves each field at once, or adds one new row."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QRect, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QCompleter, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.errors import InputError
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import CheckBox, DropDown
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.field import Field, LabeledControl, TextField
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.text import LinkButton, small_label
from planebench.window.tokens import NOTE, tokens_now

YES, NO = "yes", ""
_APART = 8  # from the lines above and below
Control = Field | TextField | DropDown | CheckBox


def _as_typed(text: str) -> object:
    return text.strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class FormField:
    """One field of a form.

    `value` is the current value as text, the key of a choice, or YES. `parse` turns the text
    into a value and may raise InputError. Two `half_width` fields in a row stand side by side.
    """

    key: str
    label: str
    value: str = ""
    hint: str = ""
    choices: tuple[tuple[str, str], ...] | None = None
    suggestions: tuple[str, ...] = ()
    is_checkbox: bool = False
    lines: int = 1
    half_width: bool = False
    hidden: bool = False
    parse: Callable[[str], object] = _as_typed


@dataclass(frozen=True, slots=True, kw_only=True)
class FormText:
    """The texts around the fields: name, the words of the add and delete buttons, a caution."""

    name: str
    adding: str = ""
    binning: str = ""
    caution: str = ""
    caution_title: str = ""


class EntryForm(QWidget):
    """Labels, controls and actions, laid out in two columns.

    Signals: `changed(str, object)` with key and parsed value when a field was edited;
    `wanted(object)` with all values by key when Add is chosen; `chosen(str)` with the key of a
    drop-down or check box that changed; `closed()`; `bin_wanted()`.
    """

    changed = Signal(str, object)
    wanted = Signal(object)
    chosen = Signal(str)
    closed = Signal()
    bin_wanted = Signal()

    def __init__(
        self, text: FormText, asks: Iterable[FormField], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._text = text
        self._asks = {ask.key: ask for ask in asks}
        self.controls: dict[str, Control] = {}
        self._labeled: dict[str, QWidget] = {}
        self._caution = MessageNote()
        self._draft_note = self._make_draft_note()
        self.setAccessibleName(text.name)
        self._lay_out()
        self.show_caution(text.caution, text.caution_title)
        self._blank = {key: self.text_of(key) for key in self.controls}

    @property
    def typed(self) -> dict[str, str]:
        """The text of each control that differs from how the form began, in form order."""
        held = {key: self.text_of(key) for key in self.controls}
        return {key: text for key, text in held.items() if text != self._blank[key]}

    def restore_draft(self, typed: Mapping[str, str]) -> None:
        """Put an unsaved draft back into the controls and offer to clear it."""
        for key, text in typed.items():
            self._hold(key, text)
        self._draft_note.setVisible(bool(typed))

    def empty(self) -> None:
        """Reset every control to how the form began."""
        for key, text in self._blank.items():
            self._hold(key, text)
        self._draft_note.hide()
        self.begin()

    @property
    def is_adding(self) -> bool:
        """Whether the form adds a row rather than changing one."""
        return bool(self._text.adding)

    def text_of(self, key: str) -> str:
        """Return the value of a control as text, choice key or YES."""
        control = self.controls[key]
        if isinstance(control, DropDown):
            return control.held
        if isinstance(control, CheckBox):
            return YES if control.isChecked() else NO
        return control.text

    def update_fields(self, asks: Iterable[FormField]) -> None:
        """Show new values; a control being edited is left alone."""
        for ask in asks:
            before, self._asks[ask.key] = self._asks[ask.key], ask
            # An unchanged field is left alone, since the person may be editing it.
            if (before.value, before.choices) != (ask.value, ask.choices):
                self._show_value(ask)
            if before.hidden != ask.hidden:
                self._labeled[ask.key].setVisible(not ask.hidden)

    def offer(self, key: str, choices: tuple[tuple[str, str], ...], holds: str = "") -> None:
        """Replace the choices of a drop-down."""
        control = self.controls[key]
        if isinstance(control, DropDown):
            control.offer(choices, holds=holds)

    def hint(self, key: str, hint: str) -> None:
        """Change the placeholder of a field."""
        control = self.controls[key]
        if isinstance(control, Field):
            control.line.setPlaceholderText(hint)

    def clear(self, key: str) -> None:
        """Empty a field for the next entry."""
        control = self.controls[key]
        if isinstance(control, Field):
            control.line.setModified(False)
            control.line.clear()
            control.set_text("")

    def insert_widget(self, widget: QWidget) -> None:
        """Insert a widget between the fields and the buttons."""
        self._column.insertWidget(self._column.count() - 1, widget)

    def add_act(self, act: ActionButton) -> None:
        """Add a section's own action on a line above the usual buttons."""
        row = QHBoxLayout()
        row.addWidget(act)
        row.addStretch(1)
        self._column.insertLayout(self._column.count() - 1, row)

    def set_field_visible(self, key: str, *, shown: bool) -> None:
        """Show or hide one field."""
        self._labeled[key].setVisible(shown)

    def show_caution(self, text: str, title: str = "") -> None:
        """Show the usual caution for the chosen kind, or none."""
        self._caution.show_message(text, title)
        self._caution.setVisible(bool(text))

    def refuse(self, error: InputError, key: str = "") -> None:
        """Show an error under the field it concerns and focus that field."""
        close_saved = {k: c for k, c in self.controls.items() if isinstance(c, Field | TextField)}
        field = close_saved.get(key or error.subject) or next(iter(close_saved.values()), None)
        if field is not None:
            field.show_trouble(_without_field(error))
            field.setFocus()

    def begin(self) -> None:
        """Focus the first visible control."""
        for key, control in self.controls.items():
            if not self._asks[key].hidden:
                control.setFocus(Qt.FocusReason.TabFocusReason)
                return

    def submit(self) -> None:
        """Parse all fields; emit `wanted` if all are valid, else show what is wrong."""
        values: dict[str, object] = {}
        wrong = ""
        for key, ask in self._asks.items():
            try:
                values[key] = ask.parse(self.text_of(key))
            except InputError as error:
                self._show_wrong(key, error)
                wrong = wrong or key
        if wrong:
            self.controls[wrong].setFocus()
        else:
            self.wanted.emit(values)

    @override
    def event(self, event: QEvent) -> bool:
        # Esc closes the form before it leaves the screen.
        return keeps_esc(event) or super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.is_adding:
            self.submit()
        else:
            super().keyPressEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        box = self.rect().adjusted(0, _APART // 2, 0, -_APART)
        painter.fillRect(box, QColor(tokens.panel))
        painter.fillRect(QRect(0, box.top(), 4, box.height()), QColor(tokens.brass))

    def _show_value(self, ask: FormField) -> None:
        control = self.controls[ask.key]
        if isinstance(control, DropDown):
            control.offer(ask.choices or (), holds=ask.value)
        elif isinstance(control, CheckBox):
            control.setChecked(ask.value == YES)
        elif not control.trouble:
            control.set_text(ask.value)

    def _hold(self, key: str, text: str) -> None:
        """Set a control as if a person had entered the value."""
        control = self.controls[key]
        if isinstance(control, Field | TextField):
            control.set_text(text)
            return
        if isinstance(control, DropDown):
            control.hold(text)
        else:
            control.setChecked(text == YES)
        self.chosen.emit(key)

    def _lay_out(self) -> None:
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(16, 12 + _APART // 2, 12, 12 + _APART)
        column.setSpacing(8)
        grid = QGridLayout()
        grid.setSpacing(8)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        row, at = 0, 0
        for ask in self._asks.values():
            place = self._labeled_control(ask)
            if at and not ask.half_width:
                row, at = row + 1, 0
            grid.addWidget(place, row, at, 1, 1 if ask.half_width else 2, Qt.AlignmentFlag.AlignTop)
            row, at = (row, 1) if ask.half_width and not at else (row + 1, 0)
        column.addLayout(grid)
        column.addWidget(self._caution)
        column.addWidget(self._draft_note)
        column.addLayout(self._make_acts())

    def _make_draft_note(self) -> QWidget:
        """Return a line that says the form holds a draft, with a link to clear it."""
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(small_label("Draft, not added yet."))
        self.clear_link = LinkButton("Clear", size=NOTE)
        self.clear_link.setAccessibleName(f"Clear {self._text.name}")
        self.clear_link.clicked.connect(self.empty)
        row.addWidget(self.clear_link)
        row.addStretch(1)
        line.hide()
        return line

    def _make_acts(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        if self.is_adding:
            add = ActionButton(self._text.adding, key="Enter")
            add.clicked.connect(self.submit)
            row.addWidget(add)
        if self._text.binning:
            away = ActionButton(self._text.binning, weight=ButtonWeight.QUIET, icon="bin")
            away.clicked.connect(self.bin_wanted)
            row.addWidget(away)
        row.addStretch(1)
        close = ActionButton("Close", key="Esc")
        close.setAccessibleName(f"Close {self._text.name}")
        close.clicked.connect(self.closed)
        row.addWidget(close)
        return row

    def _labeled_control(self, ask: FormField) -> QWidget:
        control = self._control(ask)
        self.controls[ask.key] = control
        place: QWidget = control if ask.is_checkbox else LabeledControl(ask.label, control)
        self._labeled[ask.key] = place
        place.setVisible(not ask.hidden)
        return place

    def _control(self, ask: FormField) -> Control:
        if ask.choices is not None:
            drop = DropDown(ask.label, ask.choices, holds=ask.value)
            drop.setPlaceholderText(ask.hint)
            drop.chosen.connect(lambda _key: self._was_chosen(ask.key))
            return drop
        if ask.is_checkbox:
            box = CheckBox(ask.label, on=ask.value == YES)
            box.clicked.connect(lambda: self._was_chosen(ask.key))
            return box
        if ask.lines > 1:
            text = TextField(ask.label, lines=ask.lines, hint=ask.hint)
            text.set_text(ask.value)
            text.kept.connect(lambda typed: self._kept(ask.key, typed))
            return text
        field = Field(ask.label, text=ask.value, hint=ask.hint)
        field.kept.connect(lambda typed: self._kept(ask.key, typed))
        if self.is_adding:
            field.ignore_esc()
        if ask.suggestions:
            completer = QCompleter(list(ask.suggestions), field.line)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            field.line.setCompleter(completer)
        return field

    def _was_chosen(self, key: str) -> None:
        self.chosen.emit(key)
        self._kept(key, self.text_of(key))

    def _kept(self, key: str, typed: str) -> None:
        if self.is_adding:
            return
        try:
            value = self._asks[key].parse(typed)
        except InputError as error:
            self._show_wrong(key, error)
            return
        self.changed.emit(key, value)

    def _show_wrong(self, key: str, error: InputError) -> None:
        control = self.controls[key]
        if isinstance(control, Field | TextField):
            control.show_trouble(_without_field(error))
        else:
            self.refuse(error)


def _without_field(error: InputError) -> InputError:
    """Return the error without the field's name, which the field adds itself."""
    start = f"{error.subject}: "
    happened = error.happened.removeprefix(start) if error.subject else error.happened
    return InputError(happened, remedy=error.remedy, subject=error.subject)
