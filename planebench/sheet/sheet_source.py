"""What a sheet is composed from: one tool's record and the reference data around it."""

from __future__ import annotations

import datetime as dt
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
from planebench.trade.days import MONTHS, DayOrder, format_day, order_for_paper
from planebench.trade.money import Currency
from planebench.trade.ratings import RatingTables
from planebench.trade.terms import LATEST_FIRST, PartStatus, Stage

_LATER = (Stage.FINISHED, Stage.DURING)
_NOW_FIRST = (*_LATER, Stage.AS_FOUND)
_SHORT_MONTH = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSource:
    """A tool's record with its kind, its dating, the outlines on its photographs, and choices.

    `files` holds the path of each photograph's original; `today` is the catalog's day.
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
    today: dt.date
    rating_tables: RatingTables | None

    def part_name(self, part: PartId | None) -> str:
        """Return a part's name; empty for the whole tool."""
        return next((one.name for one in self.tool.parts if one.id == part), "")

    def reading_now(self, surface: Surface, *, rust: bool = False) -> Reading | None:
        """Return the latest stage's reading of a surface that counts."""
        readings = (self.tool.reading(surface.id, stage, rust=rust) for stage in LATEST_FIRST)
        return next((reading for reading in readings if reading is not None), None)

    @property
    def may_have_changed(self) -> bool:
        """Whether work, a later photograph or a later reading says it is not as it was found."""
        stages = {one.stage for one in self.tool.photographs}
        stages |= {one.stage for one in self.tool.readings}
        return bool(self.tool.work) or bool(stages - {Stage.AS_FOUND})

    def later_reading(self, surface: Surface, *, rust: bool = False) -> Reading | None:
        """Return the reading that counts from after it was found, None if there is none."""
        readings = (self.tool.reading(surface.id, stage, rust=rust) for stage in _LATER)
        return next((one for one in readings if one is not None), None)

    def day(self, day: dt.date) -> str:
        """Return a day in words, in the order usual for the sheet's paper or set by the person."""
        return format_day(day, self._day_order)

    def short_day(self, day: dt.date) -> str:
        """Return a day with a short month, and its year only if it is not the sheet's: "Mar 23"."""
        month = MONTHS[day.month - 1]
        words = format_day(day, self._day_order, with_year=day.year != self.today.year)
        return words.replace(month, month[:_SHORT_MONTH])

    @property
    def _day_order(self) -> DayOrder:
        if self.settings.day_order == "by_paper":
            return order_for_paper(self.choices.paper.value)
        return self.settings.order_of_days

    def photograph(self, photograph: PhotographId) -> Photograph | None:
        """Return one of the tool's photographs."""
        return next((one for one in self.tool.photographs if one.id == photograph), None)


def load_source(catalog: Catalog, tool_id: ToolId, choices: SheetChoices) -> SheetSource:
    """Return all that one sheet needs from the catalog. Raise CatalogError for an unknown tool."""
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
        today=catalog.now.date(),
        rating_tables=load_rating_tables(resources / "ratings")
        if choices.standard_ratings
        else None,
    )


def _seen_where_marked(tool: Tool) -> Tool:
    """Mark a part as present if it has a defect: somebody must have seen it."""
    marked = {defect.part for defect in tool.defects}
    parts = tuple(
        replace(part, status=PartStatus.PRESENT)
        if part.status is PartStatus.NOT_SEEN and part.id in marked
        else part
        for part in tool.parts
    )
    return replace(tool, parts=parts)
