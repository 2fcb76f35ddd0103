"""Dates a tool's record by the tables in resources/dating."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.values import EvidenceEntry, Part, Tool
from planebench.trade.dating import DatingResult, Evidence
from planebench.trade.record_dating import RecordDater


@cache
def _dater() -> RecordDater:
    return RecordDater(dating_tables())


def date_of(
    tool: Tool, *, without: str = "", all_evidence: Sequence[Evidence] | None = None
) -> DatingResult | None:
    """Date a tool; see `RecordDater.date`."""
    return _dater().date(tool, without=without, all_evidence=all_evidence)


def evidence_from_entry(entry: EvidenceEntry, parts: Sequence[Part]) -> Evidence:
    """Return a recorded piece of evidence as the engine takes it."""
    return _dater().evidence(entry, parts)
