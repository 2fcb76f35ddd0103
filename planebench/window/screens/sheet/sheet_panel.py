"""The panel beside the pages: paper, sections, issued sheets, and the buttons."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.settings import CatalogSettings
from planebench.sheet.content import Paper, SheetChoices
from planebench.sheet.issue_check import IssueFinding
from planebench.trade.units import LengthUnit
from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import ActionButton, ButtonWeight, SegmentedSwitch
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.pieces.field import LabeledControl
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.scroll_area import scroll_area
from planebench.window.pieces.text import Label, LinkButton, heading
from planebench.window.screens.sheet.issued_list import IssuedList
from planebench.window.screens.sheet.section_choice import SectionChoice
from planebench.window.screens.sheet.sheet_preview import Preview

_LABEL = 88


class SheetPanel(Background):
    """Choices for the sheet and the buttons that issue, print or save it.

    Signals: `chosen()` when a choice changes the pages; `kept(dict)` with fields of
    CatalogSettings to save; `settings_wanted()`.
    """

    chosen = Signal()
    kept = Signal(object)
    settings_wanted = Signal()

    def __init__(self, *, several: bool, parent: QWidget | None = None) -> None:
        super().__init__("ground", parent, ruled=Qt.Edge.LeftEdge)
        self._several = several
        self._busy = ""
        self._blocked = self._missing = False
        self.paper = SegmentedSwitch("Paper", {"letter": "Letter", "a4": "A4"})
        self.unit = SegmentedSwitch("Units first", {"in": "inches", "mm": "millimeters"})
        self.sides = SegmentedSwitch("Sides", {"one": "one", "both": "both"}, holds="both")
        self.files = SegmentedSwitch("Files", {"together": "one file", "each": "one per tool"})
        self.shows = SectionChoice()
        self.to_settle = MessageNote()
        self.accept = CheckBox("Issue with what is missing")
        self.nameless = MessageNote()
        self.issued = IssuedList()
        self.check = LinkButton("Check a sheet’s PDF")
        self.freezes = Label().wrapped()
        self.issue_print = ActionButton("Issue and print", weight=ButtonWeight.MAIN)
        self.issue_file = ActionButton("Issue and save")
        self.draft_print = ActionButton("Print a draft")
        self.draft_file = ActionButton("Save a draft")
        self._lay_out()
        self._connect()

    @property
    def acts(self) -> tuple[ActionButton, ...]:
        """The four buttons at the bottom."""
        return (self.issue_print, self.issue_file, self.draft_print, self.draft_file)

    @property
    def choices(self) -> SheetChoices:
        """The choices as they are set now."""
        inches = self.unit.held == "in"
        return SheetChoices(
            paper=Paper(self.paper.held),
            first_unit=LengthUnit.INCH if inches else LengthUnit.MILLIMETER,
            sections=self.shows.sections,
            standard_ratings=self.shows.ratings.isChecked(),
        )

    @property
    def both_sides(self) -> bool:
        """Whether both sides of the paper are printed on."""
        return self.sides.held == "both"

    def take_settings(self, settings: CatalogSettings) -> None:
        """Show the catalog's settings."""
        self.paper.hold(settings.paper)
        self.unit.hold(settings.length_unit)
        self.sides.hold(settings.sides)
        self.shows.ratings.setChecked(settings.ratings_on_sheet)

    def show_preview(self, preview: Preview) -> None:
        """Show counts per section, what was not checked, and the issued sheets."""
        content = preview.content
        self.shows.show_counts(preview)
        self._show_findings(preview.findings)
        self.nameless.setVisible(not content.heading.seller)
        self.issued.show_issued(preview.issued)
        self.freezes.setText(
            "An issued sheet gets a number and never changes. Later edits to the record are listed "
            "next to it. Drafts are not kept."
            if self._several
            else "An issued sheet gets the next number and never changes. Later edits to the "
            "record are listed next to it. Drafts are not kept."
        )

    def _show_findings(self, findings: tuple[IssueFinding, ...]) -> None:
        """List what stands against issuing; only what is missing can be accepted."""
        self._blocked = any(one.blocks for one in findings)
        self._missing = any(not one.blocks for one in findings)
        self.to_settle.setVisible(bool(findings))
        self.to_settle.show_message(
            " ".join(one.words for one in findings), "To settle before issuing"
        )
        self.accept.setVisible(self._several or self._missing)
        self._enable()

    def _enable(self) -> None:
        for act in self.acts:
            issues = act in (self.issue_print, self.issue_file)
            act.set_disabled_reason(self._busy or (self._held_back() if issues else ""))

    def _held_back(self) -> str:
        """Return why a single sheet cannot be issued now; several report their own reasons."""
        if self._several:
            return ""
        if self._blocked:
            return "Settle what contradicts first; it is listed above."
        if self._missing and not self.accept.isChecked():
            return "Add what is missing, or check “Issue with what is missing”."
        return ""

    def set_disabled_reason(self, reason: str) -> None:
        """Disable the buttons and say why; an empty reason enables them."""
        self._busy = reason
        self._enable()

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(24, 12, 24, 16)
        column.setSpacing(8)
        column.addWidget(heading("Paper"))
        switches = [("size", self.paper), ("units first", self.unit), ("sides", self.sides)]
        if self._several:
            switches.append(("PDF files", self.files))
        for label, switch in switches:
            column.addWidget(LabeledControl(label, switch, beside=_LABEL))
        column.addSpacing(8)
        column.addWidget(heading("What the sheet shows"))
        column.addWidget(self.shows)
        for part in (self.to_settle, self.accept, self.nameless, self.issued):
            column.addSpacing(8)
            part.hide()
            column.addWidget(part)
        column.addSpacing(8)
        column.addWidget(self.check, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        self._fill_nameless()
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(scroll_area(inside), 1)
        whole.addLayout(self._foot())

    def _foot(self) -> QVBoxLayout:
        foot = QVBoxLayout()
        foot.setContentsMargins(24, 8, 24, 16)
        foot.setSpacing(12)
        foot.addWidget(self.freezes)
        grid = QGridLayout()
        grid.setSpacing(8)
        for place, act in enumerate(self.acts):
            grid.addWidget(act, place // 2, place % 2, Qt.AlignmentFlag.AlignLeft)
        row = QHBoxLayout()
        row.addLayout(grid)
        row.addStretch(1)
        foot.addLayout(row)
        return foot

    def _fill_nameless(self) -> None:
        self.nameless.show_message(
            "Buyers want to know who is selling. Your name and address are saved in the settings.",
            "No seller on the sheet yet",
        )
        lead = LinkButton("Add seller and guarantee")
        lead.clicked.connect(self.settings_wanted)
        self.nameless.add_below(lead)

    def _connect(self) -> None:
        self.paper.chosen.connect(lambda key: self._choose(paper=key))
        self.unit.chosen.connect(lambda key: self._choose(length_unit=key))
        self.sides.chosen.connect(lambda key: self.kept.emit({"sides": key}))
        self.shows.chosen.connect(self.chosen)
        self.accept.toggled.connect(self._enable)
        self.shows.ratings_chosen.connect(lambda on: self._choose(ratings_on_sheet=on))

    def _choose(self, **fields: object) -> None:
        self.chosen.emit()
        self.kept.emit(fields)
