"""Files the photographs of an intake by their cards once all are in, and gathers look-alikes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId, ToolId, new_id
from planebench.catalog.intake_values import Became, Destination, FileOutcome
from planebench.catalog.intake_write import next_position, taken_in_words
from planebench.catalog.look_alikes import look_alikes
from planebench.catalog.store import Edit
from planebench.catalog.tables import PhotographRow, StoredFileRow, ToolRow
from planebench.catalog.tools import NewTool
from planebench.trade.filing import Filing, Frame, file_by_cards

# Rows asked for or written together.
CHUNK = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Filed:
    """What came of filing: the outcomes brought up to date, and what is told at the end."""

    outcomes: tuple[FileOutcome, ...]
    changes: Changes
    unknown_stocks: tuple[str, ...]
    look_alikes: tuple[tuple[PhotographId, ...], ...]


def after_intake(
    catalog: Catalog, outcomes: Sequence[FileOutcome], *, run: str, to: Destination
) -> Filed:
    """File what can be filed by cards, as edits of the same run; group bursts and copies."""
    new = [o.photograph for o in outcomes if o.photograph and o.became == Became.NEW]
    changes = Changes()
    unknown: tuple[str, ...] = ()
    if to.follow_cards and to.tool is None:
        ids = [o.photograph for o in outcomes if o.photograph is not None]
        filings, unknown, changes = _decided(catalog, ids, run=run, to=to)
        changes |= _write(catalog, filings, run=run, after=f"{taken_in_words(len(new))}, ")
        outcomes = _brought_up_to_date(catalog, outcomes, filings)
    return Filed(
        outcomes=tuple(outcomes),
        changes=changes,
        unknown_stocks=unknown,
        look_alikes=look_alikes(catalog.store, new),
    )


def file_waiting(
    catalog: Catalog, photographs: Sequence[PhotographId], *, to: Destination
) -> tuple[tuple[Filing, ...], Changes]:
    """File photographs that wait by the same rule once more, as one step in the history.

    To be done when a tool was made or the minutes were changed. Gives each decision, and why.
    """
    run = new_id()
    filings, _, changes = _decided(catalog, photographs, run=run, to=to)
    return filings, changes | _write(catalog, filings, run=run, after="")


def _decided(
    catalog: Catalog, photographs: Sequence[PhotographId], *, run: str, to: Destination
) -> tuple[tuple[Filing, ...], tuple[str, ...], Changes]:
    frames = _frames(catalog, photographs, to.minutes)
    filings = file_by_cards(frames, tools=_stocks(catalog), minutes=to.minutes)
    unknown = tuple(sorted({filing.unknown for filing in filings if filing.unknown}))
    if not (unknown and to.make_tools and to.batch):
        return filings, unknown, Changes()
    lines = [NewTool(kind=to.make_tools, stock_number=stock) for stock in unknown]
    _, changes = catalog.tools.add_lines(to.batch, lines, run=run)
    return file_by_cards(frames, tools=_stocks(catalog), minutes=to.minutes), (), changes


def _stocks(catalog: Catalog) -> list[str]:
    with catalog.store.read() as session:
        asked = select(ToolRow.stock_number).where(ToolRow.binned_at.is_(None))
        return list(session.scalars(asked))


def _frames(catalog: Catalog, photographs: Sequence[PhotographId], minutes: int) -> list[Frame]:
    """Give these photographs, and the cards seen shortly before them."""
    order = {photograph: place for place, photograph in enumerate(photographs)}
    with catalog.store.read() as session:
        frames = [
            _frame(row, camera, order[PhotographId(row.id)])
            for row, camera in _rows(session, order)
        ]
        return frames + list(_cards_beside(session, frames, dt.timedelta(minutes=minutes)))


def _cards_beside(
    session: Session, frames: Sequence[Frame], before: dt.timedelta
) -> Iterator[Frame]:
    """Give photographs of cards that came in earlier and were taken among these or before them."""
    times = [frame.taken_at for frame in frames if frame.taken_at is not None]
    if not times:
        return
    keys = {frame.key for frame in frames}
    asked = _with_camera().where(PhotographRow.taken_at.between(min(times) - before, max(times)))
    for row, camera in session.execute(asked):
        frame = _frame(row, camera, -1, settled=True)
        if frame.has_card and frame.key not in keys:
            yield frame


def _frame(row: PhotographRow, camera: str, order: int, *, settled: bool = False) -> Frame:
    card = row.scale if (row.scale or {}).get("kind") == "card" else None
    stock = None if card is None else card.get("stock")
    return Frame(
        key=row.id,
        name=row.original_name,
        order=order,
        taken_at=row.taken_at,
        camera=camera,
        has_card=card is not None,
        stock=None if stock is None else str(stock),
        settled=settled or row.tool_id is not None,
    )


def _with_camera() -> Select[PhotographRow, str]:
    return (
        select(PhotographRow, StoredFileRow.camera)
        .join(StoredFileRow, StoredFileRow.sha256 == PhotographRow.sha256)
        .where(PhotographRow.binned_at.is_(None))
    )


def _rows(
    session: Session, photographs: dict[PhotographId, int]
) -> Iterator[tuple[PhotographRow, str]]:
    ids = iter(photographs)
    while chunk := list(islice(ids, CHUNK)):
        yield from session.execute(_with_camera().where(PhotographRow.id.in_(chunk)))


def _write(catalog: Catalog, filings: Sequence[Filing], *, run: str, after: str) -> Changes:
    changes = Changes()
    by_cards = 0
    ordered = iter(filings)
    while chunk := list(islice(ordered, CHUNK)):
        by_cards += sum(filing.stock is not None for filing in chunk)
        with catalog.store.edit("filing", run=run) as edit:
            edit.words = f"{after}{by_cards} filed by cards"
            _write_some(edit, chunk)
        changes |= edit.changes
    return changes


def _write_some(edit: Edit, filings: Sequence[Filing]) -> None:
    session = edit.session
    asked = select(ToolRow).where(ToolRow.stock_number.in_({f.stock or "" for f in filings}))
    tools = {tool.stock_number: tool for tool in session.scalars(asked)}
    places = {tool.id: next_position(session, tool.id) for tool in tools.values()}
    for filing in filings:
        row = session.get_one(PhotographRow, filing.key)
        row.filed_by, row.filed_why = filing.by.value, filing.why
        row.suggested = filing.suggestion or ""
        if filing.stock is not None:
            tool = tools[filing.stock]
            row.tool_id, row.batch_id = tool.id, tool.batch_id
            row.position = places[tool.id]
            places[tool.id] += 1


def _brought_up_to_date(
    catalog: Catalog, outcomes: Sequence[FileOutcome], filings: Sequence[Filing]
) -> tuple[FileOutcome, ...]:
    of = {filing.key: filing for filing in filings}
    with catalog.store.read() as session:
        asked = select(ToolRow.stock_number, ToolRow.id).where(ToolRow.binned_at.is_(None))
        tools = dict(session.execute(asked).all())
    return tuple(
        outcome
        if (filing := of.get(outcome.photograph or "")) is None
        else _filed(outcome, filing, tools)
        for outcome in outcomes
    )


def _filed(outcome: FileOutcome, filing: Filing, tools: dict[str, str]) -> FileOutcome:
    tool = tools.get(filing.stock or "")
    return replace(
        outcome,
        tool=None if tool is None else ToolId(tool),
        stock=filing.stock or "",
        rule=filing.by.value,
        why=filing.why,
        suggestion=filing.suggestion or "",
    )
