"""Settings of the catalog that a screen changes."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject

from planebench.catalog.changes import Changes
from planebench.window.context import ScreenContext


class SavedChoices(QObject):
    """Writes settings of the catalog one after another, each as an edit."""

    def __init__(self, given: ScreenContext, parent: QObject) -> None:
        super().__init__(parent)
        self._given = given
        self._writing = 0

    @property
    def writing(self) -> bool:
        """True while a setting is being written: what is read now may be the old value."""
        return self._writing > 0

    def keep(self, fields: dict[str, object]) -> None:
        """Write these fields of CatalogSettings; a failure is shown."""
        settings = self._given.catalog.settings
        self._writing += 1
        self._given.jobs.edit(
            lambda _job: settings.write(replace(settings.read(), **fields)),  # type: ignore[arg-type]  # named
            done=self._written,
            failed=self._refused,
            owner=self,
        )

    def _written(self, changes: Changes) -> None:
        self._given.edits.happened.emit(changes)
        self._writing -= 1

    def _refused(self, error: Exception) -> None:
        self._writing -= 1
        self._given.notices.trouble(error)
