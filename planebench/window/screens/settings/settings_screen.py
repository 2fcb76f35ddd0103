"""The choices of the catalog: who sells, how stock is counted, units, paper, the promise."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from planebench.catalog.changes import Changes
from planebench.catalog.currencies import currency_of
from planebench.catalog.settings import CatalogSettings
from planebench.errors import InputError
from planebench.trade.stock import check_pattern
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import SegmentedSwitch
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.pieces.field import Field, LabeledControl, TextField
from planebench.window.pieces.lines import SectionHeading
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import small_label

_WIDE = 720
_BESIDE = 220


class SettingsScreen(Screen):
    """One column of choices; each is kept as soon as it is left."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__()
        self._context = context
        self._settings = CatalogSettings()
        self._reading = LatestRead(context.jobs, self)
        self.workshop = Field("Name of the workshop", hint="printed at the top of each sheet")
        self.person = Field("Your name")
        self.address = TextField("Address", lines=3)
        self.contact = TextField("How a buyer reaches you", lines=2)
        self.promise = TextField("Promise to the buyer", lines=3)
        self.currency = Field("Currency")
        self.pattern = Field("Stock number pattern")
        self.minutes = Field("Minutes after a scale card in which photographs go to its tool")
        self.unit = SegmentedSwitch("First unit of length", {"in": "inches", "mm": "millimeters"})
        self.paper = SegmentedSwitch("Paper", {"letter": "Letter", "a4": "A4"})
        self.photographs = Field("Photographs on a sheet")
        self.ratings = CheckBox("Standard ratings beside the words on sheets")
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._look_again)
        self._ask()

    def _lay_out(self) -> None:
        box = QWidget()
        box.setFixedWidth(_WIDE)
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 16, 0, 24)
        column.setSpacing(12)
        column.addWidget(SectionHeading("Who sells", "printed on condition sheets"))
        for words, control in (
            ("workshop", self.workshop),
            ("your name", self.person),
            ("address", self.address),
            ("how a buyer reaches you", self.contact),
            ("promise to the buyer", self.promise),
        ):
            column.addWidget(LabeledControl(words, control, beside=_BESIDE))
        column.addWidget(SectionHeading("Counting and measuring"))
        for words, control in (
            ("stock number pattern", self.pattern),
            ("currency", self.currency),
            ("a scale card is followed for (minutes)", self.minutes),
        ):
            column.addWidget(LabeledControl(words, control, beside=_BESIDE))
        column.addWidget(LabeledControl("first unit of length", self.unit, beside=_BESIDE))
        pattern = "{batch} is the batch’s code, {n} the number, {n:03} the number in three digits."
        column.addWidget(small_label(pattern))
        column.addWidget(SectionHeading("Sheets"))
        column.addWidget(LabeledControl("paper", self.paper, beside=_BESIDE))
        column.addWidget(LabeledControl("photographs on a sheet", self.photographs, beside=_BESIDE))
        column.addWidget(self.ratings)
        column.addStretch(1)
        self._scrolled(box)
        self.set_title("Choices of this catalog", up="Back")
        self.set_regions(self.workshop.line)
        self.set_keys(("Enter", "write the line down and stay on it"), ("Esc", "back"))

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
        area.setAccessibleName("Choices")
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(area)

    def _connect(self) -> None:
        texts: dict[str, Field | TextField] = {
            "workshop": self.workshop,
            "person": self.person,
            "address": self.address,
            "contact": self.contact,
            "guarantee": self.promise,
        }
        for name, field in texts.items():
            field.kept.connect(lambda text, name=name: self._keep(**{name: text.strip()}))
        self.currency.kept.connect(self._keep_currency)
        self.pattern.kept.connect(self._keep_pattern)
        self.minutes.kept.connect(
            lambda text: self._keep_number("follow_minutes", self.minutes, text)
        )
        self.photographs.kept.connect(
            lambda text: self._keep_number("photographs_on_sheet", self.photographs, text)
        )
        self.unit.chosen.connect(lambda key: self._keep(length_unit=key))
        self.paper.chosen.connect(lambda key: self._keep(paper=key))
        self.ratings.toggled.connect(lambda on: self._keep(ratings_on_sheet=on))

    def _ask(self) -> None:
        catalog = self._context.catalog
        self._reading.ask(lambda _job: catalog.settings.read(), done=self._show)

    def _show(self, settings: CatalogSettings) -> None:
        self._settings = settings
        self.workshop.set_text(settings.workshop)
        self.person.set_text(settings.person)
        self.address.set_text(settings.address)
        self.contact.set_text(settings.contact)
        self.promise.set_text(settings.guarantee)
        self.currency.set_text(settings.currency)
        self.pattern.set_text(settings.stock_pattern)
        self.minutes.set_text(str(settings.follow_minutes))
        self.photographs.set_text(str(settings.photographs_on_sheet))
        self.unit.hold(settings.length_unit)
        self.paper.hold(settings.paper)
        self.ratings.blockSignals(True)  # noqa: FBT003 -- Qt's own call
        self.ratings.setChecked(settings.ratings_on_sheet)
        self.ratings.blockSignals(False)  # noqa: FBT003 -- Qt's own call

    def _keep_currency(self, text: str) -> None:
        try:
            self._keep(currency=currency_of(text).code)
        except InputError as error:
            self.currency.show_trouble(error)

    def _keep_pattern(self, text: str) -> None:
        try:
            check_pattern(text.strip())
        except InputError as error:
            self.pattern.show_trouble(error)
        else:
            self._keep(stock_pattern=text.strip())

    def _keep_number(self, name: str, field: Field, text: str) -> None:
        if not text.strip().isdigit():
            field.show_trouble(
                InputError("A whole number goes here.", remedy="Try 6.", subject=name)
            )
            return
        try:
            self._keep(**{name: int(text)})
        except InputError as error:
            field.show_trouble(error)

    def _keep(self, **chosen: object) -> None:
        wanted = replace(self._settings, **chosen)  # type: ignore[arg-type]  # fields by name
        self._settings = wanted
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.settings.write(wanted), done=self._context.edits.happened.emit
        )

    def _look_again(self, changes: Changes) -> None:
        if changes.catalog_wide:
            self._ask()
