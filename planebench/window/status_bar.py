"""The status bar: the last step with undo or redo, what is running, and the open catalog."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QHBoxLayout, QWidget
from shiboken6 import isValid

from planebench.window.jobs import Job
from planebench.window.pieces.background import Background
from planebench.window.pieces.progress_bar import RunningWork
from planebench.window.pieces.text import ElidedLabel, Ink, LinkButton, small_label
from planebench.window.tokens import NOTE, PAGE_EDGE

# Shorter work would only flicker.
_SHOW_RUNNING_AFTER_MS = 600


class StatusBar(Background):
    """The bottom line of the window, 32 px high.

    Signals: `undo_requested()` and `redo_requested()`.
    """

    spoken_role = QAccessible.Role.StatusBar

    undo_requested = Signal()
    redo_requested = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("panel", parent, ruled=Qt.Edge.TopEdge)
        self.setAccessibleName("Status bar")
        self.setFixedHeight(32)
        self._jobs: list[Job] = []
        self._writing: list[Job] = []
        self._name, self._saved_at = "", ""
        self._last = ElidedLabel(size=NOTE, ink=Ink.MUTED)
        self._undo = LinkButton("Undo", size=NOTE, strong=True)
        self._undo.clicked.connect(self.undo_requested)
        self._redo = LinkButton("Redo", size=NOTE, strong=True)
        self._redo.clicked.connect(self.redo_requested)
        self._key = small_label("Ctrl+Z")
        self._running = RunningWork()
        self._running.stop_wanted.connect(self._stop)
        self._catalog = small_label()
        self._lay_out()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SHOW_RUNNING_AFTER_MS)
        self._timer.timeout.connect(self._show_running)
        self.show_no_catalog()

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(PAGE_EDGE, 0, PAGE_EDGE, 0)
        row.setSpacing(8)
        for widget in (self._last, self._undo, self._redo, self._key):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self._running)
        row.addSpacing(16)
        row.addWidget(self._catalog)
        self._running.hide()

    @property
    def last_edit(self) -> str:
        """The words at the left: the last edit, or what was undone."""
        return self._last.text()

    def show_last_edit(
        self, text: str, when: datetime | None = None, *, undoable: bool = True
    ) -> None:
        """Show the last edit, with Undo beside it if it can be undone."""
        clock = f"{when.astimezone():%H:%M}  " if when else ""
        self._last.setText(clock + text)
        self._offer(undo=bool(text) and undoable)

    def show_undone(self, words: str) -> None:
        """Show which edit was just undone, with Redo beside it."""
        self._last.setText(f"Undone: {words}.")
        self._offer(redo=True)

    def _offer(self, *, undo: bool = False, redo: bool = False) -> None:
        self._undo.setVisible(undo)
        self._redo.setVisible(redo)
        self._key.setVisible(undo or redo)
        self._key.setText("Ctrl+Shift+Z" if redo else "Ctrl+Z")

    def show_no_catalog(self) -> None:
        """Say that no catalog is open."""
        self._name, self._saved_at = "", ""
        self.show_last_edit("No catalog open", undoable=False)
        self._catalog.setText("")

    def show_catalog(self, name: str, when: datetime | None = None) -> None:
        """Show which catalog is open and when it was last saved."""
        self._name = name
        if when is not None:
            self._saved_at = f"{when.astimezone():%H:%M}"
        self._show_saved()

    def _show_saved(self) -> None:
        if not self._name:
            return
        saved = f"all changes saved {self._saved_at}".rstrip()
        self._catalog.setText(f"{self._name}  ·  {'Saving…' if self._writing else saved}")

    def watch(self, job: Job) -> None:
        """Show a job while it runs: as saving if it writes, else by its text after a moment."""
        if job.writes and not job.text:
            self._writing.append(job)
            job.ended.connect(self._write_ended)
            self._show_saved()
        if not job.text:
            return
        self._jobs.append(job)
        job.progressed.connect(self._progressed)
        job.ended.connect(self._ended)
        if not self._timer.isActive() and self._running.isHidden():
            self._timer.start()

    def _write_ended(self) -> None:
        self._writing = [job for job in self._writing if isValid(job) and not job.over]
        self._show_saved()

    def _show_running(self) -> None:
        self._clear()
        if self._jobs:
            self._progressed()
            self._running.show()

    def _progressed(self) -> None:
        job = self._newest
        if job is not None:
            text, done, total = job.progress
            self._running.show_progress(text or job.text, done, total)

    def _ended(self) -> None:
        self._clear()
        self._progressed()
        if not self._jobs:
            self._timer.stop()
            self._running.hide()

    def _clear(self) -> None:
        self._jobs = [job for job in self._jobs if isValid(job) and not job.over]

    @property
    def _newest(self) -> Job | None:
        """The job started last: an import may end long before a folder is watched no more."""
        return self._jobs[-1] if self._jobs and isValid(self._jobs[-1]) else None

    def _stop(self) -> None:
        if self._newest is not None:
            self._newest.stop()

    def first_focus(self) -> QWidget | None:
        """Return what takes the keyboard when F6 comes here, None where nothing can."""
        return next((link for link in (self._undo, self._redo) if not link.isHidden()), None)
