"""A problem that did not stop the work and is reported at its end."""

from __future__ import annotations

from dataclasses import dataclass

from typing_extensions import override


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """A problem: which file or record, what happened, what to do."""

    subject: str
    happened: str
    remedy: str

    @override
    def __str__(self) -> str:
        return f"{self.subject}: {self.happened} {self.remedy}"
