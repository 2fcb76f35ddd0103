"""Undo and redo: what the next steps are called, and the jobs that take them."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.history import PastEdit
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import JobDesk, LatestRead


@dataclass(frozen=True, slots=True, kw_only=True)
class UndoState:
    """The words of the edits that undo and redo would act on; empty where there is none.

    `at` is when the edit was made that undo would take back. `undone` is set right after an undo.
    """

    undo: str = ""
    redo: str = ""
    at: dt.datetime | None = None
    undone: bool = False


class UndoSteps(QObject):
    """Undoes and redoes edits of the open catalog, and knows the names of the next steps.

    Signals: `changed(UndoState)` after each edit, undo or redo, and when a catalog is opened.
    """

    changed = Signal(object)

    def __init__(self, jobs: JobDesk, edits: EditSignal, parent: QObject) -> None:
        super().__init__(parent)
        self._jobs = jobs
        self._edits = edits
        self._catalog: Catalog | None = None
        self._reading = LatestRead(jobs, self)
        self._undone = False
        edits.happened.connect(self._edited)

    def set_catalog(self, catalog: Catalog | None) -> None:
        """Work on this catalog from now on; None while no catalog is open."""
        self._catalog = catalog
        self._undone = False
        if catalog is None:
            self.changed.emit(UndoState())
        else:
            self._read()

    def undo(self) -> None:
        """Undo the last edit."""
        catalog = self._catalog
        if catalog is not None:
            self._jobs.edit(lambda _job: catalog.history.undo(), done=self._undo_done)

    def redo(self) -> None:
        """Redo the edit that was undone last."""
        catalog = self._catalog
        if catalog is not None:
            self._jobs.edit(lambda _job: catalog.history.redo(), done=self._redo_done)

    def _undo_done(self, changes: Changes) -> None:
        self._step_done(changes, undone=True)

    def _redo_done(self, changes: Changes) -> None:
        self._step_done(changes, undone=False)

    def _step_done(self, changes: Changes, *, undone: bool) -> None:
        if changes.words:
            self._edits.happened.emit(changes)
            self._undone = undone

    def _edited(self, changes: Changes) -> None:
        if changes.words and self._catalog is not None:
            self._undone = False
            self._read()

    def _read(self) -> None:
        catalog = self._catalog
        if catalog is not None:
            history = catalog.history
            self._reading.ask(
                lambda _job: (history.next_undo(), history.next_redo()), done=self._show
            )

    def _show(self, steps: tuple[PastEdit | None, PastEdit | None]) -> None:
        if self._catalog is None:
            return  # closed meanwhile
        undo, redo = steps
        self.changed.emit(
            UndoState(
                undo=undo.words if undo is not None else "",
                redo=redo.words if redo is not None else "",
                at=undo.at if undo is not None else None,
                undone=self._undone and redo is not None,
            )
        )
