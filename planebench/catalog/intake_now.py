"""Where photographs of an intake stand now: filed by hand since, taken back, in the bin."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import select

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.intake_filing import CHUNK
from planebench.catalog.tables import PhotographRow, ToolRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a photograph is filed, by which rule and why; `tool` None while it waits."""

    tool: ToolId | None
    stock: str
    rule: str
    why: str


def standings(
    catalog: Catalog, photographs: Collection[PhotographId]
) -> dict[PhotographId, Standing]:
    """Give where each of these is filed; those in the bin or no longer there are left out."""
    ids = list(photographs)
    asked = (
        select(PhotographRow, ToolRow.stock_number)
        .outerjoin(ToolRow, ToolRow.id == PhotographRow.tool_id)
        .where(PhotographRow.binned_at.is_(None))
    )
    with catalog.store.read() as session:
        return {
            PhotographId(row.id): Standing(
                tool=None if row.tool_id is None else ToolId(row.tool_id),
                stock=stock or "",
                rule=row.filed_by,
                why=row.filed_why,
            )
            for at in range(0, len(ids), CHUNK)
            for row, stock in session.execute(
                asked.where(PhotographRow.id.in_(ids[at : at + CHUNK]))
            )
        }
