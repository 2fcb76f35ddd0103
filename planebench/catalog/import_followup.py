"""How an intake stands now: what was filed by hand since, taken back, put in the bin."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.import_filing import CHUNK
from planebench.catalog.tables import EditRow, PhotographRow, ToolRow


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportStanding:
    """Where a photograph is filed, by which rule and why; `tool` None while it waits."""

    tool: ToolId | None
    stock: str
    rule: str
    why: str


def standings(
    catalog: Catalog, photographs: Collection[PhotographId]
) -> dict[PhotographId, ImportStanding]:
    """Return where each of these is filed; those in the bin or no longer there are left out."""
    ids = list(photographs)
    asked = (
        select(
            PhotographRow.id,
            PhotographRow.tool_id,
            PhotographRow.filed_by,
            PhotographRow.filed_reason,
            ToolRow.stock_number,
        )
        .outerjoin(ToolRow, ToolRow.id == PhotographRow.tool_id)
        .where(PhotographRow.binned_at.is_(None))
    )
    with catalog.store.read() as session:
        return {
            PhotographId(id_): ImportStanding(
                tool=None if tool is None else ToolId(tool), stock=stock or "", rule=rule, why=why
            )
            for at in range(0, len(ids), CHUNK)
            for id_, tool, rule, why, stock in session.execute(
                asked.where(PhotographRow.id.in_(ids[at : at + CHUNK]))
            )
        }


def undo_import(catalog: Catalog, runs: Sequence[str]) -> tuple[Changes, int, int]:
    """Take back those of these runs that changed something and still stand, the last one first.

    Gives what this touched, how many runs were taken back, and how many are left because something
    else was done after them.
    """
    latest = func.max(EditRow.number)
    asked = (
        select(EditRow.run)
        .where(EditRow.run.in_(runs), EditRow.action == "do", EditRow.undone_by.is_(None))
        .group_by(EditRow.run)
        .order_by(latest)
    )
    with catalog.store.read() as session:
        standing = [run for run in session.scalars(asked) if run is not None]
    changes, left = catalog.history.undo_runs(standing)
    return changes, len(standing) - left, left
