"""Finds the batch that tools with unknown stock numbers belong to, or makes it."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId
from planebench.catalog.tables import BatchRow, ToolRow

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
