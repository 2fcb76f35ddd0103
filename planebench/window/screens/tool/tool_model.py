"""Everything the record of a tool shows, read in one job."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from planebench.catalog.catalog import Catalog
from planebench.catalog.currencies import currency_of
from planebench.catalog.ids import PartId, ToolId
from planebench.catalog.reference import Kind
from planebench.catalog.tool_dating import date_of
from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import Batch, Pair, Part, Photograph, Pin, Tool
from planebench.trade.dating import DatingResult
from planebench.trade.days import DayOrder, format_day, parse_day
from planebench.trade.money import Currency
from planebench.trade.purchases import cost_so_far
from planebench.trade.terms import Stage
from planebench.trade.units import LengthUnit


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolModel:
    """A tool with what its record shows: batch, position in it, kinds, date and cost.

    `order` is how days are written; `drafts` are entries begun but not added, by form.
    """

    tool: Tool
    kinds: tuple[Kind, ...]
    batch: Batch
    siblings: tuple[ToolId, ...]
    dating: DatingResult | None
    unit: LengthUnit
    circa: int
    currency: Currency
    cost: Decimal | None
    today: dt.date
    order: DayOrder
    drafts: Mapping[str, Mapping[str, str]]

    def parse_day(self, typed: str) -> dt.date | None:
        """Parse a day as this catalog writes days; None for no text. Raises InputError."""
        if not typed.strip():
            return None
        return parse_day(typed, field="Day", today=self.today, order=self.order)

    def day_read_as(self, typed: str) -> str:
        """Return what a typed day is read as, in words; empty for no text. Raises InputError."""
        day = self.parse_day(typed)
        return "" if day is None else format_day(day, self.order)

    @property
    def kind(self) -> Kind | None:
        """The kind of plane; None when that kind was deleted."""
        return next((kind for kind in self.kinds if kind.code == self.tool.kind), None)

    @property
    def position(self) -> int:
        """Position in the batch, counted from 1; 0 for a tool in the bin."""
        return self.siblings.index(self.tool.id) + 1 if self.tool.id in self.siblings else 0

    def neighbor(self, step: int) -> ToolId | None:
        """Return the tool `step` positions further on in the batch, None at its ends."""
        at = self.position - 1 + step
        return self.siblings[at] if self.position and 0 <= at < len(self.siblings) else None

    def part(self, part: PartId | None) -> Part | None:
        """Return a part of the tool by id, None when there is none."""
        return next((one for one in self.tool.parts if one.id == part), None)

    def pins_on(self, photograph: str) -> tuple[Pin, ...]:
        """Return the pins of defects on a photograph."""
        return tuple(
            pin for pin in self.tool.pins if pin.photograph == photograph and pin.defect is not None
        )

    def photograph(self, photograph: str | None) -> Photograph | None:
        """Return a photograph of the tool by id, None when there is none."""
        return next((one for one in self.tool.photographs if one.id == photograph), None)

    def pair_of(self, photograph: Photograph) -> Pair | None:
        """Return the pair that a photograph belongs to."""
        both = (pair for pair in self.tool.pairs if photograph.id in (pair.before, pair.after))
        return next(both, None)

    def counterpart(self, photograph: Photograph) -> Photograph | None:
        """Return the photograph of the same view at the other end of the work."""
        if not photograph.view:
            return None
        found = photograph.stage is Stage.AS_FOUND
        wanted = (Stage.FINISHED, Stage.DURING) if found else (Stage.AS_FOUND,)
        for stage in wanted:
            for one in self.tool.photographs:
                if one.view == photograph.view and one.stage is stage and one is not photograph:
                    return one
        return None


def read_tool_model(catalog: Catalog, tool: ToolId) -> ToolModel:
    """Read everything for the record; raise CatalogError when the tool does not exist."""
    record = catalog.tools.one(tool)
    batch = catalog.batches.one(record.batch)
    siblings = catalog.tools.find(ToolFilter(batch=record.batch))
    settings = catalog.settings.read()
    currency = currency_of(batch.currency)
    spent = [work.cost for work in record.work if work.cost is not None]
    return ToolModel(
        tool=record,
        kinds=tuple(catalog.kinds.all().values()),
        batch=batch,
        siblings=siblings,
        dating=date_of(record),
        unit=LengthUnit(settings.length_unit),
        circa=settings.circa_years,
        currency=currency,
        cost=cost_so_far(_share_of(batch, tool, siblings), spent, currency),
        today=catalog.now.date(),
        order=settings.order_of_days,
        drafts=catalog.drafts.of(tool),
    )


def first_photograph(photographs: Iterable[Photograph], latest: str | None) -> Photograph | None:
    """Return the photograph shown first: the latest, as in the list of tools."""
    shown = tuple(photographs)
    return next((one for one in shown if one.id == latest), shown[0] if shown else None)


def _share_of(batch: Batch, tool: ToolId, siblings: Sequence[ToolId]) -> Decimal | None:
    """Return what a tool carries of its purchase; None where it is not among its batch's tools."""
    if tool not in siblings:
        return None
    currency = currency_of(batch.currency)
    return batch.cost.even_share(siblings.index(tool), len(siblings), currency)
