"""All purchases: what each cost, how many of its tools are sold, and writing down a new one."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QAbstractItemView, QFrame, QListView, QVBoxLayout

from planebench.catalog.batches import BatchFields
from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId
from planebench.catalog.values import BatchLine
from planebench.errors import InputError
from planebench.trade.stock import free_batch_code
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.focus_ring import no_ring
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label, heading
from planebench.window.pieces.value_rows import ValueListModel
from planebench.window.screens.batches.batch_rows import BatchPainter, batch_told
from planebench.window.screens.batches.purchase_form import BatchForm
from planebench.window.thumbnails import Thumbnails


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    name: str
    lines: tuple[BatchLine, ...]
    currency: str
    free_code: str
    unfiled: int


class BatchesScreen(Screen):
    """The list of purchases, newest first."""

    def __init__(self, given: ScreenContext) -> None:
        super().__init__()
        self._given = given
        self._changing: BatchId | None = None
        self._shown: _Shown | None = None
        self.model: ValueListModel[BatchLine] = ValueListModel(batch_told, self)
        self.rows = QListView()
        self._write_down = ActionButton(
            "Write down a purchase", weight=ButtonWeight.MAIN, key="Ins"
        )
        self._change = ActionButton("Change it", key="F2")
        self._every = ActionButton("All tools")
        self.form = BatchForm(given.catalog.now.date())
        self._nothing = heading("Nothing on the bench yet")
        self._help = Label(
            "Write down a purchase: when, from whom, what it cost. Then add its planes, "
            "a line each, and take their photographs in.",
            ink=Ink.MUTED,
        ).wrapped()
        self._asking = LatestRead(given.jobs, self)
        self._lay_out()
        self._connect()
        given.edits.happened.connect(self._look_again)
        self._ask()

    def begin_adding(self) -> None:
        """Open the form for a new purchase."""
        self._open_form(None)

    def _lay_out(self) -> None:
        rows = self.rows
        rows.setAccessibleName("Batches")
        rows.setFrameShape(QFrame.Shape.NoFrame)
        rows.setUniformItemSizes(True)
        rows.setMouseTracking(True)
        no_ring(rows)
        rows.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        rows.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        rows.setModel(self.model)
        thumbnails = Thumbnails(self._given, self)
        thumbnails.ready.connect(lambda _photo: rows.viewport().update())
        rows.setItemDelegate(BatchPainter(thumbnails, self))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.form.hide()
        column.addWidget(self.form)
        for words in (self._nothing, self._help):
            words.setContentsMargins(24, 24, 24, 0)
            words.hide()
            column.addWidget(words)
        column.addWidget(rows, 1)
        column.addStretch(0)
        self.set_regions(rows)
        self.set_keys(
            ("Up, Down", "the batch before or after"),
            ("Enter", "open the batch"),
            ("Ins", "write down a purchase"),
            ("F2", "change the purchase"),
            ("Delete", "put the batch and its tools in the bin"),
        )

    def _connect(self) -> None:
        self.rows.activated.connect(lambda _index: self._open())
        self.form.written.connect(self._write)
        self.form.left.connect(self._close_form)
        self._write_down.clicked.connect(self.begin_adding)
        self._change.clicked.connect(self._change_current)
        self._every.clicked.connect(lambda: self.go.emit(routes.BatchRoute()))
        photographs = ActionButton("Photographs in")
        photographs.clicked.connect(lambda: self.go.emit(routes.ImportRoute()))
        self.set_title_buttons(self._every, photographs, self._change, self._write_down)
        # Wherever the keyboard is: an empty catalog has no rows, and the acts stand in the title.
        for keys, act in (("Ins", self.begin_adding), ("F2", self._change_current)):
            QShortcut(QKeySequence(keys), self).activated.connect(act)
        bin_it = QShortcut(QKeySequence("Del"), self.rows)
        bin_it.setContext(Qt.ShortcutContext.WidgetShortcut)
        bin_it.activated.connect(self._bin_current)

    @property
    def current(self) -> BatchLine | None:
        """The purchase on which the list stands."""
        return self.model.value_at(self.rows.currentIndex().row())

    def _ask(self) -> None:
        catalog = self._given.catalog
        self._asking.ask(lambda _job: _read(catalog), done=self._show)

    def _show(self, shown: _Shown) -> None:
        before = self.current
        self._shown = shown
        self.model.show_values(shown.lines)
        self.set_title(shown.name, remark=_counted(shown))
        for words in (self._nothing, self._help):
            words.setVisible(not shown.lines)
        self.rows.setVisible(bool(shown.lines))
        self._lead_to_first(empty=not shown.lines)
        kept = next(
            (
                row
                for row, line in enumerate(shown.lines)
                if before is not None and line.batch.id == before.batch.id
            ),
            0,
        )
        self.rows.selectionModel().setCurrentIndex(
            self.model.index(kept), QItemSelectionModel.SelectionFlag.ClearAndSelect
        )

    def _lead_to_first(self, *, empty: bool) -> None:
        """Make writing down a purchase the next step of a catalog that has none."""
        for act in (self._every, self._change):
            act.set_disabled_reason("Write down a purchase first." if empty else "")
        if empty and self.isVisible() and not self.form.isVisible():
            self._write_down.setFocus()

    def _open(self) -> None:
        line = self.current
        if line is not None:
            self.go.emit(routes.BatchRoute(batch=line.batch.id))

    def _change_current(self) -> None:
        line = self.current
        if line is not None:
            self._open_form(line)

    def _open_form(self, line: BatchLine | None) -> None:
        if self._shown is None:
            return
        self._changing = None if line is None else line.batch.id
        self.form.show()
        self.form.begin(
            None if line is None else line.batch,
            code=self._shown.free_code,
            currency=self._shown.currency,
        )

    def _close_form(self) -> None:
        self.form.hide()
        if self.rows.isVisible():
            self.rows.setFocus()
        else:
            self._write_down.setFocus()

    def _write(self, fields: BatchFields) -> None:
        batch, catalog, jobs = self._changing, self._given.catalog, self._given.jobs
        if batch is None:
            jobs.edit(
                lambda _job: catalog.batches.add(**fields),
                done=lambda added: self._added(added.id, added.changes),
                failed=self._refused,
                owner=self,
            )
        else:
            jobs.edit(
                lambda _job: catalog.batches.change(batch, **fields),
                done=self._changed,
                failed=self._refused,
                owner=self,
            )

    def _added(self, batch: BatchId, changes: Changes) -> None:
        self._close_form()
        self._given.edits.happened.emit(changes)
        self.go.emit(routes.BatchRoute(batch=batch))

    def _changed(self, changes: Changes) -> None:
        self._close_form()
        self._given.edits.happened.emit(changes)

    def _refused(self, error: Exception) -> None:
        if isinstance(error, InputError):
            self.form.refuse(error)
        else:
            self._given.notices.trouble(error)

    def _bin_current(self) -> None:
        line, catalog = self.current, self._given.catalog
        if line is not None:
            batch = line.batch.id
            self._given.jobs.edit(
                lambda _job: catalog.batches.bin(batch), done=self._given.edits.happened.emit
            )

    def _look_again(self, changes: Changes) -> None:
        if changes.batches or changes.tools or changes.catalog_wide:
            self._ask()


def _counted(shown: _Shown) -> str:
    tools = sum(line.tools for line in shown.lines)
    count = len(shown.lines)
    said = [_many(count, "batch", "batches"), _many(tools, "tool", "tools")] if count else []
    if shown.unfiled:
        said.append(f"{_many(shown.unfiled, 'photograph', 'photographs')} not filed yet")
    return ", ".join(said)


def _many(count: int, one: str, several: str) -> str:
    return f"{count} {one if count == 1 else several}"


def _read(catalog: Catalog) -> _Shown:
    lines = catalog.batches.lines()
    return _Shown(
        name=catalog.name,
        lines=lines,
        currency=catalog.settings.read().currency,
        free_code=free_batch_code([line.batch.code for line in lines]),
        unfiled=len(catalog.photographs.unfiled()),
    )
