"""Writes in the catalog for the record, and says what was refused where it was typed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from PySide6.QtCore import QObject
from shiboken6 import isValid

from planebench.catalog.changes import Changes
from planebench.catalog.ids import ToolId
from planebench.catalog.repository import Added
from planebench.errors import InputError
from planebench.window.context import ScreenContext
from planebench.window.routes import Route

IdT = TypeVar("IdT")
Refused = Callable[[InputError], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordContext:
    """What every section of the record works with."""

    given: ScreenContext
    tool: ToolId
    hand: RecordEditor
    go: Callable[[Route], object]


class RecordEditor(QObject):
    """One writer for the whole screen; its edits are told even when the screen is left."""

    def __init__(self, given: ScreenContext, parent: QObject) -> None:
        super().__init__(parent)
        self._given = given

    def change(self, verb: Callable[[], Changes], refused: Refused | None = None) -> None:
        """Carry out a verb off the thread; `refused` hears of what cannot be meant."""
        edits = self._given.edits
        self._given.jobs.edit(
            lambda _job: verb(),
            done=edits.happened.emit,
            failed=lambda error: self._failed(error, refused),
            owner=edits,
        )

    def add(
        self,
        verb: Callable[[], Added[IdT]],
        added: Callable[[IdT], object] | None = None,
        refused: Refused | None = None,
    ) -> None:
        """Carry out a verb that adds; `added` hears the new id before the change is told."""
        edits = self._given.edits

        def tell(answer: Added[IdT]) -> None:
            if added is not None and isValid(self):
                added(answer.id)
            edits.happened.emit(answer.changes)

        self._given.jobs.edit(
            lambda _job: verb(),
            done=tell,
            failed=lambda error: self._failed(error, refused),
            owner=edits,
        )

    def _failed(self, error: Exception, refused: Refused | None) -> None:
        if isinstance(error, InputError) and refused is not None and isValid(self):
            refused(error)
        else:
            self._given.notices.trouble(error)
