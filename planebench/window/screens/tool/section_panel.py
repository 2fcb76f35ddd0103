"""A section of the record: its lines, and the form that is open under one of them."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from planebench.errors import InputError
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.pieces.text import LinkButton
from planebench.window.screens.tool.entry_form import Ask, EntryForm, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowList
from planebench.window.screens.tool.tool_model import ToolModel
from planebench.window.tokens import NOTE

NEW = "new"


class RecordSectionPanel(QObject):
    """The base of the seven: what they show, which form is open, what becomes of what is typed.

    A section says `fill()` what it shows, `asks_for(key)` and `text_for(key)` which form a line
    opens, and does what the form asks: `keep(key, name, value)`, `write_new(values)`,
    `put_away(key)`.
    Signals: `stood_on(str)` with the key of the line that has the keyboard or is open;
    `form_opened(QWidget)`.
    """

    stood_on = Signal(str)
    form_opened = Signal(QWidget)

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place)
        self.place = place
        self.bench = bench
        self.catalog = bench.given.catalog
        self.rows = RowList()
        self.form: EntryForm | None = None
        self.open_key = ""
        self._shown: ToolModel | None = None
        self._begun: dict[str, dict[str, str]] = {}
        self._sent = ""
        self._add: LinkButton | None = None
        self._add_words = ""
        place.column.addWidget(self.rows)
        self.rows.opened.connect(self.toggle)
        self.rows.bin_wanted.connect(self._bin_key)
        self.rows.come_to.connect(self.stood_on)

    @property
    def shown(self) -> ToolModel:
        """The record that is shown; asked for only once there is one."""
        if self._shown is None:
            raise LookupError("the record was not read yet")
        return self._shown

    def show(self, shown: ToolModel) -> None:
        """Show the record as it is by now; an open form stays open while its line is there."""
        self._shown = shown
        self.place.set_state(shown.tool.line.known[self.place.number - 1])
        self.fill()
        if self.form is None:
            return
        if self.open_key != NEW and self.open_key not in self.rows.rows:
            self.close()
        else:
            if not self.form.is_adding:
                self.form.show_asks(self.asks_for(self.open_key))
            self.rows.lay_form(self.form, self.open_key)

    def set_narrow(self, *, narrow: bool) -> None:
        """Say everything in less room, or in all there is."""
        self.rows.set_narrow(narrow=narrow)

    def add_title_button(self, words: str) -> LinkButton:
        """Put an act into the heading that opens the form for a new line."""
        act = LinkButton(words, size=NOTE)
        act.clicked.connect(lambda: self.open(NEW))
        self.place.add_title_button(act)
        self._add, self._add_words = act, words
        return act

    def toggle(self, key: str) -> None:
        """Open the form of a line, or close it if it is open."""
        if self.open_key == key:
            self.close()
        else:
            self.open(key)

    def open(self, key: str) -> None:
        """Open the form of a line."""
        if self._shown is None:
            return
        self.close(keep_focus=False)
        asks = self.asks_for(key)
        if not asks:
            return
        form = EntryForm(self.text_for(key), asks)
        self.dress(form, key)
        self.form, self.open_key = form, key
        form.closed.connect(self.close)
        form.changed.connect(self._changed)
        form.wanted.connect(lambda values: self._send(key, values))
        form.bin_wanted.connect(lambda: self._bin_key(key))
        self.rows.lay_form(form, key)
        self.form_opened.emit(form)
        form.put_back(self._begun.get(key, {}))
        form.begin()
        self.stood_on.emit(key)

    def close(self, *, keep_focus: bool = True) -> None:
        """Close the form, if one is open; the keyboard goes back to its line.

        What was begun in the form of a new line is kept until it is written down or emptied.
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

    def written(self) -> None:
        """Close the form whose new line is written down by now; nothing of it is kept."""
        if self.open_key == self._sent:
            self.close()
        self._keep_begun(self._sent, {})

    def take_focus(self, key: str = "") -> None:
        """Take the keyboard to a line, the first one if there is no such."""
        row = self.rows.rows.get(key) or next(iter(self.rows.rows.values()), None)
        if row is not None:
            row.setFocus()
        else:
            self.place.focus_act()

    def refused(self, error: InputError) -> None:
        """Say in the open form what the catalog refused."""
        if self.form is not None:
            self.form.refuse(error)
        else:
            self.bench.given.notices.trouble(error)

    def fill(self) -> None:
        """Show the lines and the remark."""
        raise NotImplementedError

    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Return what the form of a line asks, with what is known by now; empty for no form."""
        raise NotImplementedError

    def text_for(self, key: str) -> FormText:
        """Return what stands around the questions of a form."""
        raise NotImplementedError

    def dress(self, form: EntryForm, key: str) -> None:
        """Add to a form what goes beyond its questions."""

    def keep(self, key: str, name: str, value: object) -> None:
        """Write one thing of a line."""

    def write_new(self, values: dict[str, object]) -> None:
        """Write a new line, and say `written()` when it is."""

    def put_away(self, key: str) -> None:
        """Put what a line is about in the bin."""

    def _send(self, key: str, values: dict[str, object]) -> None:
        self._sent = key
        self.write_new(values)

    def _keep_begun(self, key: str, typed: dict[str, str]) -> None:
        self._begun.pop(key, None)
        if typed:
            self._begun[key] = typed
        if self._add is not None:
            self._add.setText(
                f"{self._add_words} (begun)" if NEW in self._begun else self._add_words
            )

    def _changed(self, name: str, value: object) -> None:
        self.keep(self.open_key, name, value)

    def _bin_key(self, key: str) -> None:
        if key == self.open_key:
            self.close()
        self.put_away(key)


def _focused(widget: QWidget) -> QWidget:
    return widget.window().focusWidget() or widget.window()
