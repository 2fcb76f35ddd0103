"""Changes that another program made in the open catalog, passed on to every screen."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import Job, JobDesk

# A window is to show within a second what another program changed. Asking takes a tenth of a
# millisecond; reading and painting what changed needs the rest.
_ASK_EVERY_MS = 500


class OutsideChanges(QObject):
    """Asks the open catalog for changes from outside and emits them like edits made here."""

    def __init__(self, jobs: JobDesk, edits: EditSignal, parent: QObject) -> None:
        super().__init__(parent)
        self._jobs = jobs
        self._edits = edits
        self._catalog: Catalog | None = None
        self._asked: Job | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(_ASK_EVERY_MS)
        self._timer.timeout.connect(self._ask)

    def set_catalog(self, catalog: Catalog | None) -> None:
        """Watch this catalog from now on; None while no catalog is open."""
        self._catalog = catalog
        if catalog is None:
            self._timer.stop()
        else:
            self._timer.start()

    def _ask(self) -> None:
        catalog = self._catalog
        if catalog is None or (self._asked is not None and not self._asked.over):
            return
        self._asked = self._jobs.read(
            lambda _job: catalog.changes_from_outside(),
            done=lambda changes: self._pass_on(catalog, changes),
            failed=lambda _error: None,  # a locked or closed database: the next look tells
            owner=self,
        )

    def _pass_on(self, catalog: Catalog, changes: Changes | None) -> None:
        if changes is not None and catalog is self._catalog:
            self._edits.happened.emit(changes)
