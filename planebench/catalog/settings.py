"""Settings of a catalog: seller and guarantee, stock numbers, units, paper."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from planebench.catalog.changes import Changes
from planebench.catalog.repository import Repository
from planebench.catalog.tables import SettingRow
from planebench.errors import InputError
from planebench.trade.days import DayOrder, order_for_paper
from planebench.trade.stock import FIRST_PATTERN, check_pattern

LENGTH_UNITS = ("in", "mm")
PAPERS = ("letter", "a4")
DAY_ORDERS = ("by_paper", *DayOrder)
SIDES = ("one", "both")
MOST_PHOTOGRAPHS = 12
MOST_STOCK_NUMBER = 999_999  # six digits fit on a scale card
LEAST_SCALE, MOST_SCALE = 0.95, 1.05

# What each setting is called in the history.
WORDS = {
    "workshop": "workshop name",
    "person": "name",
    "address": "address",
    "contact": "contact",
    "guarantee": "guarantee",
    "currency": "currency",
    "stock_pattern": "stock number pattern",
    "first_stock_number": "first stock number",
    "length_unit": "length unit",
    "paper": "paper",
    "day_order": "way of writing days",
    "sides": "printed sides",
    "printer_scale": "printer scale",
    "photographs_on_sheet": "photographs per sheet",
    "ratings_on_sheet": "ratings on sheets",
    "follow_minutes": "minutes after a card",
    "circa_years": "years around “circa”",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CatalogSettings:
    """Settings kept with the catalog; each default suits most people.

    `workshop`, `person`, `address`, `contact` and `guarantee` are printed on sheets. `currency` is
    an ISO 4217 code. `photographs_on_sheet` is 1 to 12. `printer_scale`, 0.95 to 1.05, is by how
    much lengths on scale cards are stretched for this person's printer.
    """

    workshop: str = ""
    person: str = ""
    address: str = ""
    contact: str = ""
    guarantee: str = ""
    currency: str = "USD"
    stock_pattern: str = FIRST_PATTERN
    first_stock_number: int = 1
    length_unit: str = "in"
    paper: str = "letter"
    day_order: str = "by_paper"
    sides: str = "both"
    printer_scale: float = 1.0
    photographs_on_sheet: int = 6
    ratings_on_sheet: bool = False
    follow_minutes: int = 30
    circa_years: int = 5

    def __post_init__(self) -> None:
        check_pattern(self.stock_pattern)
        _one_of("length unit", self.length_unit, LENGTH_UNITS)
        _one_of("paper", self.paper, PAPERS)
        _one_of("way of writing days", self.day_order, DAY_ORDERS)
        _one_of("printed sides", self.sides, SIDES)
        if not 1 <= self.first_stock_number <= MOST_STOCK_NUMBER:
            raise InputError(
                f"Stock numbers cannot start at {self.first_stock_number}.",
                remedy=f"Enter 1 to {MOST_STOCK_NUMBER}.",
                subject="first stock number",
            )
        if not 1 <= self.photographs_on_sheet <= MOST_PHOTOGRAPHS:
            raise InputError(
                f"A sheet has no room for {self.photographs_on_sheet} photographs.",
                remedy=f"Choose 1 to {MOST_PHOTOGRAPHS}.",
                subject="photographs per sheet",
            )
        if not LEAST_SCALE <= self.printer_scale <= MOST_SCALE:
            raise InputError(
                f"A printer scale of {self.printer_scale:g} is too far off to correct.",
                remedy=f"Enter {LEAST_SCALE} to {MOST_SCALE}; "
                "1 for a printer that prints true to size.",
                subject="printer scale",
            )

    @property
    def order_of_days(self) -> DayOrder:
        """Whether days are written month first: as set, else as is usual with the paper."""
        if self.day_order == "by_paper":
            return order_for_paper(self.paper)
        return DayOrder(self.day_order)


class SettingsRepository(Repository):
    """The catalog's settings; changing one is an edit like any other."""

    def read(self) -> CatalogSettings:
        """Return all settings."""
        with self._store.read() as session:
            return self.read_in(session)

    @staticmethod
    def read_in(session: Session) -> CatalogSettings:
        """Return all settings within a session."""
        known = {field.name for field in fields(CatalogSettings)}
        rows = session.scalars(select(SettingRow))
        chosen = {row.id: row.value.get("is") for row in rows if row.id in known}
        return replace(CatalogSettings(), **chosen)  # type: ignore[arg-type]  # written typed below

    def write(self, chosen: CatalogSettings) -> Changes:
        """Save all settings; only those that differ become part of the edit."""
        with self._store.edit("Settings changed") as edit:
            names: list[str] = []
            before = self.read_in(edit.session)
            for field in fields(CatalogSettings):
                value = getattr(chosen, field.name)
                if value == getattr(before, field.name):
                    continue
                names.append(WORDS[field.name])
                row = edit.session.get(SettingRow, field.name)
                if row is None:
                    edit.session.add(SettingRow(id=field.name, value={"is": value}))
                else:
                    row.value = {"is": value}
            edit.words = f"{', '.join(names).capitalize()} changed"
        return edit.changes


def _one_of(what: str, value: str, choices: tuple[str, ...]) -> None:
    if value not in choices:
        raise InputError(
            f"“{value}” is not a {what} that this program knows.",
            remedy=f"Choose {' or '.join(choices)}.",
            subject=what,
        )
