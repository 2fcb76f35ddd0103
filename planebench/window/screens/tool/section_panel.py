"""A section of the record: its rows and the form that is open under one of them."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from planebench.errors import InputError
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.pieces.text import LinkButton
from planebench.window.screens.tool.entry_form import EntryForm
from planebench.window.screens.tool.form_fields import FormField, FormText
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
        self._drafts: dict[str, dict[str, str]] | None = None
        self._sent = ""
        self._sent_typed: dict[str, str] = {}
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
        if self._drafts is None:
            self._drafts = self._kept_drafts(shown)
            self._mark_draft()
        self.section.set_state(shown.tool.line.known[self.section.number - 1])
        self.fill()
        if self.form is None:
            return
        if self.open_key != NEW and self.open_key not in self.rows.rows:
            self.close(commit=False)
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
        fields = self.form_fields(key)
        if not fields:
            return
        form = EntryForm(self.form_text(key), fields)
        self.extend_form(form, key)
        self.form, self.open_key = form, key
        form.closed.connect(self.close)
        form.rested.connect(self._rested)
        form.changed.connect(self._changed)
        form.wanted.connect(lambda values: self._send(key, values))
        form.bin_wanted.connect(lambda: self._bin_key(key))
        self.rows.lay_form(form, key)
        self.form_opened.emit(form)
        form.restore_draft((self._drafts or {}).get(key, {}))
        form.begin(self.first_field(key))
        self.row_focused.emit(key)

    def close(self, *, keep_focus: bool = True, commit: bool = True) -> None:
        """Close the form, if one is open, and move the focus back to its row.

        What was typed is saved first; what cannot be saved yet, such as a new row, is kept as a
        draft until it is added or cleared. Without `commit` it is dropped with its row.
        """
        if self.form is not None and commit:
            self.form.commit()
        form, key = self.form, self.open_key
        self.form, self.open_key = None, ""
        if form is None:
            return
        self._keep_draft(key, form.unsaved if commit else {})
        had = keep_focus and form.isAncestorOf(_focused(form))
        form.hide()
        form.deleteLater()
        if had:
            self.take_focus(key)

    def close_saved(self) -> None:
        """Close the form of a row that was just added, and drop its draft."""
        if self.open_key == self._sent:
            self.close()
        self._keep_draft(self._sent, {})
        self._sent_typed = {}

    def take_focus(self, key: str = "") -> None:
        """Focus the row with this key, else the first row."""
        row = self.rows.rows.get(key) or next(iter(self.rows.rows.values()), None)
        if row is not None:
            row.setFocus()
        else:
            self.section.focus_act()

    def show_error(self, error: InputError) -> None:
        """Show an error of the catalog in the open form."""
        self._sent_typed = {}
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

    def first_field(self, key: str) -> str:
        """Return the key of the field that gets the focus; empty for the first one."""
        del key
        return ""

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
        self._sent_typed = {} if self.form is None else self.form.typed
        self.record.editor.sent_draft = self._draft_name(key)
        self.save_new(values)

    def _draft_name(self, key: str) -> str:
        return f"{self.section.number} {key}"

    def _kept_drafts(self, shown: ToolModel) -> dict[str, dict[str, str]]:
        """Return the drafts of this section that were kept before, by row."""
        start = self._draft_name("")
        return {
            name.removeprefix(start): dict(draft)
            for name, draft in shown.drafts.items()
            if name.startswith(start)
        }

    def _rested(self) -> None:
        """Keep what is typed in the open form, which may be closed by any means."""
        if self.form is not None and self.form.unsaved != self._sent_typed:
            self._keep_draft(self.open_key, self.form.unsaved)

    def _keep_draft(self, key: str, typed: dict[str, str]) -> None:
        drafts = self._drafts if self._drafts is not None else {}
        if drafts.get(key, {}) == typed:
            return
        drafts.pop(key, None)
        if typed:
            drafts[key] = typed
        self._mark_draft()
        self.record.editor.keep_draft(self._draft_name(key), typed)

    def _mark_draft(self) -> None:
        if self._add is not None:
            begun = NEW in (self._drafts or {})
            self._add.setText(f"{self._add_words} (draft)" if begun else self._add_words)

    def _changed(self, name: str, value: object) -> None:
        self.save_field(self.open_key, name, value)

    def _bin_key(self, key: str) -> None:
        if key == self.open_key:
            self.close(commit=False)
        self.delete(key)


def _focused(widget: QWidget) -> QWidget:
    return widget.window().focusWidget() or widget.window()
