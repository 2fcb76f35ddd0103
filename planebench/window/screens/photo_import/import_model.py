"""What an import asks of the catalog: where photographs go, which wait, whose they may be."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, PhotographId, ToolId
from planebench.catalog.import_filing import Filed, file_imported
from planebench.catalog.import_followup import ImportStanding, batch_for, standings
from planebench.catalog.import_types import Destination, FileOutcome
from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import Photograph, ToolLine
from planebench.trade.stock_aliases import suggest_aliases


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolCreation:
    """What unknown stock numbers on cards stand for, and the run of the edits.

    New tools of a `kind` for `stocks`, or with `aliases` tools that exist by another number.
    """

    run: str
    kind: str = ""
    stocks: Sequence[str] = ()
    aliases: Mapping[str, str] = field(default_factory=dict)


def make_tools(
    catalog: Catalog, outcomes: Sequence[FileOutcome], *, to: Destination, making: ToolCreation
) -> Filed:
    """Add tools for unknown numbers and file the import's photographs again, as one step.

    Without a batch the tools go to the one in their numbers. Without numbers the photographs are
    filed under existing tools.
    """
    batch = to.batch
    if batch is None and making.stocks:
        batch = batch_for(catalog, making.stocks, run=making.run)
    wanted = replace(to, batch=batch, make_tools=making.kind, aliases=making.aliases)
    return file_imported(catalog, outcomes, run=making.run, to=wanted, first=False)


# More rows than these would be slow and unreadable; they appear once others are filed.
MOST_PHOTOGRAPHS, MOST_TOOLS = 1000, 300


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolChoice:
    """A tool in words."""

    id: ToolId
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportTarget:
    """Where photographs go: one tool, a batch, or neither."""

    batch: BatchId | None = None
    tool: ToolId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportContext:
    """What the catalog answers, arranged so that showing it takes no time.

    `suggested` is the tool that a waiting photograph may show; `titles` those of the tools
    requested; `asked` are photographs of the import and `now` where they are filed;
    `written` those numbers asked for that a tool has by now; `aliases` the tools that the unknown
    numbers may stand for.
    """

    where: str
    title: str
    waiting: tuple[Photograph, ...]
    suggested: Mapping[PhotographId, ToolId]
    titles: Mapping[ToolId, str]
    asked: Collection[PhotographId] = ()
    now: Mapping[PhotographId, ImportStanding] = field(default_factory=dict)
    written: frozenset[str] = frozenset()
    aliases: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportRequest:
    """What an import has so far and asks the catalog about.

    `suggested` holds stock numbers it suggests, `photographs` what it imported, `unknown`
    numbers on cards that no tool had.
    """

    suggested: Mapping[PhotographId, str] = field(default_factory=dict)
    photographs: Collection[PhotographId] = ()
    unknown: Sequence[str] = ()


def load_import_context(
    catalog: Catalog, where: ImportTarget, asked: ImportRequest
) -> ImportContext:
    """Return all that the pages show; called on a job."""
    told, title = _said(catalog, where)
    waiting = catalog.photographs.unfiled(where.batch)
    now = standings(catalog, asked.photographs)
    filed = frozenset(stands.tool for stands in now.values() if stands.tool is not None)
    return ImportContext(
        where=told,
        title=title,
        waiting=waiting,
        suggested=_suggested(catalog, waiting[:MOST_PHOTOGRAPHS], asked.suggested),
        titles=titles_of(catalog, filed),
        asked=asked.photographs,
        now=now,
        written=frozenset(s for s in asked.unknown if catalog.tools.by_stock_number(s)),
        aliases=_aliases(catalog, where, asked.unknown),
    )


def _aliases(catalog: Catalog, where: ImportTarget, unknown: Sequence[str]) -> Mapping[str, str]:
    """Return the tools that unknown numbers may stand for; asked only while there are any."""
    if not unknown:
        return {}
    lines = catalog.tools.lines(catalog.tools.find(ToolFilter()))
    code = "" if where.batch is None else catalog.batches.one(where.batch).code
    return suggest_aliases(unknown, [line.stock_number for line in lines.values()], batch=code)


def titles_of(catalog: Catalog, tools: Collection[ToolId]) -> dict[ToolId, str]:
    """Return the titles of tools; called on a job."""
    return {tool: line.title for tool, line in catalog.tools.lines(tools).items()}


def find_tools(
    catalog: Catalog, batch: BatchId | None, words: str, *, first: Collection[ToolId]
) -> tuple[ToolChoice, ...]:
    """Return the tools that match these words; called on a job.

    Those in `first` are listed first, whatever their batch.
    """
    like = catalog.tools.find(ToolFilter(batch=batch, words=words))
    if words:
        everywhere = set(catalog.tools.find(ToolFilter(words=words)))
        first = [tool for tool in first if tool in everywhere]
    listed = tuple(dict.fromkeys((*first, *like)))[:MOST_TOOLS]
    return tuple(map(_named, catalog.tools.lines(listed).values()))


def _suggested(
    catalog: Catalog, waiting: Collection[Photograph], told: Mapping[PhotographId, str]
) -> dict[PhotographId, ToolId]:
    stocks = {photo.id: told.get(photo.id, "") or photo.suggested_stock_number for photo in waiting}
    tools = {stock: catalog.tools.by_stock_number(stock) for stock in {*stocks.values()} - {""}}
    return {
        photo: tool
        for photo, stock in stocks.items()
        if stock and (tool := tools[stock]) is not None
    }


def _said(catalog: Catalog, where: ImportTarget) -> tuple[str, str]:
    """Return where photographs go, in words, and the screen's title."""
    if where.tool is not None:
        line = catalog.tools.one(where.tool).line
        told = f"All of them go to {line.stock_number}, {line.title.lower()}."
        return told, f"Add photographs of {line.stock_number}"
    if where.batch is not None:
        code = catalog.batches.one(where.batch).code
        told = f"They go to batch {code}, each to the tool named on its scale card."
        return told, f"Add photographs to {code}"
    told = "Each goes to the tool named on its scale card; the rest wait here to be filed."
    return told, "Add photographs"


def _named(line: ToolLine) -> ToolChoice:
    words = f"{line.stock_number}  {line.title}, {line.subtitle}"
    return ToolChoice(id=line.id, words=words)
