"""Backups: the dated ones, a full one elsewhere, restoring, and looking the catalog over."""

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

from planebench.catalog.backups import BackupReport, backup
from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.dated_backups import dated_backups
from planebench.catalog.findings import Finding
from planebench.catalog.restoring import restore
from planebench.trade.days import format_day
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job, LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import MessageNote, SectionHeading
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label

_MEGABYTE = 1_000_000
_MOST_TOLD = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class _Dated:
    words: str
    path: Path


class BackupsScreen(Screen):
    """What is kept, what can be brought back, and whether all is sound."""

    def __init__(self, given: ScreenContext) -> None:
        super().__init__()
        self._given = given
        self._reading = LatestRead(given.jobs, self)
        self.rows = QListWidget()
        self.rows.setAccessibleName("Dated copies of the record")
        self.note = MessageNote()
        self.note.hide()
        self._back_up = ActionButton("Back all of it up …", weight=ButtonWeight.MAIN)
        self._restore = ActionButton("Restore this one …")
        self._restore_other = ActionButton("Restore from a folder …")
        self._check = ActionButton("Look the catalog over")
        self._lay_out()
        self._ask()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 16)
        column.setSpacing(12)
        column.addWidget(
            Label(
                "Once a day, when something was written, a copy of the record is put into the "
                "catalog’s own backups folder. Kept are all of the last 7 days, one a week for 8 "
                "weeks and one a month for 12 months. Those copies lie on the same disk: back all "
                "of it up, photographs too, onto another one now and then.",
                ink=Ink.MUTED,
            ).wrapped()
        )
        column.addWidget(self.note)
        column.addWidget(SectionHeading("Dated copies of the record"))
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
        self._check.clicked.connect(self._look_over)
        self.set_title_buttons(self._check, self._back_up)
        self.set_title("Backups and checks", up="Back")
        self.set_regions(self.rows)
        self.set_keys(("Up, Down", "the backup before or after"), ("Esc", "back"))

    def _ask(self) -> None:
        catalog = self._given.catalog
        self._reading.ask(lambda _job: _dated(catalog), done=self._show)

    def _show(self, copies: list[_Dated]) -> None:
        self.rows.clear()
        for copy in copies:
            item = QListWidgetItem(copy.words)
            item.setData(256, str(copy.path))
            self.rows.addItem(item)
        self.rows.setCurrentRow(0)
        self._restore.set_disabled_reason("" if copies else "There is no dated copy yet.")

    def _ask_back_up(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "Where to put the backup")
        if name:
            self.back_up_to(Path(name))

    def back_up_to(self, folder: Path) -> None:
        """Write a full backup into a folder."""
        catalog = self._given.catalog
        self._back_up.set_busy("Backing up")
        self._given.jobs.read(
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
            "The backup is written",
            written.findings,
        )

    def _restore_chosen(self) -> None:
        at = self.rows.currentIndex()
        if at.isValid():
            self._ask_where(Path(str(at.data(256))))

    def _restore_folder(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "The folder of a full backup")
        if name:
            self._ask_where(Path(name))

    def _ask_where(self, source: Path) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self, "The new catalog’s folder", f"{self._given.catalog.folder} restored"
        )
        if name:
            self.restore_to(source, Path(name))

    def restore_to(self, source: Path, folder: Path) -> None:
        """Make a new catalog from a backup; the open one is not touched."""
        self._given.jobs.read(
            lambda job: restore(source, folder, report=job.step),
            done=self._restored,
            failed=self._failed,
            owner=self,
            text="Restoring",
        )

    def _restored(self, written: BackupReport) -> None:
        self._say(
            f"It stands in {written.folder}. Open it from the Catalog menu.",
            "The catalog is restored beside the open one",
            written.findings,
        )

    def _look_over(self) -> None:
        catalog = self._given.catalog
        self._check.set_busy("Looking")
        self._given.jobs.read(
            lambda job: _checked(catalog, job),
            done=self._looked_over,
            failed=self._failed,
            owner=self,
            text="Looking the catalog over",
        )

    def _looked_over(self, findings: tuple[Finding, ...]) -> None:
        self._check.set_busy("")
        if findings:
            self._say("", f"{len(findings)} things are not as they should be", findings)
        else:
            self._say(
                "The record, every photograph against its fingerprint, every sheet.",
                "All is sound",
                (),
            )

    def _failed(self, error: Exception) -> None:
        for act in (self._back_up, self._check):
            act.set_busy("")
        self._given.notices.trouble(error)

    def _say(self, text: str, title: str, findings: tuple[Finding, ...]) -> None:
        told = [str(finding) for finding in findings[:_MOST_TOLD]]
        if len(findings) > _MOST_TOLD:
            told.append(f"and {len(findings) - _MOST_TOLD} more")
        self.note.show_message("\n".join([text, *told]).strip(), title, trouble=bool(findings))
        self.note.show()
        self._ask()


def _dated(catalog: Catalog) -> list[_Dated]:
    copies = dated_backups(catalog.folder / "backups")
    return [
        _Dated(words=f"{format_day(at.date())}, {at:%H:%M}   {path.name}", path=path)
        for at, path in sorted(copies.items(), reverse=True)
    ]


def _checked(catalog: Catalog, job: Job) -> tuple[Finding, ...]:
    return check(catalog, report=job.step, stopped=lambda: job.stop_asked)
