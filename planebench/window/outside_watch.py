"""Notices within a second what other programs write in the open catalog, and has it shown."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import JobDesk

LOOK_MS = 700
"""A change is shown within a second: up to this long to notice it, the rest to read it."""


class OutsideWatch(QObject):
    """Looks whether the catalog's files were written, and only then asks the database what changed."""

    def __init__(self, jobs: JobDesk, edits: EditSignal, parent: QObject) -> None:
        super().__init__(parent)
        self._jobs = jobs
        self._edits = edits
        self._catalog: Catalog | None = None
        self._stamp: object = None
        self._asking = False
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self._look)

    def set_catalog(self, catalog: Catalog | None) -> None:
        """Look at this catalog from now on, at none with None."""
        self._catalog = catalog
        self._asking = False
        if catalog is None:
            self._timer.stop()
            return
        self._stamp = catalog.write_stamp()
        self._timer.start()

    def _look(self) -> None:
        catalog = self._catalog
        if catalog is None or self._asking:
            return
        stamp = catalog.write_stamp()
        if stamp == self._stamp:
            return
        self._stamp = stamp
        self._asking = True
        self._jobs.read(
            lambda _job: catalog.changes_from_outside(),
            done=self._show,
            failed=self._failed,
            owner=self,
        )

    def _show(self, changes: Changes | None) -> None:
        self._asking = False
        if changes is not None and self._catalog is not None:
            self._edits.happened.emit(changes)

    def _failed(self, _error: Exception) -> None:
        """Leave it to the next look: what is wrong with the catalog shows where it is used."""
        self._asking = False
