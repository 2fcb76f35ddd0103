"""Entries that were begun but not added: kept in a file of the catalog, offered again later."""

from __future__ import annotations

import json
import threading
from collections.abc import Mapping
from pathlib import Path

from planebench.errors import FileError

Draft = dict[str, str]
"""What was typed, by the key of its field."""


class Drafts:
    """Drafts by subject (a tool's id) and form, in `drafts.json` in the catalog's folder.

    They are no part of the record: no history, no undo, and not in a backup.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._lock = threading.Lock()

    def of(self, subject: str) -> dict[str, Draft]:
        """Return the drafts of a subject by form; none where the file is missing or damaged."""
        with self._lock:
            return self._read().get(subject, {})

    def keep(self, subject: str, form: str, draft: Mapping[str, str]) -> None:
        """Keep the draft of a form; an empty one removes it. Raises FileError."""
        with self._lock:
            everything = self._read()
            forms = everything.get(subject, {})
            if forms.get(form, {}) == dict(draft):
                return
            forms = {name: known for name, known in forms.items() if name != form}
            if draft:
                forms[form] = dict(draft)
            everything.pop(subject, None)
            if forms:
                everything[subject] = forms
            self._write(everything)

    def _read(self) -> dict[str, dict[str, Draft]]:
        try:
            data = json.loads(self._path.read_text("utf-8"))
            return {
                str(subject): {
                    str(form): {str(key): str(text) for key, text in draft.items()}
                    for form, draft in forms.items()
                }
                for subject, forms in data.items()
            }
        except (OSError, ValueError, AttributeError):
            return {}

    def _write(self, everything: Mapping[str, object]) -> None:
        part = self._path.with_suffix(".part")
        try:
            part.write_text(json.dumps(everything, ensure_ascii=False, indent=1), "utf-8")
            part.replace(self._path)
        except OSError as error:
            raise FileError(
                "What you have begun to type cannot be kept for later.",
                remedy="Add the entry now, or free some space on the disk.",
                subject=str(self._path),
            ) from error
