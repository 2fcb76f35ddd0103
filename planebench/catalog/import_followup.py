"""What follows an import: how it stands now, undoing it, a batch for cards of unknown tools."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, PhotographId, ToolId
from planebench.catalog.import_filing import CHUNK
from planebench.catalog.tables import BatchRow, EditRow, PhotographRow, ToolRow


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
    """Undo those of these runs that changed something and were not undone, the last one first.

    Return what this touched, how many runs were undone, and how many were left because something
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


_FIRST_CODE = "LOT1"


def batch_for(catalog: Catalog, stocks: Sequence[str], *, run: str) -> BatchId:
    """Return the batch for stock numbers that no tool has yet.

    It is the one of tools whose numbers begin alike (LOT7-003 and LOT7-004), else the one of that
    code, else the newest. Where there is none at all, one of that code is made, as an edit of
    `run`.
    """
    code = _shared_start(stocks)
    known = _with_siblings(catalog, code) or _of_code(catalog, code) or _newest(catalog)
    return known or catalog.batches.add(run=run, code=code or _FIRST_CODE).id


def _shared_start(stocks: Sequence[str]) -> str:
    """Return what stands before the last hyphen, empty unless it is the same in all."""
    starts = {stock.rpartition("-")[0].strip() for stock in stocks}
    return starts.pop() if len(starts) == 1 else ""


def _with_siblings(catalog: Catalog, code: str) -> BatchId | None:
    if not code:
        return None
    with catalog.store.read() as session:
        asked = (
            select(ToolRow.batch_id)
            .join(BatchRow, BatchRow.id == ToolRow.batch_id)
            .where(ToolRow.stock_number.istartswith(f"{code}-", autoescape=True))
            .where(ToolRow.binned_at.is_(None), BatchRow.binned_at.is_(None))
            .order_by(ToolRow.created_at.desc())
        )
        found = session.scalars(asked).first()
        return None if found is None else BatchId(found)


def _of_code(catalog: Catalog, code: str) -> BatchId | None:
    batch = catalog.batches.by_code(code) if code else None
    return None if batch is None or batch.binned_at is not None else batch.id


def _newest(catalog: Catalog) -> BatchId | None:
    lines = catalog.batches.lines()
    return lines[0].batch.id if lines else None
