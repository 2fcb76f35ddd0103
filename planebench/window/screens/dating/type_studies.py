"""Type studies and the user's own tables: import, add, compare, delete."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QStackedWidget, QWidget

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.entries import EvidenceFields
from planebench.catalog.ids import OwnTableId
from planebench.catalog.own_tables import KNOWN_FEATURES, TYPE_STUDY, KnownStudy, OwnTable
from planebench.catalog.reference import Kind
from planebench.catalog.values import Tool
from planebench.errors import FileError, InputError
from planebench.trade.evidence_parsing import EvidenceTables
from planebench.trade.type_study import Comparison, TypeStudy
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.scroll_area import scroll_area
from planebench.window.screens.dating.evidence_form import EnteredEvidence
from planebench.window.screens.dating.study_comparison import (
    evidence_by,
    production_evidence,
    study_evidence,
)
from planebench.window.screens.dating.study_entry import StudyEntry
from planebench.window.screens.dating.study_page import StudyPage

_ASKED = {
    TYPE_STUDY: "Import a type study (CSV)",
    KNOWN_FEATURES: "Import a table of dates (CSV)",
}


class TypeStudies(QStackedWidget):
    """The page of type studies and the page on which one is entered.

    Signals: `evidence_wanted(EnteredEvidence)`; `left()` back to the chart.
    """

    evidence_wanted = Signal(object)
    left = Signal()

    def __init__(self, context: ScreenContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._reading = LatestRead(context.jobs, self)
        self._tool: Tool | None = None
        self._tables: EvidenceTables | None = None
        self.page = StudyPage(context)
        self.entry = StudyEntry()
        self._edited: OwnTableId | None = None
        self.addWidget(self.page)
        self._entry_area = scroll_area(self.entry)  # a small window has no room for all of it
        self.addWidget(self._entry_area)
        self.page.evidence_wanted.connect(self._write_evidence)
        self.page.production_wanted.connect(self._write_production)
        self.page.file_wanted.connect(self._ask_for_file)
        self.page.entry_wanted.connect(self._open_entry)
        self.page.bin_wanted.connect(self._bin)
        self.page.left.connect(self.left)
        self.entry.wanted.connect(self._save_study)
        self.entry.left.connect(self._close_entry)

    def set_tables(self, tables: EvidenceTables) -> None:
        """Set the tables used to read years."""
        self._tables = tables

    def show_tool(self, tool: Tool) -> None:
        """Compare with this tool."""
        catalog, self._tool = self._context.catalog, tool
        self._reading.ask(lambda _job: _read_own_tables(catalog), done=self._show)

    def import_table(self, path: Path, purpose: str) -> None:
        """Import a table from a file; errors are shown below its name."""
        catalog = self._context.catalog

        def bring(_job: object) -> Changes:
            return catalog.own_tables.add(
                purpose, _text_of(path), name=_name(path, purpose)
            ).changes

        self._context.jobs.edit(bring, done=self._written, failed=self.page.refuse, owner=self)

    def _show(self, brought: _OwnTables) -> None:
        if self._tool is not None:
            kind = brought.kinds.get(self._tool.kind)
            name = "" if kind is None else kind.name
            self.page.show_studies(brought.studies, self._tool, name)
            self.page.show_date_tables(brought.dates)

    def _write_evidence(self, found: Comparison | None) -> None:
        tool, tables = self._tool, self._tables
        if found is None or tool is None or tables is None:
            return
        known = evidence_by(tool, found.study)
        try:
            fields = study_evidence(found, tool, tables)
        except InputError as error:
            self.page.refuse(error)
            return
        if known is not None:
            # Keep sureness and tolerance, which the person may have set.
            fields = EvidenceFields(**{**fields, "sure": known.sure, "looseness": known.looseness})
        self.evidence_wanted.emit(
            EnteredEvidence(evidence=None if known is None else known.id, fields=fields)
        )

    def _write_production(self, study: TypeStudy | None) -> None:
        if study is None or self._tables is None:
            return
        try:
            fields = production_evidence(study, self._tables)
            self.evidence_wanted.emit(EnteredEvidence(evidence=None, fields=fields))
        except InputError as error:
            self.page.refuse(error)

    def _ask_for_file(self, purpose: str) -> None:
        name, _ = QFileDialog.getOpenFileName(self, _ASKED[purpose], "", "CSV (*.csv)")
        if name:
            self.import_table(Path(name), purpose)

    def _save_study(self, text: str) -> None:
        """Save the study that was entered; an edited one takes the place of the old one."""
        catalog, old = self._context.catalog, self._edited

        def save(_job: object) -> Changes:
            added = catalog.own_tables.add(TYPE_STUDY, text)
            if old is None or added.id == old:
                return added.changes
            return catalog.own_tables.bin(old)

        self._context.jobs.edit(save, done=self._study_saved, failed=self.entry.refuse, owner=self)

    def _study_saved(self, changes: Changes) -> None:
        self._close_entry()
        self._written(changes)

    def _written(self, changes: Changes) -> None:
        self.page.trouble.hide()
        self._context.edits.happened.emit(changes)

    def _bin(self, table: str) -> None:
        catalog = self._context.catalog
        if table:
            self._context.jobs.edit(
                lambda _job: catalog.own_tables.bin(OwnTableId(table)),
                done=self._context.edits.happened.emit,
            )

    def _open_entry(self, study: TypeStudy | None) -> None:
        """Open the entry of a study: an existing one to edit, or a new one."""
        self._edited = OwnTableId(self.page.choice.held) if study is not None else None
        self.setCurrentWidget(self._entry_area)
        self.entry.begin(study)

    def _close_entry(self) -> None:
        self.setCurrentWidget(self.page)
        self.page.choice.setFocus()


@dataclass(frozen=True, slots=True, kw_only=True)
class _OwnTables:
    """The user's type studies and tables of dates, and the known kinds."""

    kinds: Mapping[str, Kind]
    studies: tuple[KnownStudy, ...]
    dates: tuple[OwnTable, ...]


def _read_own_tables(catalog: Catalog) -> _OwnTables:
    tables = catalog.own_tables
    return _OwnTables(
        kinds=catalog.kinds.all(),
        studies=tables.type_studies(),
        dates=tables.list(KNOWN_FEATURES),
    )


def _text_of(path: Path) -> str:
    try:
        return path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise FileError(
            f"{path.name} cannot be read as text.",
            remedy="Save it as CSV in UTF-8 and import it again.",
            subject=str(path),
        ) from error


def _name(path: Path, purpose: str) -> str:
    """Return the name of a table of dates, its file name; a type study has its own title."""
    return "" if purpose == TYPE_STUDY else path.stem
