"""Which views of each tool are there, asked for many tools at once."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from sqlalchemy import select

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.tables import BatchRow, PhotographRow, ToolRow
from planebench.catalog.tool_lines import line_from
from planebench.trade.terms import Stage, ToolStatus


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographedViews:
    """A tool in short, and the stage and view of each of its photographs."""

    tool: ToolId
    stock: str
    title: str
    kind: str
    status: ToolStatus
    there: tuple[tuple[Stage, str], ...]


def photographed_views(
    catalog: Catalog, batch: BatchId | None = None
) -> tuple[PhotographedViews, ...]:
    """Return the tools of a batch, or all outside the bin, by batch and place in it."""
    tools = (
        select(ToolRow)
        .join(BatchRow, BatchRow.id == ToolRow.batch_id)
        .where(ToolRow.binned_at.is_(None))
        .order_by(BatchRow.code, ToolRow.position, ToolRow.stock_number)
    )
    taken = select(PhotographRow.tool_id, PhotographRow.stage, PhotographRow.view).where(
        PhotographRow.binned_at.is_(None), PhotographRow.tool_id.is_not(None)
    )
    if batch is not None:
        tools = tools.where(ToolRow.batch_id == batch)
        taken = taken.where(PhotographRow.batch_id == batch)
    there: defaultdict[str | None, list[tuple[Stage, str]]] = defaultdict(list)
    with catalog.store.read() as session:
        for tool, stage, view in session.execute(taken):
            there[tool].append((stage, view))
        return tuple(
            PhotographedViews(
                tool=ToolId(row.id),
                stock=row.stock_number,
                title=line_from(row).title,
                kind=row.kind,
                status=row.status,
                there=tuple(there[row.id]),
            )
            for row in session.scalars(tools)
        )
