"""A tool's line in a list: read from what was worked out when its record last changed."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.tables import ToolRow
from planebench.catalog.values import ToolLine
from planebench.trade.progress import NextStep
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, Completeness

_NOT_WORKED_OUT = NextStep(words="", detail="", is_act=False, section=0)


def line_from(row: ToolRow) -> ToolLine:
    """Return a tool's line; before its first summary it says that nothing is known."""
    summary = row.summary
    act = summary.get("next")
    known = summary.get("known")
    return ToolLine(
        id=ToolId(row.id),
        batch=BatchId(row.batch_id),
        stock_number=row.stock_number,
        title=str(summary.get("title", row.kind)),
        subtitle=str(summary.get("subtitle", "")),
        status=row.status,
        latest_photograph=_text(summary.get("latest_photograph")),
        main_share=share_from(summary.get("main_share")),
        main_was=share_from(summary.get("main_was")),
        made=str(summary.get("made", "")),
        made_basis=str(summary.get("made_basis", "")),
        known=tuple(Completeness(str(word)) for word in known)
        if isinstance(known, list)
        else (Completeness.OPEN,) * 7,
        next_act=_act_from(act) if isinstance(act, Mapping) else _NOT_WORKED_OUT,
    )


def share_to(share: Share | None) -> dict[str, str] | None:
    """Return a share as JSON can hold it."""
    if share is None:
        return None
    return {
        "value": str(share.value),
        "low": str(share.low),
        "high": str(share.high),
        "basis": share.basis.value,
    }


def share_from(plain: object) -> Share | None:
    """Undo `share_to`."""
    if not isinstance(plain, Mapping):
        return None
    return Share(
        value=Decimal(str(plain["value"])),
        low=Decimal(str(plain["low"])),
        high=Decimal(str(plain["high"])),
        basis=Basis(str(plain["basis"])),
    )


def _act_from(plain: Mapping[str, object]) -> NextStep:
    return NextStep(
        words=str(plain["words"]),
        detail=str(plain["detail"]),
        is_act=bool(plain["is_act"]),
        section=int(str(plain["section"])),
    )


def _text(value: object) -> str | None:
    return None if value is None else str(value)
