"""The line at the foot: what was just written down, what runs, which catalog."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget
from shiboken6 import isValid

from planebench.window.jobs import Job
from planebench.window.pieces.background import Background
from planebench.window.pieces.progress_bar import RunningWork
from planebench.window.pieces.text import ElidedLabel, Ink, LinkButton, small_label
from planebench.window.tokens import NOTE, PAGE_EDGE

_SHOW_AFTER_MS = 600


class StatusBar(Background):
    """The foot of the window, 32 px high.

    Signals: `undo_requested()`.
    """

    undo_requested = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("panel", parent, ruled=Qt.Edge.TopEdge)
        self.setAccessibleName("Bench line")
        self.setFixedHeight(32)
        self._jobs: list[Job] = []
        self._written = ElidedLabel(size=NOTE, ink=Ink.MUTED)
        self._take_back = LinkButton("Take it back", size=NOTE, strong=True)
        self._take_back.clicked.connect(self.undo_requested)
        self._key = small_label("Ctrl Z")
        self._running = RunningWork()
        self._running.stop_wanted.connect(self._stop)
        self._catalog = small_label()
        self._lay_out()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SHOW_AFTER_MS)
        self._timer.timeout.connect(self._show_running)
        self.show_catalog("")

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(PAGE_EDGE, 0, PAGE_EDGE, 0)
        row.setSpacing(8)
        for widget in (self._written, self._take_back, self._key):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self._running)
        row.addSpacing(16)
        row.addWidget(self._catalog)
        self._running.hide()

    def show_last_edit(self, text: str, when: datetime | None = None, *, back: bool = True) -> None:
        """Show what was just written down; `back` if it can be taken back."""
        clock = f"{when:%H:%M}  " if when else ""
        self._written.setText(clock + text)
        for widget in (self._take_back, self._key):
            widget.setVisible(bool(text) and back)

    def show_catalog(self, name: str, when: datetime | None = None, *, hint: str = "") -> None:
        """Show which catalog is open and since when all is written down; no name is none open."""
        if when is None:
            self.show_last_edit(name or "No catalog open", back=False)
            self._catalog.setText(hint)
            return
        parts = [part for part in (hint, name, f"all written down {when:%H:%M}") if part]
        self._catalog.setText("  ·  ".join(parts))

    def watch(self, job: Job) -> None:
        """Show a job with a text while it runs, once it has run for more than a moment."""
        if not job.text:
            return
        self._jobs.append(job)
        job.progressed.connect(self._progressed)
        job.ended.connect(self._ended)
        if not self._timer.isActive() and self._running.isHidden():
            self._timer.start()

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
        """What was begun last: it may end long before a folder is watched no more."""
        return self._jobs[-1] if self._jobs and isValid(self._jobs[-1]) else None

    def _stop(self) -> None:
        if self._newest is not None:
            self._newest.stop()

    def first_focus(self) -> QWidget:
        """Return what takes the keyboard when F6 comes here."""
        return self._take_back
