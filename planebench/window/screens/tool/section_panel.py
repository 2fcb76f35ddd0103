"""A section of the record: its rows and the form that is open under one of them."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from planebench.errors import InputError
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.pieces.text import LinkButton
from planebench.window.screens.tool.entry_form import EntryForm, FormField, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowList
from planebench.window.screens.tool.tool_model import ToolModel
from planebench.window.tokens import NOTE

NEW = "new"


class RecordSectionPanel(QObject):
    """Base of the seven sections: rows, the open form, drafts, and saving.

    A subclass shows its rows in `fill()`, describes the form of a row in `form_fields(key)` and
    `form_text(key)`, and saves in `save_field(key, name, value)`, `save_new(values)` and
    `delete(key)`.
    Signals: `row_focused(str)` with the key of the row that is focused or open;
    `form_opened(QWidget)`.
    """

    row_focused = Signal(str)
    form_opened = Signal(QWidget)

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section)
        self.section = section
        self.record = record
        self.catalog = record.context.catalog
        self.rows = RowList()
        self.form: EntryForm | None = None
        self.open_key = ""
        self._shown: ToolModel | None = None
        self._draft_note: dict[str, dict[str, str]] = {}
        self._sent = ""
        self._add: LinkButton | None = None
        self._add_words = ""
        section.column.addWidget(self.rows)
        self.rows.opened.connect(self.toggle)
        self.rows.bin_wanted.connect(self._bin_key)
        self.rows.focused.connect(self.row_focused)

    @property
    def shown(self) -> ToolModel:
        """The record shown. Raises LookupError before the first one was read."""
        if self._shown is None:
            raise LookupError("the record has not been read yet")
        return self._shown

    def show(self, shown: ToolModel) -> None:
        """Show a freshly read record; an open form stays open while its row exists."""
        self._shown = shown
        self.section.set_state(shown.tool.line.known[self.section.number - 1])
        self.fill()
        if self.form is None:
            return
        if self.open_key != NEW and self.open_key not in self.rows.rows:
            self.close()
        else:
            if not self.form.is_adding:
                self.form.update_fields(self.form_fields(self.open_key))
            self.rows.lay_form(self.form, self.open_key)

    def set_narrow(self, *, narrow: bool) -> None:
        """Switch the rows between narrow and usual width."""
        self.rows.set_narrow(narrow=narrow)

    def add_act(self, words: str) -> LinkButton:
        """Add a link to the heading that opens the form for a new row."""
        act = LinkButton(words, size=NOTE)
        act.clicked.connect(lambda: self.open(NEW))
        self.section.add_title_button(act)
        self._add, self._add_words = act, words
        return act

    def toggle(self, key: str) -> None:
        """Open the form of a row, or close it if it is open."""
        if self.open_key == key:
            self.close()
        else:
            self.open(key)

    def open(self, key: str) -> None:
        """Open the form of a row."""
        if self._shown is None:
            return
        self.close(keep_focus=False)
        asks = self.form_fields(key)
        if not asks:
            return
        form = EntryForm(self.form_text(key), asks)
        self.extend_form(form, key)
        self.form, self.open_key = form, key
        form.closed.connect(self.close)
        form.changed.connect(self._changed)
        form.wanted.connect(lambda values: self._send(key, values))
        form.bin_wanted.connect(lambda: self._bin_key(key))
        self.rows.lay_form(form, key)
        self.form_opened.emit(form)
        form.restore_draft(self._draft_note.get(key, {}))
        form.begin()
        self.row_focused.emit(key)

    def close(self, *, keep_focus: bool = True) -> None:
        """Close the form, if one is open, and move the focus back to its row.

        The draft of a new row is kept until it is added or cleared.
        """
        form, key = self.form, self.open_key
        self.form, self.open_key = None, ""
        if form is None:
            return
        self._keep_begun(key, form.typed if form.is_adding else {})
        had = keep_focus and form.isAncestorOf(_focused(form))
        form.hide()
        form.deleteLater()
        if had:
            self.take_focus(key)

    def close_saved(self) -> None:
        """Close the form of a row that was just added, and drop its draft."""
        if self.open_key == self._sent:
            self.close()
        self._keep_begun(self._sent, {})

    def take_focus(self, key: str = "") -> None:
        """Focus the row with this key, else the first row."""
        row = self.rows.rows.get(key) or next(iter(self.rows.rows.values()), None)
        if row is not None:
            row.setFocus()
        else:
            self.section.focus_act()

    def show_error(self, error: InputError) -> None:
        """Show an error of the catalog in the open form."""
        if self.form is not None:
            self.form.refuse(error)
        else:
            self.record.context.notices.trouble(error)

    def fill(self) -> None:
        """Show the rows and the remark."""
        raise NotImplementedError

    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return the fields of a row's form with current values; empty for no form."""
        raise NotImplementedError

    def form_text(self, key: str) -> FormText:
        """Return the texts around the fields of a form."""
        raise NotImplementedError

    def extend_form(self, form: EntryForm, key: str) -> None:
        """Add to a form what goes beyond its fields."""

    def save_field(self, key: str, name: str, value: object) -> None:
        """Save one field of a row."""

    def save_new(self, values: dict[str, object]) -> None:
        """Add a row, and call `close_saved()` when that is done."""

    def delete(self, key: str) -> None:
        """Delete the subject of a row."""

    def _send(self, key: str, values: dict[str, object]) -> None:
        self._sent = key
        self.save_new(values)

    def _keep_begun(self, key: str, typed: dict[str, str]) -> None:
        self._draft_note.pop(key, None)
        if typed:
            self._draft_note[key] = typed
        if self._add is not None:
            self._add.setText(
                f"{self._add_words} (draft)" if NEW in self._draft_note else self._add_words
            )

    def _changed(self, name: str, value: object) -> None:
        self.save_field(self.open_key, name, value)

    def _bin_key(self, key: str) -> None:
        if key == self.open_key:
            self.close()
        self.delete(key)


def _focused(widget: QWidget) -> QWidget:
    return widget.window().focusWidget() or widget.window()
