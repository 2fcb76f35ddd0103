"""What an edit touched, so that each screen decides alone whether to look again."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from planebench.catalog.ids import BatchId, PhotographId, ToolId


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """Ids touched by one or more edits, and the last edit's words for the bench line.

    `catalog_wide` is set when settings, kinds or tables changed: everything looks again; `stays`
    when the last edit cannot be undone.
    """

    tools: frozenset[ToolId] = frozenset()
    batches: frozenset[BatchId] = frozenset()
    photographs: frozenset[PhotographId] = frozenset()
    catalog_wide: bool = False
    words: str = ""
    at: dt.datetime | None = None
    stays: bool = False

    def __or__(self, other: Changes) -> Changes:
        return Changes(
            tools=self.tools | other.tools,
            batches=self.batches | other.batches,
            photographs=self.photographs | other.photographs,
            catalog_wide=self.catalog_wide or other.catalog_wide,
            words=other.words or self.words,
            at=other.at or self.at,
            stays=other.stays if other.words else self.stays,
        )
