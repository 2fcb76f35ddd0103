"""Settings of the catalog: seller and guarantee, stock numbers, units, paper and days."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.currencies import currency_of
from planebench.catalog.settings import CatalogSettings
from planebench.errors import InputError
from planebench.trade.days import DayOrder
from planebench.trade.stock import free_batch_code
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import SegmentedSwitch
from planebench.window.pieces.choice_controls import CheckBox, DropDown
from planebench.window.pieces.field import Field, LabeledControl, TextField
from planebench.window.pieces.lines import SectionHeading
from planebench.window.pieces.screen import Screen
from planebench.window.screens.settings.stock_number_form import StockNumberForm

_WIDE = 720
_BESIDE = 220
_DAY_CHOICES = (
    ("by_paper", "as usual with the paper"),
    (DayOrder.MONTH_FIRST.value, "month first: September 3, 2026"),
    (DayOrder.DAY_FIRST.value, "day first: 3 September 2026"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    """The settings, and the newest batch with the taken stock numbers for the example."""

    settings: CatalogSettings
    batch_code: str
    taken: frozenset[str]


class SettingsScreen(Screen):
    """One column of settings; each is saved at once."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__()
        self._context = context
        self._settings = CatalogSettings()
        self._reading = LatestRead(context.jobs, self)
        self.workshop = Field("Name of the workshop", hint="printed at the top of each sheet")
        self.person = Field("Your name")
        self.address = TextField("Address", lines=3)
        self.contact = TextField("How a buyer reaches you", lines=2)
        self.guarantee = TextField("Guarantee", lines=3)
        self.currency = Field("Currency")
        self.stock_numbers = StockNumberForm()
        self.minutes = Field(
            "Minutes after a scale card in which photographs are filed under its tool"
        )
        self.unit = SegmentedSwitch(
            "Preferred unit of length", {"in": "inches", "mm": "millimeters"}
        )
        self.paper = SegmentedSwitch("Paper", {"letter": "Letter", "a4": "A4"})
        self.days = DropDown("How days are written", _DAY_CHOICES)
        self.photographs = Field("Photographs per sheet")
        self.ratings = CheckBox("Print standard ratings beside the words")
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._refresh)
        self._ask()

    def _lay_out(self) -> None:
        box = QWidget()
        box.setFixedWidth(_WIDE)
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 16, 0, 24)
        column.setSpacing(12)
        self._add_rows(
            column,
            SectionHeading("Seller and guarantee", "printed on sheets"),
            {
                "workshop": self.workshop,
                "your name": self.person,
                "address": self.address,
                "how a buyer reaches you": self.contact,
                "guarantee": self.guarantee,
            },
        )
        column.addWidget(SectionHeading("Stock numbers"))
        column.addWidget(self.stock_numbers)
        self._add_rows(
            column,
            SectionHeading("Money, units and cards"),
            {
                "currency": self.currency,
                "preferred unit of length": self.unit,
                "minutes a card stays current": self.minutes,
            },
        )
        self._add_rows(
            column,
            SectionHeading("Sheets and days"),
            {
                "paper": self.paper,
                "days are written": self.days,
                "photographs per sheet": self.photographs,
            },
        )
        column.addWidget(self.ratings)
        column.addStretch(1)
        self._scrolled(box)
        self.set_title("Settings", up="Back")
        self.set_regions(self.workshop.line)
        self.set_keys(("Enter", "save the field and stay on it"), ("Esc", "back"))

    @staticmethod
    def _add_rows(
        column: QVBoxLayout, heading: SectionHeading, controls: Mapping[str, QWidget]
    ) -> None:
        """Add a heading and labeled controls below it."""
        column.addWidget(heading)
        for label, control in controls.items():
            column.addWidget(LabeledControl(label, control, beside=_BESIDE))

    def _scrolled(self, box: QWidget) -> None:
        held = QWidget()
        row = QHBoxLayout(held)
        row.setContentsMargins(24, 0, 24, 0)
        row.addWidget(box)
        row.addStretch(1)
        area = QScrollArea()
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setWidget(held)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setAccessibleName("Settings")
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(area)

    def _connect(self) -> None:
        texts: dict[str, Field | TextField] = {
            "workshop": self.workshop,
            "person": self.person,
            "address": self.address,
            "contact": self.contact,
            "guarantee": self.guarantee,
        }
        for name, field in texts.items():
            field.kept.connect(lambda text, name=name: self._save(**{name: text.strip()}))
            field.save_at_rest()
        self.currency.kept.connect(self._save_currency)
        self.stock_numbers.changed.connect(
            lambda pattern, first: self._save(stock_pattern=pattern, first_stock_number=first)
        )
        self.days.chosen.connect(lambda key: self._save(day_order=key))
        self.minutes.kept.connect(
            lambda text: self._save_number("follow_minutes", self.minutes, text)
        )
        self.photographs.kept.connect(
            lambda text: self._save_number("photographs_on_sheet", self.photographs, text)
        )
        self.unit.chosen.connect(lambda key: self._save(length_unit=key))
        self.paper.chosen.connect(lambda key: self._save(paper=key))
        self.ratings.toggled.connect(lambda on: self._save(ratings_on_sheet=on))

    def _ask(self) -> None:
        catalog = self._context.catalog
        self._reading.ask(lambda _job: _read(catalog), done=self._show)

    def _show(self, read: _Read) -> None:
        settings = read.settings
        self._settings = settings
        self.workshop.set_text(settings.workshop)
        self.person.set_text(settings.person)
        self.address.set_text(settings.address)
        self.contact.set_text(settings.contact)
        self.guarantee.set_text(settings.guarantee)
        self.currency.set_text(settings.currency)
        self.stock_numbers.show_batch(read.batch_code, read.taken)
        self.stock_numbers.show_pattern(settings.stock_pattern, settings.first_stock_number)
        self.days.hold(settings.day_order)
        self.minutes.set_text(str(settings.follow_minutes))
        self.photographs.set_text(str(settings.photographs_on_sheet))
        self.unit.hold(settings.length_unit)
        self.paper.hold(settings.paper)
        self.ratings.blockSignals(True)  # noqa: FBT003 -- Qt's own call
        self.ratings.setChecked(settings.ratings_on_sheet)
        self.ratings.blockSignals(False)  # noqa: FBT003 -- Qt's own call

    def _save_currency(self, text: str) -> None:
        try:
            self._save(currency=currency_of(text).code)
        except InputError as error:
            self.currency.show_trouble(error)

    def _save_number(self, name: str, field: Field, text: str) -> None:
        if not text.strip().isdigit():
            field.show_trouble(InputError("Enter a whole number.", remedy="Try 6.", subject=name))
            return
        try:
            self._save(**{name: int(text)})
        except InputError as error:
            field.show_trouble(error)

    def _save(self, **chosen: object) -> None:
        wanted = replace(self._settings, **chosen)  # type: ignore[arg-type]  # fields by name
        self._settings = wanted
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.settings.write(wanted), done=self._context.edits.happened.emit
        )

    def _refresh(self, changes: Changes) -> None:
        if changes.catalog_wide:
            self._ask()


def _read(catalog: Catalog) -> _Read:
    codes = [line.batch.code for line in catalog.batches.lines()]
    return _Read(
        settings=catalog.settings.read(),
        batch_code=codes[0] if codes else free_batch_code(codes),
        taken=frozenset(catalog.tools.stock_numbers()),
    )
