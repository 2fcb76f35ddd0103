"""Sends sheets, issued or drafts, to a printer or into files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtPrintSupport import QPrinter

from planebench.catalog.ids import ToolId
from planebench.catalog.values import IssuedSheet
from planebench.sheet.verify import read_sheet_file, verify_pdf
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job
from planebench.window.printing import Papers, format_print_result, print_papers, set_up
from planebench.window.screens.sheet.sheet_jobs import (
    SheetOrder,
    SheetsMade,
    check_place,
    file_each,
    file_name,
    free_name,
    into_files,
    make,
    one_file,
)
from planebench.window.screens.sheet.sheet_messages import (
    file_missing,
    no_viewer,
    report,
    report_check,
)
from planebench.window.screens.sheet.sheet_panel import SheetPanel
from planebench.window.screens.sheet.sheet_preview import Preview, SheetDesk
from planebench.window.system_dialogs import SystemDialogs, documents


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplies:
    """What the output needs: context, desk, system dialogs and the tools."""

    context: ScreenContext
    desk: SheetDesk
    outlets: SystemDialogs
    tools: tuple[ToolId, ...]


class SheetOutput(QObject):
    """Carries out the panel's buttons; `seen` is the sheet on the screen."""

    def __init__(self, supplies: Supplies, column: SheetPanel) -> None:
        super().__init__(column)
        self.seen: Preview | None = None
        self._with = supplies
        self._column = column
        column.issue_print.clicked.connect(lambda: self._print(issuing=True))
        column.issue_file.clicked.connect(lambda: self._to_file(issuing=True))
        column.draft_print.clicked.connect(lambda: self._print(issuing=False))
        column.draft_file.clicked.connect(lambda: self._to_file(issuing=False))
        column.issued.file_wanted.connect(self._show_file)
        column.check.clicked.connect(self._ask_for_check)

    def _name(self) -> str:
        """Return the print job's name in the printer queue."""
        if self.seen is None or len(self._with.tools) > 1:
            return "Condition sheets"
        return f"Condition sheet {self.seen.content.heading.stock}"

    def _order(self, *, issuing: bool) -> SheetOrder:
        return SheetOrder(
            tools=self._with.tools,
            choices=self._column.choices,
            issuing=issuing,
            accept_missing=self._column.accept.isChecked(),
        )

    def _print(self, *, issuing: bool) -> None:
        order = self._order(issuing=issuing)
        papers = Papers(
            name=self._name(),
            pdfs=(),
            paper=order.choices.paper,
            both_sides=self._column.both_sides,
        )
        self._with.outlets.printer(
            self._column,
            lambda printer: set_up(printer, papers),
            lambda printer: self._make(order, lambda made: self._put_on(printer, papers, made)),
        )

    def _make(self, order: SheetOrder, then: Callable[[SheetsMade], object]) -> None:
        desk = self._with.desk
        self._carry_out(order, lambda job: make(desk, order, job), then)

    def _put_on(self, printer: QPrinter, papers: Papers, made: SheetsMade) -> None:
        self._told(made)
        if made.stopped or not made.pdfs:
            return
        both = printer.duplex() is not QPrinter.DuplexMode.DuplexNone
        full = replace(papers, pdfs=made.pdfs, both_sides=both)
        self._column.set_disabled_reason("Printing.")
        job = self._with.context.jobs.read(
            lambda job: print_papers(full, printer, job),
            done=lambda pages: self._printed(printer, pages),
            failed=self._failed,
            owner=self,
            text="Printing",
        )
        job.stopped.connect(self._over)

    def _to_file(self, *, issuing: bool) -> None:
        order, desk = self._order(issuing=issuing), self._with.desk
        if len(self._with.tools) > 1 and self._column.files.held == "each":
            self._with.outlets.folder(
                self._column,
                documents(),
                lambda folder: self._write(order, folder, lambda made: file_each(made, folder)),
            )
            return
        self._with.outlets.file(
            self._column,
            free_name(documents() / self._suggested(order)),
            lambda path: self._write(order, path.parent, lambda made: one_file(desk, made, path)),
        )

    def _suggested(self, order: SheetOrder) -> str:
        if self.seen is None or len(self._with.tools) > 1:
            return "Condition sheets.pdf"
        stock = self.seen.content.heading.stock
        return file_name(stock, self.seen.next_number if order.issuing else None)

    def _write(
        self, order: SheetOrder, folder: Path, write: Callable[[SheetsMade], tuple[Path, ...]]
    ) -> None:
        desk = self._with.desk

        def work(job: Job) -> SheetsMade:
            check_place(folder)
            return into_files(desk, order, write, job)

        self._carry_out(order, work, self._told)

    def _carry_out(
        self,
        order: SheetOrder,
        work: Callable[[Job], SheetsMade],
        then: Callable[[SheetsMade], object],
    ) -> None:
        self._column.set_disabled_reason("Making the sheets.")
        hand_in = self._with.context.jobs.edit if order.issuing else self._with.context.jobs.read

        def done(made: SheetsMade) -> None:
            self._over()
            then(made)

        job = hand_in(
            work,
            done=done,
            failed=self._failed,
            owner=self,
            text="Issuing sheets" if order.issuing else "Making drafts",
        )
        job.stopped.connect(self._over)

    def _told(self, made: SheetsMade) -> None:
        if made.changes is not None:
            self._with.context.edits.happened.emit(made.changes)
        report(self._with.context.notices, made, self._show)

    def _printed(self, printer: QPrinter, pages: int) -> None:
        self._over()
        self._with.context.notices.advise(format_print_result(printer, pages))

    def _over(self) -> None:
        self._column.set_disabled_reason("")

    def _failed(self, error: Exception) -> None:
        self._over()
        self._with.context.notices.trouble(error)

    def _ask_for_check(self) -> None:
        self._with.outlets.pdf(self._column, documents(), self._check)

    def _check(self, path: Path) -> None:
        """Check a sheet's PDF against the catalog and say what was found."""
        context = self._with.context
        context.jobs.read(
            lambda _job: verify_pdf(read_sheet_file(path), context.catalog),
            done=lambda found: report_check(context.notices, path, found),
            failed=context.notices.trouble,
            owner=self,
        )

    def _show_file(self, sheet: IssuedSheet) -> None:
        path = self._with.context.catalog.sheets.path(sheet)
        if not path.is_file():
            self._with.context.notices.trouble(file_missing(path))
        else:
            self._show(path)

    def _show(self, path: Path) -> None:
        if not self._with.outlets.show(path):
            no_viewer(self._with.context.notices, path)
