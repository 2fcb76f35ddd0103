"""Files imported photographs by their scale cards once all are in, and groups look-alikes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice

from sqlalchemy import Select, exists, select
from sqlalchemy.orm import Session

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.import_recorder import imported_words, next_position
from planebench.catalog.import_types import Destination, FileFate, FileOutcome
from planebench.catalog.look_alikes import look_alikes
from planebench.catalog.store import Edit
from planebench.catalog.tables import (
    OriginalRow,
    OutlineRow,
    PairRow,
    PhotographRow,
    PinRow,
    ToolRow,
)
from planebench.catalog.tools import NewTool
from planebench.trade.filing import (
    FiledBy,
    FilingDecision,
    PhotographToFile,
    clock_was_set,
    file_by_cards,
)

# Rows asked for or written together.
CHUNK = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Filed:
    """The result of filing: the outcomes brought up to date, and what is reported at the end.

    `refiled` are photographs already in the catalog that a card among the new ones places
    elsewhere.
    """

    outcomes: tuple[FileOutcome, ...]
    changes: Changes
    unknown_stocks: tuple[str, ...]
    look_alikes: tuple[tuple[PhotographId, ...], ...]
    refiled: tuple[FileOutcome, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Decided:
    """Where photographs belong, and what this changes for those that were here before."""

    filings: tuple[FilingDecision, ...]
    anew: tuple[tuple[FilingDecision, Follower], ...] = ()
    unknown: tuple[str, ...] = ()
    changes: Changes = field(default_factory=Changes)

    @property
    def to_write(self) -> tuple[FilingDecision, ...]:
        """All that is filed otherwise than before."""
        return (*self.filings, *(filing for filing, of in self.anew if not of.stays))


def file_imported(
    catalog: Catalog,
    outcomes: Sequence[FileOutcome],
    *,
    run: str,
    to: Destination,
    first: bool = True,
) -> Filed:
    """File what can be filed by cards, as edits of the same run; group bursts and copies.

    `first` is True for photographs just imported; later, when tools were made for them, the history
    names the filing alone.
    """
    new = _photographs_of([o for o in outcomes if o.became == FileFate.NEW])
    decided = _Decided(filings=())
    changes = Changes()
    if to.follow_cards and to.tool is None:
        decided = _decided(catalog, _photographs_of(outcomes), run=run, to=to)
        after = imported_words(len(new)) if first else ""
        changes = decided.changes | _write(catalog, decided.to_write, run=run, after=after)
    tools = _tools(catalog)
    of = {filing.key: filing for filing in decided.filings}
    return Filed(
        outcomes=tuple(_brought_up_to_date(outcome, of, tools) for outcome in outcomes),
        changes=changes,
        unknown_stocks=decided.unknown,
        look_alikes=look_alikes(catalog.store, new),
        refiled=_filed_anew(decided, tools),
    )


def _filed_anew(decided: _Decided, tools: Mapping[str, ToolId]) -> tuple[FileOutcome, ...]:
    return tuple(as_outcome(filing, of, _tool_of(filing, tools)) for filing, of in decided.anew)


def _photographs_of(outcomes: Sequence[FileOutcome]) -> list[PhotographId]:
    return [outcome.photograph for outcome in outcomes if outcome.photograph is not None]


def _decided(
    catalog: Catalog, photographs: Sequence[PhotographId], *, run: str, to: Destination
) -> _Decided:
    frames, followers = _frames(catalog, photographs, to.minutes)
    decided = _sorted_out(_by_cards(catalog, frames, to), followers)
    if not (decided.unknown and to.make_tools and to.batch):
        return decided
    lines = [NewTool(kind=to.make_tools, stock_number=stock) for stock in decided.unknown]
    _, changes = catalog.tools.add_lines(to.batch, lines, run=run)
    return replace(
        _sorted_out(_by_cards(catalog, frames, to), followers), unknown=(), changes=changes
    )


def _by_cards(
    catalog: Catalog, frames: Sequence[PhotographToFile], to: Destination
) -> tuple[FilingDecision, ...]:
    known = [replace(one, stock=to.aliases.get(one.stock or "", one.stock)) for one in frames]
    return file_by_cards(known, tools=list(_tools(catalog)), minutes=to.minutes)


def _sorted_out(filings: Sequence[FilingDecision], followers: Mapping[str, Follower]) -> _Decided:
    """Separate this import's photographs from earlier ones, which count only where they differ."""
    own: list[FilingDecision] = []
    anew: list[tuple[FilingDecision, Follower]] = []
    for filing in filings:
        follower = followers.get(filing.key)
        if follower is None:
            own.append(filing)
        elif differs(filing, follower):
            anew.append((filing, follower))
    unknown = tuple(sorted({filing.unknown or "" for filing in own} - {""}))
    return _Decided(filings=tuple(own), anew=tuple(anew), unknown=unknown)


def _tools(catalog: Catalog) -> dict[str, ToolId]:
    """Return the tools by stock number."""
    with catalog.store.read() as session:
        asked = select(ToolRow.stock_number, ToolRow.id).where(ToolRow.binned_at.is_(None))
        return {stock: ToolId(tool) for stock, tool in session.execute(asked)}


def _tool_of(filing: FilingDecision, tools: Mapping[str, ToolId]) -> ToolId | None:
    return tools.get(filing.stock or "")


