"""Backups: daily copies, full backups, restoring, and checking the catalog."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
)

from planebench.catalog.backup_names import dated_backups
from planebench.catalog.backups import BackupReport, backup
from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.findings import Finding
from planebench.catalog.restoring import restore
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import MessageNote, SectionHeading
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label
from planebench.window.timestamps import format_timestamp

_MEGABYTE = 1_000_000
_MOST_TOLD = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class _Copy:
    words: str
    path: Path


class BackupsScreen(Screen):
    """Lists backups, restores them, and checks the catalog."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__()
        self._context = context
        self._reading = LatestRead(context.jobs, self)
        self.rows = QListWidget()
        self.rows.setAccessibleName("Daily copies of the record")
        self.note = MessageNote()
        self.note.hide()
        self._back_up = ActionButton("Back up everything…", weight=ButtonWeight.MAIN)
        self._restore = ActionButton("Restore this copy…")
        self._restore_other = ActionButton("Restore from a folder…")
        self._check = ActionButton("Check the catalog")
        self._lay_out()
        self._ask()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(
            Label(
                "Once a day, after a change, a copy of the record is saved in its backups "
                "folder: one per day for 7 days, one per week for 8 weeks, one per month for "
                "12 months. These copies are on the same disk. Back up everything, photographs "
                "too, to another disk from time to time.",
                ink=Ink.MUTED,
            ).wrapped()
        )
        column.addWidget(self.note)
        column.addWidget(SectionHeading("Daily copies of the record"))
        column.addWidget(self.rows, 1)
        row = QHBoxLayout()
        row.setSpacing(8)
        for act, call in (
            (self._restore, self._restore_chosen),
            (self._restore_other, self._restore_folder),
        ):
            act.clicked.connect(call)
            row.addWidget(act)
        row.addStretch(1)
        column.addLayout(row)
        self._back_up.clicked.connect(self._ask_back_up)
        self._check.clicked.connect(self._check_catalog)
        self.set_title_buttons(self._check, self._back_up)
        self.set_title("Backups and checks", up="Back")
        self.set_regions(self.rows)
        self.set_keys(("Up, Down", "previous or next copy"), ("Esc", "back"))

    def _ask(self) -> None:
        catalog = self._context.catalog
        self._reading.ask(lambda _job: _read_copies(catalog), done=self._show)

    def _show(self, copies: list[_Copy]) -> None:
        self.rows.clear()
        for copy in copies:
            item = QListWidgetItem(copy.words)
            item.setData(256, str(copy.path))
            self.rows.addItem(item)
        self.rows.setCurrentRow(0)
        self._restore.set_disabled_reason("" if copies else "There is no copy yet.")

    def _ask_back_up(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "Folder for the backup")
        if name:
            self.back_up_to(Path(name))

    def back_up_to(self, folder: Path) -> None:
        """Write a full backup to a folder."""
        catalog = self._context.catalog
        self._back_up.set_busy("Backing up")
        self._context.jobs.read(
            lambda job: backup(catalog, folder, report=job.step),
            done=self._backed_up,
            failed=self._failed,
            owner=self,
            text="Backing up",
        )

    def _backed_up(self, written: BackupReport) -> None:
        self._back_up.set_busy("")
        size = written.size / _MEGABYTE
        self._say(
            f"{written.files} files, {size:.0f} MB, in {written.folder}.",
            "Backup complete",
            written.findings,
        )

    def _restore_chosen(self) -> None:
        at = self.rows.currentIndex()
        if at.isValid():
            self._ask_where(Path(str(at.data(256))))

    def _restore_folder(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "Folder of a full backup")
        if name:
            self._ask_where(Path(name))

    def _ask_where(self, source: Path) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self, "Folder for the restored catalog", f"{self._context.catalog.folder} restored"
        )
        if name:
            self.restore_to(source, Path(name))

    def restore_to(self, source: Path, folder: Path) -> None:
        """Create a new catalog from a backup; the open one is not touched."""
        self._context.jobs.read(
            lambda job: restore(source, folder, report=job.step),
            done=self._restored,
            failed=self._failed,
            owner=self,
            text="Restoring",
        )

    def _restored(self, written: BackupReport) -> None:
        self._say(
            f"It is in {written.folder}. Open it from the Catalog menu.",
            "Restored as a new catalog",
            written.findings,
        )

    def _check_catalog(self) -> None:
        catalog = self._context.catalog
        self._check.set_busy("Checking")
        self._context.jobs.read(
            lambda job: _checked(catalog, job),
            done=self._show_findings,
            failed=self._failed,
            owner=self,
            text="Checking the catalog",
        )

    def _show_findings(self, findings: tuple[Finding, ...]) -> None:
        self._check.set_busy("")
        if findings:
            self._say("", _problems(len(findings)), findings)
        else:
            self._say(
                "Checked: the record, every photograph and every sheet.",
                "No problems found",
                (),
            )

    def _failed(self, error: Exception) -> None:
        for act in (self._back_up, self._check):
            act.set_busy("")
        self._context.notices.trouble(error)

    def _say(self, text: str, title: str, findings: tuple[Finding, ...]) -> None:
        told = [str(finding) for finding in findings[:_MOST_TOLD]]
        if len(findings) > _MOST_TOLD:
            told.append(f"and {len(findings) - _MOST_TOLD} more")
        self.note.show_message("\n".join([text, *told]).strip(), title, trouble=bool(findings))
        self.note.show()
        self._ask()


def _read_copies(catalog: Catalog) -> list[_Copy]:
    copies = dated_backups(catalog.folder / "backups")
    order = catalog.settings.read().order_of_days
    return [
        _Copy(words=f"{format_timestamp(at, order)}   {path.name}", path=path)
        for at, path in sorted(copies.items(), reverse=True)
    ]


def _problems(count: int) -> str:
    return "1 problem found" if count == 1 else f"{count} problems found"


def _checked(catalog: Catalog, job: Job) -> tuple[Finding, ...]:
    return check(catalog, report=job.step, stopped=lambda: job.stop_asked)
