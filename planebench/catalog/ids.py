"""Ids with types of their own, so that a tool's never lands where a photograph's is wanted."""

from __future__ import annotations

import uuid
from typing import NewType

BatchId = NewType("BatchId", str)
ToolId = NewType("ToolId", str)
PartId = NewType("PartId", str)
SurfaceId = NewType("SurfaceId", str)
PhotographId = NewType("PhotographId", str)
PairId = NewType("PairId", str)
PinId = NewType("PinId", str)
DefectId = NewType("DefectId", str)
EvidenceId = NewType("EvidenceId", str)
ReadingId = NewType("ReadingId", str)
OutlineId = NewType("OutlineId", str)
DimensionId = NewType("DimensionId", str)
WorkId = NewType("WorkId", str)
ComparableId = NewType("ComparableId", str)
SheetId = NewType("SheetId", str)
EditId = NewType("EditId", str)
OwnTableId = NewType("OwnTableId", str)


def new_id() -> str:
    """Return 32 hexadecimal digits at random: unique across machines, in no order."""
    return uuid.uuid4().hex