def _frames(
    catalog: Catalog, photographs: Sequence[PhotographId], minutes: int
) -> tuple[list[PhotographToFile], dict[str, Follower]]:
    """Return these photographs, earlier ones that may follow their cards, and cards near them."""
    order = {photograph: place for place, photograph in enumerate(photographs)}
    after = dt.timedelta(minutes=minutes)
    with catalog.store.read() as session:
        frames = [
            _frame(row, camera, order[PhotographId(row.id)])
            for row, camera in _rows(session, order)
        ]
        followers = _followers(session, frames, after)
        # They come after a card of the same second: few change the tool within one.
        frames += [
            replace(_frame(row, camera, len(order)), settled=False)
            for row, camera in _rows(session, [f.photograph for f in followers.values()])
        ]
        return [*frames, *_nearby_cards(session, frames, after)], followers


def _followers(
    session: Session, frames: Sequence[PhotographToFile], after: dt.timedelta
) -> dict[str, Follower]:
    """Return earlier photographs that may follow a card which is new among these."""
    fresh = [frame for frame in frames if frame.has_card and not frame.settled]
    own = {frame.key for frame in frames}
    found = followers_of(session, fresh, after)
    return {f.photograph: f for f in found if f.photograph not in own}


def _nearby_cards(
    session: Session, frames: Sequence[PhotographToFile], before: dt.timedelta
) -> Iterator[PhotographToFile]:
    """Return photographs of cards that came in earlier and were taken before the last of these."""
    times = sorted(filter(None, (frame.taken_at for frame in frames)))
    if not times:
        return
    keys = {frame.key for frame in frames}
    asked = _with_camera().where(PhotographRow.taken_at.between(times[0] - before, times[-1]))
    for row, camera in session.execute(asked):
        if row.id not in keys and has_a_time(row):
            frame = _frame(row, camera, -1, settled=True)
            if frame.has_card:
                yield frame


def _frame(
    row: PhotographRow, camera: str, order: int, *, settled: bool = False
) -> PhotographToFile:
    card = row.scale if (row.scale or {}).get("kind") == "card" else None
    stock = None if card is None else card.get("stock")
    return PhotographToFile(
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
        select(PhotographRow, OriginalRow.camera)
        .join(OriginalRow, OriginalRow.sha256 == PhotographRow.sha256)
        .where(PhotographRow.binned_at.is_(None))
    )


def _rows(
    session: Session, photographs: Iterable[PhotographId]
) -> Iterator[tuple[PhotographRow, str]]:
    ids = iter(photographs)
    while chunk := list(islice(ids, CHUNK)):
        yield from session.execute(_with_camera().where(PhotographRow.id.in_(chunk)))


def _write(catalog: Catalog, filings: Sequence[FilingDecision], *, run: str, after: str) -> Changes:
    changes = Changes()
    by_cards = 0
    ordered = iter(filings)
    while chunk := list(islice(ordered, CHUNK)):
        by_cards += sum(filing.stock is not None for filing in chunk)
        with catalog.store.edit("filing", run=run) as edit:
            edit.words = ", ".join(filter(None, (after, f"{by_cards} filed by cards")))
            _write_some(edit, chunk)
        changes |= edit.changes
    return changes


def _write_some(edit: Edit, filings: Sequence[FilingDecision]) -> None:
    session = edit.session
    asked = select(ToolRow).where(ToolRow.stock_number.in_({f.stock or "" for f in filings}))
    tools = {tool.stock_number: tool for tool in session.scalars(asked)}
    places = {tool.id: next_position(session, tool.id) for tool in tools.values()}
    for filing in filings:
        row = session.get_one(PhotographRow, filing.key)
        row.filed_by, row.filed_reason = filing.by.value, filing.why
        row.suggested_stock_number = filing.suggestion or ""
        if filing.stock is None:
            row.tool_id = None
        else:
            tool = tools[filing.stock]
            row.tool_id, row.batch_id = tool.id, tool.batch_id
            row.position = places[tool.id]
            places[tool.id] += 1


def _brought_up_to_date(
    outcome: FileOutcome, filings: Mapping[str, FilingDecision], tools: Mapping[str, ToolId]
) -> FileOutcome:
    filing = filings.get(outcome.photograph or "")
    if filing is None:
        return outcome
    return replace(
        outcome,
        tool=_tool_of(filing, tools),
        stock=filing.stock or "",
        rule=filing.by.value,
        why=filing.why,
        suggestion=filing.suggestion or "",
    )


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
    """Return whether a photograph's time can be compared with that of other imports."""
    if row.taken_at is None:
        return False
    return clock_was_set(row.taken_at.astimezone(), row.added_at.astimezone())


def differs(filing: FilingDecision, follower: Follower) -> bool:
    """Tell whether the card places a photograph elsewhere than where it is."""
    return (filing.stock or "").casefold() != follower.stock.casefold()


def as_outcome(filing: FilingDecision, follower: Follower, tool: ToolId | None) -> FileOutcome:
    """Tell what became of a photograph that a card places elsewhere; `tool` is the new one."""
    before = f"until now with {follower.stock}" if follower.stock else "until now not filed"
    if follower.stays:
        return FileOutcome(
            file=follower.name,
            became=FileFate.ALREADY_IN_CATALOG,
            sha256=follower.sha256,
            photograph=follower.photograph,
            tool=follower.tool,
            stock=follower.stock,
            rule=FiledBy.FOLLOWED.value,
            why=f"left where it is because it has been worked on; by the cards: {filing.why}",
            warnings=("A card added later places it elsewhere: please check.",),
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
