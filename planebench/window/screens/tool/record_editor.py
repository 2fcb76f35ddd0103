"""Edits of the tool record: writes to the catalog and returns errors to the form."""

from __future__ import annotations

from collections.abc import Callable, Mapping
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
ErrorHandler = Callable[[InputError], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordContext:
    """What every section of the record needs: catalog context, tool, editor and navigation."""

    context: ScreenContext
    tool: ToolId
    editor: RecordEditor
    go: Callable[[Route], object]


class RecordEditor(QObject):
    """Runs the edits of one screen; they are announced even after the screen is closed."""

    def __init__(self, context: ScreenContext, tool: ToolId, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._tool = tool
        self.sent_draft = ""

    def change(self, verb: Callable[[], Changes], show_error: ErrorHandler | None = None) -> None:
        """Run an edit in a job; `show_error` receives an InputError."""
        edits = self._context.edits
        self._context.jobs.edit(
            lambda _job: verb(),
            done=edits.happened.emit,
            failed=lambda error: self._failed(error, show_error),
            owner=edits,
        )

    def add(
        self,
        verb: Callable[[], Added[IdT]],
        added: Callable[[IdT], object] | None = None,
        show_error: ErrorHandler | None = None,
    ) -> None:
        """Run an edit that adds; `added` receives the new id before the change is announced."""
        edits, drafts, sent = self._context.edits, self._context.catalog.drafts, self.sent_draft

        def write() -> Added[IdT]:
            answer = verb()
            # Here, since the screen may be closed before the answer comes.
            drafts.keep(self._tool, sent, {})
            return answer

        def announce(answer: Added[IdT]) -> None:
            if added is not None and isValid(self):
                added(answer.id)
            edits.happened.emit(answer.changes)

        self._context.jobs.edit(
            lambda _job: write(),
            done=announce,
            failed=lambda error: self._failed(error, show_error),
            owner=edits,
        )

    def keep_draft(self, form: str, draft: Mapping[str, str]) -> None:
        """Keep what was typed in a form but not saved; an empty draft removes it."""
        drafts, tool = self._context.catalog.drafts, self._tool
        self._context.jobs.edit(
            lambda _job: drafts.keep(tool, form, draft),
            done=lambda _kept: None,
            failed=self._context.notices.trouble,
            owner=self._context.edits,
        )

    def _failed(self, error: Exception, show_error: ErrorHandler | None) -> None:
        if isinstance(error, InputError) and show_error is not None and isValid(self):
            show_error(error)
        else:
            self._context.notices.trouble(error)
