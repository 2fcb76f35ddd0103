"""Photographs that came in before the card they follow, as files are copied in any order."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Select, exists, select
from sqlalchemy.orm import Session

from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.import_types import FileFate, FileOutcome
from planebench.catalog.tables import OutlineRow, PairRow, PhotographRow, PinRow, ToolRow
from planebench.trade.filing import FiledBy, FilingDecision, PhotographToFile, clock_was_set


@dataclass(frozen=True, slots=True, kw_only=True)
class Follower:
    """A photograph that the rule filed, or left waiting, before a card came in.

    `tool` and `stock` tell where it is filed, empty while it waits. One that `stays` is filed and
    was worked on (drawn on, paired, named), so that it is left there whatever the card says.
    """

    photograph: PhotographId
    sha256: str
    name: str
    tool: ToolId | None
    stock: str
    stays: bool


def followers_of(
    session: Session, cards: Sequence[PhotographToFile], after: dt.timedelta
) -> tuple[Follower, ...]:
    """Return the photographs taken at or after these cards, at most `after`, that rules placed.

    What a person filed is not among them, nor what came in without regard to cards, nor what a
    camera took whose clock was never set.
    """
    times = [card.taken_at for card in cards if card.taken_at is not None]
    if not times:
        return ()
    found = session.execute(_placed_by_rules(min(times), max(times) + after))
    return tuple(
        _follower(row, stock or "", worked_on=worked_on)
        for row, stock, worked_on in found
        if has_a_time(row)
    )


def _placed_by_rules(
    first: dt.datetime, last: dt.datetime
) -> Select[PhotographRow, str | None, bool]:
    """Ask for the photographs of a time that rules filed or left waiting."""
    own = PhotographRow.id
    worked_on = (
        (PhotographRow.view != "")
        | (PhotographRow.caption != "")
        | exists().where(OutlineRow.photograph_id == own)
        | exists().where(PinRow.photograph_id == own)
        | exists().where((PairRow.before_id == own) | (PairRow.after_id == own))
    )
    return (
        select(PhotographRow, ToolRow.stock_number, worked_on)
        .outerjoin(ToolRow, ToolRow.id == PhotographRow.tool_id)
        .where(PhotographRow.binned_at.is_(None))
        .where(PhotographRow.taken_at.between(first, last))
        .where(PhotographRow.filed_by.in_((FiledBy.FOLLOWED.value, FiledBy.WAITS.value)))
        .where(PhotographRow.filed_reason != "")
    )


def _follower(row: PhotographRow, stock: str, *, worked_on: bool) -> Follower:
    return Follower(
        photograph=PhotographId(row.id),
        sha256=row.sha256,
        name=row.original_name,
        tool=None if row.tool_id is None else ToolId(row.tool_id),
        stock=stock,
        stays=worked_on and row.tool_id is not None,
    )


def has_a_time(row: PhotographRow) -> bool:
    """Tell whether a photograph's time can be compared with that of other intakes."""
    if row.taken_at is None:
        return False
    return clock_was_set(row.taken_at.astimezone(), row.added_at.astimezone())


def differs(filing: FilingDecision, follower: Follower) -> bool:
    """Tell whether the card places a photograph elsewhere than where it is."""
    return (filing.stock or "").casefold() != follower.stock.casefold()


def as_outcome(filing: FilingDecision, follower: Follower, tool: ToolId | None) -> FileOutcome:
    """Tell what became of a photograph that a card places elsewhere; `tool` is the new one."""
    before = f"until now with {follower.stock}" if follower.stock else "until now it waited"
    if follower.stays:
        return FileOutcome(
            file=follower.name,
            became=FileFate.ALREADY_IN_CATALOG,
            sha256=follower.sha256,
            photograph=follower.photograph,
            tool=follower.tool,
            stock=follower.stock,
            rule=FiledBy.FOLLOWED.value,
            why=f"stays where it is, since work was done on it; by the cards: {filing.why}",
            warnings=("A card that came in later places it elsewhere: look at it.",),
        )
    return FileOutcome(
        file=follower.name,
        became=FileFate.ALREADY_IN_CATALOG,
        sha256=follower.sha256,
        photograph=follower.photograph,
        tool=tool,
        stock=filing.stock or "",
        rule=filing.by.value,
        why=f"{filing.why}; {before}",
        suggestion=filing.suggestion or "",
    )
