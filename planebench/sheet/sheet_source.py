"""What a sheet is composed from: one tool's whole record and what is known around it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PartId, PhotographId, ToolId
from planebench.catalog.rating_tables import load_currencies, load_rating_tables
from planebench.catalog.reference import Kind, resources_folder
from planebench.catalog.settings import CatalogSettings
from planebench.catalog.tool_dating import date_of
from planebench.catalog.values import IssuedSheet, Outline, Photograph, Reading, Surface, Tool
from planebench.sheet.content import SheetChoices
from planebench.trade.dating import DatingResult
from planebench.trade.money import Currency
from planebench.trade.ratings import RatingTables
from planebench.trade.terms import LATEST_FIRST, STAGE_WORDS, PartStatus, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSource:
    """A tool's record with its kind, its dating, the outlines on its photographs, and choices.

    `files` gives each photograph's original in the originals.
    """

    tool: Tool
    kind: Kind | None
    settings: CatalogSettings
    choices: SheetChoices
    currency: Currency
    dating: DatingResult | None
    outlines: Mapping[PhotographId, tuple[Outline, ...]]
    files: Mapping[PhotographId, Path]
    earlier: tuple[IssuedSheet, ...]
    number: int
    rating_tables: RatingTables | None

    def part_name(self, part: PartId | None) -> str:
        """Return a part's name; empty for the whole tool."""
        return next((one.name for one in self.tool.parts if one.id == part), "")

    def reading_now(self, surface: Surface, *, rust: bool = False) -> Reading | None:
        """Return the latest stage's reading of a surface that counts."""
        readings = (self.tool.reading(surface.id, stage, rust=rust) for stage in LATEST_FIRST)
        return next((reading for reading in readings if reading is not None), None)

    def reading_found(self, surface: Surface, *, rust: bool = False) -> Reading | None:
        """Return the reading as found, if another one counts now."""
        found = self.tool.reading(surface.id, Stage.AS_FOUND, rust=rust)
        return None if found is self.reading_now(surface, rust=rust) else found

    def since_when(self, reading: Reading) -> str:
        """Name a reading's stage where the tool was photographed or read at a later one."""
        later = LATEST_FIRST[: LATEST_FIRST.index(reading.stage)]
        read = {one.stage for one in self.tool.readings}
        taken = {one.stage for one in self.tool.photographs}
        return STAGE_WORDS[reading.stage] if (read | taken).intersection(later) else ""

    def photograph(self, photograph: PhotographId) -> Photograph | None:
        """Return one of the tool's photographs."""
        return next((one for one in self.tool.photographs if one.id == photograph), None)


def load_source(catalog: Catalog, tool_id: ToolId, choices: SheetChoices) -> SheetSource:
    """Read from the catalog all that one sheet needs. Raises CatalogError for an unknown tool."""
    tool = _seen_where_marked(catalog.tools.one(tool_id))
    batch = catalog.batches.one(tool.batch)
    resources = resources_folder()
    currencies = load_currencies(resources / "money" / "iso4217.csv")
    shown = [photograph.id for photograph in tool.photographs]
    return SheetSource(
        tool=tool,
        kind=catalog.kinds.all().get(tool.kind),
        settings=catalog.settings.read(),
        choices=choices,
        currency=currencies.get(batch.currency)
        or Currency(code=batch.currency, digits=2, name=batch.currency),
        dating=date_of(tool),
        outlines={one: catalog.photographs.outlines(one) for one in shown},
        files={one.id: catalog.originals.path(one.sha256, one.suffix) for one in tool.photographs},
        earlier=catalog.sheets.of_tool(tool_id),
        number=catalog.sheets.next_number(),
        rating_tables=load_rating_tables(resources / "ratings")
        if choices.standard_ratings
        else None,
    )


def _seen_where_marked(tool: Tool) -> Tool:
    """Take a part for seen that bears a defect, though nobody said of it that it is there."""
    marked = {defect.part for defect in tool.defects}
    parts = tuple(
        replace(part, status=PartStatus.PRESENT)
        if part.status is PartStatus.NOT_SEEN and part.id in marked
        else part
        for part in tool.parts
    )
    return replace(tool, parts=parts)
