"""What an intake knows of the catalog: where photographs go, which tools there are, what waits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.tools import Wanted
from planebench.catalog.values import Photograph, ToolLine


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedTool:
    """A tool in words, and the same words as they are searched."""

    id: ToolId
    words: str
    folded: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What the catalog answers, laid out so that showing it takes no time."""

    where: str
    title: str
    named: tuple[NamedTool, ...]
    titles: Mapping[ToolId, str]
    stocks: Mapping[str, ToolId]
    waiting: tuple[Photograph, ...]


def read(catalog: Catalog, batch: BatchId | None, tool: ToolId | None) -> Known:
    """Ask all that the pages show; called on a job."""
    tools = catalog.tools.lines(catalog.tools.find(Wanted(batch=batch)))
    lines = sorted(tools.values(), key=lambda line: line.stock_number)
    where, title = _said(catalog, batch, tool)
    return Known(
        where=where,
        title=title,
        named=tuple(map(_named, lines)),
        titles={line.id: line.title for line in lines},
        stocks={line.stock_number: line.id for line in lines},
        waiting=catalog.photographs.unfiled(batch),
    )


def _said(catalog: Catalog, batch: BatchId | None, tool: ToolId | None) -> tuple[str, str]:
    """Say where photographs go, and what the place is called."""
    if tool is not None:
        line = catalog.tools.one(tool).line
        where = f"They all go to {line.stock_number}, {line.title.lower()}."
        return where, f"Photographs of {line.stock_number}"
    if batch is not None:
        code = catalog.batches.one(batch).code
        where = f"They go into batch {code}, and to the tool that the card names."
        return where, f"Photographs for {code}"
    where = "They go to the tool that the card in the picture names; the rest wait here."
    return where, "Photographs in"


def _named(line: ToolLine) -> NamedTool:
    words = f"{line.stock_number}  {line.title}, {line.subtitle}"
    return NamedTool(id=line.id, words=words, folded=words.casefold())
