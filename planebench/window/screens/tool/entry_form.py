"""A small form inside the record: it saves each field at once, or adds one new row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from PySide6.QtCore import QEvent, QRect, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QHideEvent, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.errors import InputError
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import CheckBox, DropDown
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.field import REST_MS, Field, LabeledControl, TextField
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.suggestion_field import SuggestionField
from planebench.window.pieces.text import Label, LinkButton, small_label
from planebench.window.screens.tool.form_controls import Control, new_control, without_field
from planebench.window.screens.tool.form_fields import (
    NO,
    YES,
    FormField,
    FormText,
    code_of,
    words_of,
)
from planebench.window.tokens import NOTE, tokens_now

_APART = 8  # from the lines above and below


class EntryForm(QWidget):
    """Labels, controls and actions, laid out in two columns.

    Signals: `changed(str, object)` with key and parsed value when a field was edited;
    `wanted(object)` with all values by key when Add is chosen; `chosen(str)` with the key of a
    drop-down or check box that changed; `rested()` a second after the last key; `closed()`;
    `bin_wanted()`.
    """

    changed = Signal(str, object)
    wanted = Signal(object)
    chosen = Signal(str)
    rested = Signal()
    closed = Signal()
    bin_wanted = Signal()

    def __init__(
        self, text: FormText, fields: Iterable[FormField], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._text = text
        self._fields = {spec.key: spec for spec in fields}
        self.controls: dict[str, Control] = {}
        self._labeled: dict[str, QWidget] = {}
        self._readings: dict[str, Label] = {}
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.rested)
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

    @property
    def unsaved(self) -> dict[str, str]:
        """What is typed but not in the catalog: all of a new row, else texts that are not valid."""
        if self.is_adding:
            return self.typed
        return {
            key: control.text
            for key, control in self.controls.items()
            if isinstance(control, Field | TextField) and control.trouble
        }

    def commit(self) -> None:
        """Save the fields of an existing row that were edited and not left yet."""
        for control in self.controls.values():
            if isinstance(control, Field | TextField):
                control.commit()

    def restore_draft(self, typed: Mapping[str, str]) -> None:
        """Put an unsaved draft back into the controls and offer to clear it."""
        for key, text in typed.items():
            if key in self.controls:
                self._hold(key, text)
        self._draft_note.setVisible(bool(typed))
        if typed and not self.is_adding:
            self._check(typed)

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
        listed = self._fields[key].listed
        return code_of(listed, control.text) if listed else control.text

    def update_fields(self, fields: Iterable[FormField]) -> None:
        """Show new values; a control being edited is left alone."""
        for spec in fields:
            before, self._fields[spec.key] = self._fields[spec.key], spec
            # An unchanged field is left alone, since the person may be editing it.
            if (before.value, before.choices) != (spec.value, spec.choices):
                self._show_value(spec)
            if before.hidden != spec.hidden:
                self._labeled[spec.key].setVisible(not spec.hidden)

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
        texts = {k: c for k, c in self.controls.items() if isinstance(c, Field | TextField)}
        field = texts.get(key or error.subject) or next(iter(texts.values()), None)
        if field is not None:
            field.show_trouble(without_field(error))
            field.setFocus()

    def begin(self, key: str = "") -> None:
        """Focus the control with this key, else the first visible one."""
        visible = [name for name in self.controls if not self._fields[name].hidden]
        wanted = key if key in visible else next(iter(visible), "")
        if wanted:
            self.controls[wanted].setFocus(Qt.FocusReason.TabFocusReason)

    def submit(self) -> None:
        """Parse all fields; emit `wanted` if all are valid, else show what is wrong."""
        values: dict[str, object] = {}
        wrong = ""
        for key, spec in self._fields.items():
            try:
                values[key] = spec.parse(self.text_of(key))
            except InputError as error:
                self._show_wrong(key, error)
                wrong = wrong or key
        if wrong:
            self.controls[wrong].setFocus()
        else:
            self.wanted.emit(values)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        # However the screen is left, what was typed is not lost.
        self.commit()
        self.rested.emit()
        super().hideEvent(event)

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

    def _show_value(self, spec: FormField) -> None:
        control = self.controls[spec.key]
        if isinstance(control, DropDown):
            control.offer(spec.choices or (), holds=spec.value)
        elif isinstance(control, CheckBox):
            control.setChecked(spec.value == YES)
        elif not control.trouble:
            control.set_text(words_of(spec.listed, spec.value))
            self._show_reading(spec.key)

    def _hold(self, key: str, text: str) -> None:
        """Set a control as if a person had entered the value."""
        control = self.controls[key]
        if isinstance(control, Field | TextField):
            control.set_text(words_of(self._fields[key].listed, text))
            self._show_reading(key)
            if not self._fields[key].listed:
                return
            self.chosen.emit(key)
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
        for spec in self._fields.values():
            place = self._labeled_control(spec)
            if at and not spec.half_width:
                row, at = row + 1, 0
            grid.addWidget(
                place, row, at, 1, 1 if spec.half_width else 2, Qt.AlignmentFlag.AlignTop
            )
            row, at = (row, 1) if spec.half_width and not at else (row + 1, 0)
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
        row.addWidget(small_label("Draft, not saved yet."))
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

    def _labeled_control(self, spec: FormField) -> QWidget:
        control = self._control(spec)
        self.controls[spec.key] = control
        place: QWidget = control if spec.is_checkbox else LabeledControl(spec.label, control)
        if spec.reads_as is not None:
            place = self._with_reading(spec.key, place)
        self._labeled[spec.key] = place
        place.setVisible(not spec.hidden)
        return place

    def _with_reading(self, key: str, control: QWidget) -> QWidget:
        """Put a line below a control that says what its text is read as."""
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(control)
        label = self._readings[key] = small_label().wrapped()
        column.addWidget(label)
        self._show_reading(key)
        return holder

    def _control(self, spec: FormField) -> Control:
        control = new_control(spec)
        if isinstance(control, DropDown):
            control.chosen.connect(lambda _key: self._was_chosen(spec.key))
        elif isinstance(control, CheckBox):
            control.clicked.connect(lambda: self._was_chosen(spec.key))
        else:
            self._connect_text(spec.key, control)
        return control

    def _connect_text(self, key: str, control: Field | TextField) -> None:
        control.kept.connect(lambda _typed: self._kept(key, self.text_of(key)))
        control.typed.connect(lambda _typed: self._typed(key))
        if not self.is_adding:
            control.save_at_rest(lambda _typed: self._fields[key].parse(self.text_of(key)))
        if isinstance(control, SuggestionField):
            control.kept.connect(lambda _typed: self.chosen.emit(key))
        elif isinstance(control, Field) and self.is_adding:
            control.ignore_esc()

    def _typed(self, key: str) -> None:
        self._show_reading(key)
        self._rest.start()

    def _show_reading(self, key: str) -> None:
        """Say below a field what its text is read as."""
        label, reads_as = self._readings.get(key), self._fields[key].reads_as
        if label is None or reads_as is None:
            return
        try:
            words = reads_as(self.text_of(key))
        except InputError:
            words = ""
        # What is typed as it is read needs no second line.
        words = "" if words == self.text_of(key).strip() else words
        label.setText(f"Reads as {words}" if words else "")
        label.setVisible(bool(words))

    def _check(self, keys: Iterable[str]) -> None:
        """Show what is wrong in these fields."""
        for key in keys:
            try:
                self._fields[key].parse(self.text_of(key))
            except InputError as error:
                self._show_wrong(key, error)

    def _was_chosen(self, key: str) -> None:
        self.chosen.emit(key)
        self._kept(key, self.text_of(key))

    def _kept(self, key: str, typed: str) -> None:
        if self.is_adding:
            return
        try:
            self.changed.emit(key, self._fields[key].parse(typed))
        except InputError as error:
            self._show_wrong(key, error)

    def _show_wrong(self, key: str, error: InputError) -> None:
        control = self.controls[key]
        if isinstance(control, Field | TextField):
            control.show_trouble(without_field(error))
        else:
            self.refuse(error)
