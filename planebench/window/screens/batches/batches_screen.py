"""All purchases: cost, tools and sales, and adding a new one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QItemSelectionModel, QPoint, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QAbstractItemView, QFrame, QListView, QVBoxLayout

from planebench.catalog.batches import BatchFields
from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId
from planebench.catalog.values import BatchLine
from planebench.errors import InputError
from planebench.trade.days import DayOrder
from planebench.trade.stock import free_batch_code
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.focus_ring import no_ring
from planebench.window.pieces.row_menu import MenuEntry, open_row_menu
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label, heading
from planebench.window.pieces.value_rows import ValueListModel
from planebench.window.screens.batches.batch_rows import BatchPainter, batch_description
from planebench.window.screens.batches.delete_question import DeleteQuestion
from planebench.window.screens.batches.purchase_form import PurchaseForm
from planebench.window.thumbnails import Thumbnails

_DRAFTS, _NEW = "purchases", "new"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    name: str
    lines: tuple[BatchLine, ...]
    currency: str
    free_code: str
    unfiled: int
    order: DayOrder
    draft: Mapping[str, str]


class BatchesScreen(Screen):
    """The list of purchases, newest first."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__()
        self._context = context
        self._edited_batch: BatchId | None = None
        self._draft: dict[str, str] = {}
        self._sent = False
        self._shown: _Shown | None = None
        self.model: ValueListModel[BatchLine] = ValueListModel(
            lambda line: batch_description(line, self._painter.order), self
        )
        self.rows = QListView()
        self._add = ActionButton("Add a purchase", weight=ButtonWeight.MAIN, key="Ins")
        self._change = ActionButton("Edit", key="F2")
        self._every = ActionButton("All tools")
        self._question = DeleteQuestion()
        self.form = PurchaseForm(context.catalog.now.date())
        self._nothing = heading("Nothing on the bench yet")
        self._help = Label(
            "Add a purchase: when, from whom, what it cost. Then add its planes, "
            "one line each, and their photographs.",
            ink=Ink.MUTED,
        ).wrapped()
        self._asking = LatestRead(context.jobs, self)
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._refresh)
        self._read_batches()

    def begin_adding(self) -> None:
        """Open the form for a new purchase."""
        self._open_form(None)

    def _prepare_rows(self) -> None:
        rows = self.rows
        rows.setAccessibleName("Batches")
        rows.setFrameShape(QFrame.Shape.NoFrame)
        rows.setUniformItemSizes(True)
        rows.setMouseTracking(True)
        no_ring(rows)
        rows.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        rows.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        rows.setModel(self.model)

    def _lay_out(self) -> None:
        rows = self.rows
        self._prepare_rows()
        thumbnails = Thumbnails(self._context, self)
        thumbnails.ready.connect(lambda _photo: rows.viewport().update())
        self._painter = BatchPainter(thumbnails, self)
        rows.setItemDelegate(self._painter)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.form.hide()
        column.addWidget(self.form)
        column.addWidget(self._question)
        for words in (self._nothing, self._help):
            words.setContentsMargins(24, 24, 24, 0)
            words.hide()
            column.addWidget(words)
        column.addWidget(rows, 1)
        column.addStretch(0)
        self.set_regions(rows)
        self.set_keys(
            ("Up, Down", "previous or next batch"),
            ("Enter, double click", "open the batch"),
            ("Ins", "add a purchase"),
            ("F2", "edit the purchase"),
            ("Delete", "delete the batch and its tools"),
        )

    def _connect(self) -> None:
        self.rows.activated.connect(lambda _index: self._open())
        self.rows.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.rows.customContextMenuRequested.connect(self._open_menu)
        self._question.confirmed.connect(lambda batch: self._delete(BatchId(batch)))
        self._question.left.connect(self.rows.setFocus)
        self.form.submitted.connect(self._write)
        self.form.rested.connect(self._keep_draft)
        self.form.left.connect(self._close_form)
        self._add.clicked.connect(self.begin_adding)
        self._change.clicked.connect(self._edit_current)
        self._every.clicked.connect(lambda: self.go.emit(routes.BatchRoute()))
        photographs = ActionButton("Add photographs")
        photographs.clicked.connect(lambda: self.go.emit(routes.ImportRoute()))
        self.set_title_buttons(self._every, photographs, self._change, self._add)
        # For the whole screen: an empty catalog has no rows to take the focus.
        for keys, act in (("Ins", self.begin_adding), ("F2", self._edit_current)):
            QShortcut(QKeySequence(keys), self).activated.connect(act)
        bin_it = QShortcut(QKeySequence("Del"), self.rows)
        bin_it.setContext(Qt.ShortcutContext.WidgetShortcut)
        bin_it.activated.connect(self._delete_current)

    @property
    def current(self) -> BatchLine | None:
        """The current purchase of the list."""
        return self.model.value_at(self.rows.currentIndex().row())

    def _read_batches(self) -> None:
        catalog = self._context.catalog
        self._asking.ask(lambda _job: _read(catalog), done=self._show)

    def _show(self, shown: _Shown) -> None:
        before, row = self.current, max(0, self.rows.currentIndex().row())
        self._shown = shown
        self.form.set_order(shown.order)
        self._painter.order = shown.order
        self.model.show_values(shown.lines)
        self.set_title(shown.name, remark=_counted(shown))
        for words in (self._nothing, self._help):
            words.setVisible(not shown.lines)
        self.rows.setVisible(bool(shown.lines))
        self._highlight_add(empty=not shown.lines)
        kept = next(
            (
                row
                for row, line in enumerate(shown.lines)
                if before is not None and line.batch.id == before.batch.id
            ),
            max(0, min(row - 1, len(shown.lines) - 1)),
        )
        self.rows.selectionModel().setCurrentIndex(
            self.model.index(kept), QItemSelectionModel.SelectionFlag.ClearAndSelect
        )

    def _highlight_add(self, *, empty: bool) -> None:
        """Make adding a purchase the next step of an empty catalog."""
        for act in (self._every, self._change):
            act.set_disabled_reason("Add a purchase first." if empty else "")
        if empty and self.isVisible() and not self.form.isVisible():
            self._add.setFocus()

    def _open(self) -> None:
        line = self.current
        if line is not None:
            self.go.emit(routes.BatchRoute(batch=line.batch.id))

    def _edit_current(self) -> None:
        line = self.current
        if line is not None:
            self._open_form(line)

    def _open_form(self, line: BatchLine | None) -> None:
        if self._shown is None:
            return
        self._sent = False
        self._edited_batch = None if line is None else line.batch.id
        self.form.show()
        self.form.begin(
            None if line is None else line.batch,
            code=self._shown.free_code,
            currency=self._shown.currency,
        )
        if line is None:
            self.form.restore_draft(self._draft or self._shown.draft)

    def _close_form(self) -> None:
        self.form.hide()
        if self.rows.isVisible():
            self.rows.setFocus()
        else:
            self._add.setFocus()

    def _write(self, fields: BatchFields) -> None:
        batch, catalog, jobs = self._edited_batch, self._context.catalog, self._context.jobs
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

    def _keep_draft(self) -> None:
        """Keep what was begun of a new purchase."""
        if self._edited_batch is None and not self._sent and self.form.draft != self._draft:
            self._write_draft(self.form.draft)

    def _write_draft(self, draft: dict[str, str]) -> None:
        self._draft = draft
        drafts = self._context.catalog.drafts
        self._context.jobs.edit(
            lambda _job: drafts.keep(_DRAFTS, _NEW, draft),
            done=lambda _kept: None,
            failed=self._context.notices.trouble,
            owner=self._context.edits,
        )

    def _added(self, batch: BatchId, changes: Changes) -> None:
        self._sent = True
        self._write_draft({})
        self._close_form()
        self._context.edits.happened.emit(changes)
        self.go.emit(routes.BatchRoute(batch=batch))

    def _changed(self, changes: Changes) -> None:
        self._close_form()
        self._context.edits.happened.emit(changes)

    def _refused(self, error: Exception) -> None:
        if isinstance(error, InputError):
            self.form.refuse(error)
        else:
            self._context.notices.trouble(error)

    def _delete_current(self) -> None:
        """Delete a batch; one with tools only after it was asked."""
        line = self.current
        if line is None:
            return
        if line.tools:
            self._question.ask_for(line)
        else:
            self._delete(line.batch.id)

    def _open_menu(self, at: QPoint) -> None:
        if self.current is not None:
            entries = (
                MenuEntry(words="Open", act=self._open, key="Enter"),
                MenuEntry(words="Edit", act=self._edit_current, key="F2"),
                MenuEntry(words="Delete", act=self._delete_current, key="Del"),
            )
            open_row_menu(self.rows, at, entries)

    def _delete(self, batch: BatchId) -> None:
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.batches.bin(batch), done=self._context.edits.happened.emit
        )

    def _refresh(self, changes: Changes) -> None:
        if changes.batches or changes.tools or changes.catalog_wide:
            self._read_batches()


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
    lines, settings = catalog.batches.lines(), catalog.settings.read()
    return _Shown(
        name=catalog.name,
        lines=lines,
        currency=settings.currency,
        order=settings.order_of_days,
        draft=catalog.drafts.of(_DRAFTS).get(_NEW, {}),
        free_code=free_batch_code([line.batch.code for line in lines]),
        unfiled=len(catalog.photographs.unfiled()),
    )
