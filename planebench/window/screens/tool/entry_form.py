"""A small form in its place: what is written in it is kept at once, or as one new line."""

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
class Ask:
    """One thing that a form asks for.

    `holds` is what is known, as it would be typed, or the key of a choice, or YES. `read` turns
    the text into a value and may raise InputError. `half` puts it beside the next half one.
    """

    key: str
    label: str
    holds: str = ""
    hint: str = ""
    choices: tuple[tuple[str, str], ...] | None = None
    proposals: tuple[str, ...] = ()
    check: bool = False
    lines: int = 1
    half: bool = False
    hidden: bool = False
    read: Callable[[str], object] = _as_typed


@dataclass(frozen=True, slots=True, kw_only=True)
class FormText:
    """What stands around the questions: who it is for, the act that adds, the act that bins."""

    name: str
    adding: str = ""
    binning: str = ""
    caution: str = ""
    caution_title: str = ""


class EntryForm(QWidget):
    """Labels, controls and acts, laid out in two columns.

    Signals: `changed(str, object)` with key and value when something was written and can be read;
    `wanted(object)` with all values by key when the adding act is chosen; `chosen(str)` when a
    drop-down or box was changed; `closed()`, `bin_wanted()`.
    """

    changed = Signal(str, object)
    wanted = Signal(object)
    chosen = Signal(str)
    closed = Signal()
    bin_wanted = Signal()

    def __init__(self, text: FormText, asks: Iterable[Ask], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text = text
        self._asks = {ask.key: ask for ask in asks}
        self.controls: dict[str, Control] = {}
        self._labeled: dict[str, QWidget] = {}
        self._caution = MessageNote()
        self._begun = self._make_begun()
        self.setAccessibleName(text.name)
        self._lay_out()
        self.say_caution(text.caution, text.caution_title)
        self._blank = {key: self.text_of(key) for key in self.controls}

    @property
    def typed(self) -> dict[str, str]:
        """What stands in the controls that are not as the form began, in its order."""
        held = {key: self.text_of(key) for key in self.controls}
        return {key: text for key, text in held.items() if text != self._blank[key]}

    def put_back(self, typed: Mapping[str, str]) -> None:
        """Hold again what was typed in such a form before, with an act that empties it."""
        for key, text in typed.items():
            self._hold(key, text)
        self._begun.setVisible(bool(typed))

    def empty(self) -> None:
        """Hold what the form held when it began."""
        for key, text in self._blank.items():
            self._hold(key, text)
        self._begun.hide()
        self.begin()

    @property
    def is_adding(self) -> bool:
        """Whether the form writes a new line rather than changing one."""
        return bool(self._text.adding)

    def text_of(self, key: str) -> str:
        """Return what a control holds now, as text, key or YES."""
        control = self.controls[key]
        if isinstance(control, DropDown):
            return control.held
        if isinstance(control, CheckBox):
            return YES if control.isChecked() else NO
        return control.text

    def show_asks(self, asks: Iterable[Ask]) -> None:
        """Show what is known by now; a line in which one is writing is left alone."""
        for ask in asks:
            before, self._asks[ask.key] = self._asks[ask.key], ask
            # What is as it was is left alone: one may be about to change it.
            if (before.holds, before.choices) != (ask.holds, ask.choices):
                self._show_known(ask)
            if before.hidden != ask.hidden:
                self._labeled[ask.key].setVisible(not ask.hidden)

    def offer(self, key: str, choices: tuple[tuple[str, str], ...], holds: str = "") -> None:
        """Change the choices of one drop-down."""
        control = self.controls[key]
        if isinstance(control, DropDown):
            control.offer(choices, holds=holds)

    def hint(self, key: str, hint: str) -> None:
        """Change the example that stands in an empty line."""
        control = self.controls[key]
        if isinstance(control, Field):
            control.line.setPlaceholderText(hint)

    def clear(self, key: str) -> None:
        """Empty a line, ready for the next."""
        control = self.controls[key]
        if isinstance(control, Field):
            control.line.setModified(False)
            control.line.clear()
            control.set_text("")

    def lay_in(self, widget: QWidget) -> None:
        """Put something between the questions and the acts."""
        self._column.insertWidget(self._column.count() - 1, widget)

    def add_title_button(self, act: ActionButton) -> None:
        """Put an act of the section's own on a line above the usual ones."""
        row = QHBoxLayout()
        row.addWidget(act)
        row.addStretch(1)
        self._column.insertLayout(self._column.count() - 1, row)

    def show_ask(self, key: str, *, shown: bool) -> None:
        """Show or hide one question."""
        self._labeled[key].setVisible(shown)

    def say_caution(self, text: str, title: str = "") -> None:
        """Show the usual caution for what is chosen, or none."""
        self._caution.show_message(text, title)
        self._caution.setVisible(bool(text))

    def refuse(self, error: InputError, key: str = "") -> None:
        """Say what is wrong under the control it concerns, and go there."""
        written = {k: c for k, c in self.controls.items() if isinstance(c, Field | TextField)}
        field = written.get(key or error.subject) or next(iter(written.values()), None)
        if field is not None:
            field.show_trouble(_without_field(error))
            field.setFocus()

    def begin(self) -> None:
        """Take the keyboard to the first control."""
        for key, control in self.controls.items():
            if not self._asks[key].hidden:
                control.setFocus(Qt.FocusReason.TabFocusReason)
                return

    def submit(self) -> None:
        """Read everything; give it away if all can be meant, else say what cannot."""
        values: dict[str, object] = {}
        wrong = ""
        for key, ask in self._asks.items():
            try:
                values[key] = ask.read(self.text_of(key))
            except InputError as error:
                self._show_wrong(key, error)
                wrong = wrong or key
        if wrong:
            self.controls[wrong].setFocus()
        else:
            self.wanted.emit(values)

    @override
    def event(self, event: QEvent) -> bool:
        # Esc leaves the form before it leaves the place.
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

    def _show_known(self, ask: Ask) -> None:
        control = self.controls[ask.key]
        if isinstance(control, DropDown):
            control.offer(ask.choices or (), holds=ask.holds)
        elif isinstance(control, CheckBox):
            control.setChecked(ask.holds == YES)
        elif not control.trouble:
            control.set_text(ask.holds)

    def _hold(self, key: str, text: str) -> None:
        """Let a control hold a text, a choice or YES, as if a person had entered it."""
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
            if at and not ask.half:
                row, at = row + 1, 0
            grid.addWidget(place, row, at, 1, 1 if ask.half else 2, Qt.AlignmentFlag.AlignTop)
            row, at = (row, 1) if ask.half and not at else (row + 1, 0)
        column.addLayout(grid)
        column.addWidget(self._caution)
        column.addWidget(self._begun)
        column.addLayout(self._make_acts())

    def _make_begun(self) -> QWidget:
        """Say that what stands here was typed before, and offer to empty it."""
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(small_label("Begun before, not written down yet."))
        self.empty_it = LinkButton("Empty it", size=NOTE)
        self.empty_it.setAccessibleName(f"Empty {self._text.name}")
        self.empty_it.clicked.connect(self.empty)
        row.addWidget(self.empty_it)
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

    def _labeled_control(self, ask: Ask) -> QWidget:
        control = self._control(ask)
        self.controls[ask.key] = control
        place: QWidget = control if ask.check else LabeledControl(ask.label, control)
        self._labeled[ask.key] = place
        place.setVisible(not ask.hidden)
        return place

    def _control(self, ask: Ask) -> Control:
        if ask.choices is not None:
            drop = DropDown(ask.label, ask.choices, holds=ask.holds)
            drop.setPlaceholderText(ask.hint)
            drop.chosen.connect(lambda _key: self._was_chosen(ask.key))
            return drop
        if ask.check:
            box = CheckBox(ask.label, on=ask.holds == YES)
            box.clicked.connect(lambda: self._was_chosen(ask.key))
            return box
        if ask.lines > 1:
            text = TextField(ask.label, lines=ask.lines, hint=ask.hint)
            text.set_text(ask.holds)
            text.kept.connect(lambda typed: self._kept(ask.key, typed))
            return text
        field = Field(ask.label, text=ask.holds, hint=ask.hint)
        field.kept.connect(lambda typed: self._kept(ask.key, typed))
        if self.is_adding:
            field.ignore_esc()
        if ask.proposals:
            completer = QCompleter(list(ask.proposals), field.line)
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
            value = self._asks[key].read(typed)
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
    """Leave the field's name out of the sentence: it is said before it."""
    start = f"{error.subject}: "
    happened = error.happened.removeprefix(start) if error.subject else error.happened
    return InputError(happened, remedy=error.remedy, subject=error.subject)
