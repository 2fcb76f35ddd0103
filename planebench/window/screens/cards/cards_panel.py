"""The panel beside the pages: paper, cards or tags, printer correction, buttons."""

from __future__ import annotations

from math import ceil

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.settings import CatalogSettings
from planebench.errors import InputError
from planebench.sheet.card_press import correction_for
from planebench.trade.units import LengthUnit, parse_length
from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import ActionButton, ButtonWeight, SegmentedSwitch
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.scroll_area import scroll_area
from planebench.window.pieces.text import Ink, Label, LinkButton, heading, small_label
from planebench.window.screens.cards.card_pages import CARDS_A_PAGE, TAGS_A_PAGE

_LABEL = 88
_LINE = "Measured length of the 100 mm line"


class CardsPanel(Background):
    """Choices for the print run and the buttons that print or save it.

    Signals: `chosen()` when a choice changes the pages; `kept(dict)` with fields of
    CatalogSettings to save.
    """

    chosen = Signal()
    kept = Signal(object)

    def __init__(self, tools: int, parent: QWidget | None = None) -> None:
        super().__init__("ground", parent, ruled=Qt.Edge.LeftEdge)
        self._tools = tools
        self._scale = 1.0
        self.paper = SegmentedSwitch("Paper", {"letter": "Letter", "a4": "A4"})
        self.cards = CheckBox("Scale cards", on=True)
        self.tags = CheckBox("Tags for small parts")
        self.each = SegmentedSwitch(
            "Tags per tool", {str(n): str(n) for n in (2, 4, 6, 8)}, holds="4"
        )
        self.measured = Field(_LINE, hint="such as 99.2 mm")
        self.stretch = MessageNote()
        self.true = LinkButton("Remove correction")
        self.print = ActionButton("Print", weight=ButtonWeight.MAIN, key="Ctrl+P")
        self.save = ActionButton("Save as PDF")
        self._lay_out()
        self._connect()
        self._say_counts()
        self._say_scale()

    @property
    def acts(self) -> tuple[ActionButton, ...]:
        """The buttons at the bottom."""
        return (self.print, self.save)

    @property
    def tags_each(self) -> int:
        """How many tags to print per tool; 0 for none."""
        return int(self.each.held) if self.tags.isChecked() else 0

    @property
    def scale(self) -> float:
        """The factor by which lengths are stretched for this printer."""
        return self._scale

    def take_settings(self, settings: CatalogSettings) -> None:
        """Show the catalog's settings."""
        self.paper.hold(settings.paper)
        self._take_scale(settings.printer_scale)

    def set_disabled_reason(self, reason: str) -> None:
        """Disable the buttons and say why; an empty reason enables them."""
        for act in self.acts:
            act.set_disabled_reason(reason)

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(24, 12, 24, 16)
        column.setSpacing(8)
        column.addWidget(heading("Paper"))
        column.addWidget(LabeledControl("size", self.paper, beside=_LABEL))
        column.addSpacing(8)
        column.addWidget(heading("Print"))
        column.addWidget(self.cards)
        column.addWidget(self.tags)
        column.addWidget(LabeledControl("tags per tool", self.each, beside=_LABEL))
        column.addSpacing(8)
        column.addWidget(heading("This printer"))
        column.addWidget(
            Label(
                "Print at full size (100%, not “fit to page”). Then measure the 100 mm line with "
                "a good rule. If it is off, enter its measured length here.",
                ink=Ink.MUTED,
            ).wrapped()
        )
        column.addWidget(LabeledControl(_LINE, self.measured))
        column.addSpacing(4)
        column.addWidget(self.stretch)
        self.stretch.add_below(self.true)
        column.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(scroll_area(inside), 1)
        whole.addLayout(self._foot())

    def _foot(self) -> QVBoxLayout:
        foot = QVBoxLayout()
        foot.setContentsMargins(24, 8, 24, 16)
        foot.setSpacing(12)
        foot.addWidget(
            small_label(
                "Print on one side only. A card that is bent or scaled to fit gives wrong sizes."
            ).wrapped()
        )
        row = QHBoxLayout()
        row.setSpacing(8)
        for act in self.acts:
            row.addWidget(act)
        row.addStretch(1)
        foot.addLayout(row)
        return foot

    def _connect(self) -> None:
        self.paper.chosen.connect(self._choose_paper)
        for box in (self.cards, self.tags):
            box.clicked.connect(self._choose)
        self.each.chosen.connect(self._choose_each)
        self.measured.kept.connect(self._measure)
        self.true.clicked.connect(lambda: self._choose_scale(1.0))

    def _choose_paper(self, paper: str) -> None:
        self.chosen.emit()
        self.kept.emit({"paper": paper})

    def _choose_each(self, _count: str) -> None:
        self.tags.setChecked(True)
        self._choose()

    def _choose(self) -> None:
        self._say_counts()
        self.chosen.emit()

    def _measure(self, text: str) -> None:
        if not text.strip():
            return
        try:
            length = parse_length(text, field=_LINE, default_unit=LengthUnit.MILLIMETER)
            scale = correction_for(float(length.mm), printed_with=self._scale)
        except InputError as error:
            self.measured.show_trouble(error)
            return
        self.measured.set_text("")
        self._choose_scale(scale)

    def _choose_scale(self, scale: float) -> None:
        self._take_scale(scale)
        self.chosen.emit()
        self.kept.emit({"printer_scale": scale})

    def _take_scale(self, scale: float) -> None:
        self._scale = scale
        self._say_scale()

    def _say_counts(self) -> None:
        tags = self._tools * int(self.each.held)
        self.cards.set_remark(_count(self._tools, "card", CARDS_A_PAGE))
        self.tags.set_remark(_count(tags, "tag", TAGS_A_PAGE))

    def _say_scale(self) -> None:
        percent = (self._scale - 1) * 100
        self.true.setVisible(bool(percent))
        if not percent:
            self.stretch.show_message("Lengths print at their true size.", "No correction")
            return
        how = "longer" if percent > 0 else "shorter"
        self.stretch.show_message(
            f"Lengths print {abs(percent):.2f}% {how} for this printer. "
            "Print again and measure the line: it must be 100 mm now.",
            "Corrected",
        )


def _count(number: int, word: str, a_page: int) -> str:
    pages = ceil(number / a_page)
    plural, more = "" if number == 1 else "s", "" if pages == 1 else "s"
    return f"{number} {word}{plural}, {pages} page{more}"
