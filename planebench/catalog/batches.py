"""Batches: the purchases in which tools came."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from decimal import Decimal
from typing import TypedDict

from sqlalchemy import func, select
from sqlalchemy.orm import Session
from typing_extensions import Unpack

from planebench.catalog.changes import Changes
from planebench.catalog.ids import BatchId, new_id
from planebench.catalog.records import batch_from
from planebench.catalog.repository import Added, Repository, get_row
from planebench.catalog.tables import BatchRow, PhotographRow, ToolRow
from planebench.catalog.values import Batch, BatchLine
from planebench.errors import InputError
from planebench.trade.terms import ToolStatus


class BatchFields(TypedDict, total=False):
    """The fields of a batch that can be changed."""

    code: str
    title: str
    bought_on: dt.date | None
    bought_from: str
    price: Decimal | None
    premium: Decimal | None
    carriage: Decimal | None
    currency: str
    note: str


class BatchRepository(Repository):
    """Batches, newest first."""

    def add(self, *, run: str | None = None, **fields: Unpack[BatchFields]) -> Added[BatchId]:
        """Add a batch; raise InputError when its code is empty or taken.

        Edits with the same `run` are undone together.
        """
        with self._store.edit("batch", run=run) as edit:
            code = _free_code(edit.session, fields.get("code", ""), None)
            named: BatchFields = {**fields, "code": code}
            row = BatchRow(id=new_id(), created_at=edit.at, **named)
            edit.session.add(row)
            edit.words = f"Batch {row.code} added"
        return Added(id=BatchId(row.id), changes=edit.changes)

    def change(self, batch: BatchId, **fields: Unpack[BatchFields]) -> Changes:
        """Change fields of a batch; raise InputError when its new code is taken."""
        with self._store.edit("batch") as edit:
            row = get_row(edit.session, BatchRow, batch)
            if "code" in fields:
                fields["code"] = _free_code(edit.session, fields["code"], batch)
            for name, value in fields.items():
                setattr(row, name, value)
            edit.words = f"Batch {row.code} changed"
        return edit.changes

    def bin(self, batch: BatchId) -> Changes:
        """Delete a batch with all its tools, into the bin."""
        with self._store.edit("batch") as edit:
            row = get_row(edit.session, BatchRow, batch)
            row.binned_at = edit.at
            tools = select(ToolRow).where(ToolRow.batch_id == batch, ToolRow.binned_at.is_(None))
            for tool in edit.session.scalars(tools):
                tool.binned_at = edit.at
            edit.words = f"Batch {row.code} deleted"
        return edit.changes

    def one(self, batch: BatchId) -> Batch:
        """Return one batch."""
        with self._store.read() as session:
            return batch_from(get_row(session, BatchRow, batch))

    def by_code(self, code: str) -> Batch | None:
        """Return the batch with a code, upper and lower case alike."""
        with self._store.read() as session:
            asked = select(BatchRow).where(func.lower(BatchRow.code) == code.strip().lower())
            row = session.scalars(asked).first()
            return None if row is None else batch_from(row)

    def lines(self) -> tuple[BatchLine, ...]:
        """List the batches, newest first, with their numbers of tools and what those sold for."""
        with self._store.read() as session:
            asked = (
                select(BatchRow)
                .where(BatchRow.binned_at.is_(None))
                .order_by(BatchRow.bought_on.desc().nulls_first(), BatchRow.code.desc())
            )
            rows = list(session.scalars(asked))
            counts, brought = _counts(session), _brought(session)
            return tuple(
                BatchLine(
                    batch=batch_from(row),
                    tools=sum(counts[row.id].values()),
                    sold=counts[row.id][ToolStatus.SOLD],
                    sold_for=brought[row.id],
                    latest_photograph=_first_picture(session, row),
                )
                for row in rows
            )


def _counts(session: Session) -> dict[str, Counter[ToolStatus]]:
    """Count the tools of each batch by status."""
    asked = (
        select(ToolRow.batch_id, ToolRow.status, func.count())
        .where(ToolRow.binned_at.is_(None))
        .group_by(ToolRow.batch_id, ToolRow.status)
    )
    counts: dict[str, Counter[ToolStatus]] = defaultdict(Counter)
    for batch, status, count in session.execute(asked):
        counts[batch][status] = count
    return counts


def _brought(session: Session) -> dict[str, Decimal]:
    """Add up what the tools of each batch were sold for."""
    asked = select(ToolRow.batch_id, ToolRow.sold_for).where(
        ToolRow.binned_at.is_(None), ToolRow.sold_for.is_not(None)
    )
    brought: dict[str, Decimal] = defaultdict(Decimal)
    for batch, price in session.execute(asked):
        brought[batch] += price or Decimal(0)
    return brought


def _first_picture(session: Session, row: BatchRow) -> str | None:
    """Return the latest photograph of the first tool that has any."""
    photographed = (
        select(PhotographRow.id)
        .where(PhotographRow.tool_id == ToolRow.id, PhotographRow.binned_at.is_(None))
        .exists()
    )
    asked = (
        select(ToolRow.summary)
        .where(ToolRow.batch_id == row.id, ToolRow.binned_at.is_(None), photographed)
        .order_by(ToolRow.position, ToolRow.stock_number)
        .limit(1)
    )
    summary = session.scalars(asked).first()
    picture = None if summary is None else summary.get("latest_photograph")
    return None if picture is None else str(picture)


def _free_code(session: Session, typed: str, own: BatchId | None) -> str:
    code = " ".join(typed.split())
    if not code:
        raise InputError(
            "A batch needs a code.", remedy="Type a short one, such as LOT8.", subject="batch code"
        )
    with session.no_autoflush:
        other = session.scalars(
            select(BatchRow).where(func.lower(BatchRow.code) == code.lower(), BatchRow.id != own)
            if own
            else select(BatchRow).where(func.lower(BatchRow.code) == code.lower())
        ).first()
    if other is not None:
        where = "in the bin" if other.binned_at is not None else "in this catalog"
        raise InputError(
            f"There is already a batch {code} {where}.",
            remedy="Type another code.",
            subject="batch code",
        )
    return code
