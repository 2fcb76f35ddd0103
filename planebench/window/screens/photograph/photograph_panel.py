"""The column beside the photograph: its panels, and which of them concern the active tool."""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.reference import open_list
from planebench.catalog.values import Photograph
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.window.photograph_names import Subject, capital
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.side_panel import (
    SidePanel,
    add_and_show,
    clear_layout,
    margin_free_column,
)
from planebench.window.pieces.side_panel_row import SidePanelRow, balloon_mark
from planebench.window.pieces.text import Ink, Label, LinkButton, small_label
from planebench.window.screens.photograph.measure_panels import MeasurePanel, ScalePanel
from planebench.window.screens.photograph.outline_panels import DrawPanel, OutlinesPanel
from planebench.window.screens.photograph.photograph_model import PhotographModel
from planebench.window.screens.photograph.reading_panel import ReadingPanel


class AboutPanel(QWidget):
    """View, stage and caption, saved as they are changed.

    Signals: `view_chosen(str)`, `stage_chosen(str)`, `caption_kept(str)`.
    """

    view_chosen = Signal(str)
    stage_chosen = Signal(str)
    caption_kept = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        views = [(row.code, capital(row.name)) for row in open_list("views").values()]
        self.view = DropDown("View", [("", "not named"), *views])
        stages = [(stage.value, capital(STAGE_WORDS[stage])) for stage in Stage]
        self.stage = DropDown("Stage", stages)
        self.caption = Field("Caption", hint="what a buyer should notice")
        self._file = small_label().wrapped()
        column = margin_free_column(self)
        column.addWidget(Label("This photograph", strong=True))
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(LabeledControl("View", self.view), 1)
        row.addWidget(LabeledControl("Stage", self.stage), 1)
        column.addLayout(row)
        column.addWidget(LabeledControl("Caption", self.caption))
        column.addWidget(self._file)
        self.view.chosen.connect(self.view_chosen)
        self.stage.chosen.connect(self.stage_chosen)
        self.caption.kept.connect(self.caption_kept)

    def show_photograph(self, photograph: Photograph) -> None:
        """Show the details of a photograph."""
        self.view.hold(photograph.view)
        self.stage.hold(photograph.stage.value)
        if not self.caption.line.hasFocus():
            self.caption.set_text(photograph.caption)
        size = f"{photograph.width} × {photograph.height} pixels"
        parts = (photograph.original_name, size, photograph.camera)
        self._file.setText(", ".join(part for part in parts if part))


class PinsPanel(QWidget):
    """A row for each defect and piece of evidence; the next click with P pins the selected one.

    Signals: `chosen(str)` with the key of a subject; `remove_wanted(str)` by Delete on its row;
    `record_wanted()` to add defects or evidence.
    """

    chosen = Signal(str)
    remove_wanted = Signal(str)
    record_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: dict[str, SidePanelRow] = {}
        self._asked: tuple[object, ...] = ()
        column = margin_free_column(self, 4)
        column.addWidget(Label("Pins", strong=True))
        self._none = Label(
            "No defects or evidence of date yet. Add them in the tool’s record, then set "
            "their pins here.",
            ink=Ink.MUTED,
        ).wrapped()
        self._hint = Label(ink=Ink.MUTED).wrapped()
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        record = LinkButton("Go to the tool’s record")
        record.clicked.connect(self.record_wanted)
        column.addWidget(self._hint)
        column.addWidget(self._none)
        column.addLayout(self._list)
        column.addWidget(record)

    @property
    def rows(self) -> dict[str, SidePanelRow]:
        """The rows by the key of their subject."""
        return self._rows

    def show_subjects(
        self, subjects: Collection[Subject], pinned: Collection[str], chosen: str
    ) -> None:
        """Show what can be pinned; `pinned` and `selected` are keys of subjects."""
        asked = (tuple(subjects), frozenset(pinned), chosen)
        if asked == self._asked:
            return
        self._asked = asked
        had_focus = next((key for key, row in self._rows.items() if row.hasFocus()), "")
        clear_layout(self._list)
        self._rows = {}
        for subject in subjects:
            lit = subject.key == chosen
            remark = "pinned" if subject.key in pinned else "not on this photograph"
            row = SidePanelRow(subject.words, remark, balloon_mark(subject.mark, lit=lit))
            row.setChecked(lit)
            row.clicked.connect(lambda _on=False, key=subject.key: self.chosen.emit(key))
            row.delete_wanted.connect(lambda key=subject.key: self.remove_wanted.emit(key))
            add_and_show(self._list, row)
            self._rows[subject.key] = row
        if had_focus in self._rows:
            self._rows[had_focus].setFocus()
        self._none.setVisible(not subjects)
        self._hint.setVisible(bool(subjects))

    def say(self, hint: str) -> None:
        """Show what the next click does."""
        self._hint.setText(hint)


class PhotographPanel(SidePanel):
    """Signals: `record_reading_wanted()`, `pair_wanted()`, `carry_wanted()`."""

    record_reading_wanted = Signal()
    pair_wanted = Signal()
    carry_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Photograph details", parent)
        self.outlines = OutlinesPanel()
        self.draw = DrawPanel()
        self.reading = ReadingPanel()
        self.measure = MeasurePanel()
        self.scale = ScalePanel()
        self.about = AboutPanel()
        self.pins = PinsPanel()
        self._rule = Rule()
        self._write = ActionButton("Record the reading", key="Enter")
        self._carry = ActionButton(
            "Copy outlines to the finished photograph", weight=ButtonWeight.MAIN
        )
        self._pair = ActionButton("Before and after")
        self._can_carry = False
        self._can_write = False
        self._lay_out()
        self._write.clicked.connect(self.record_reading_wanted)
        self._carry.clicked.connect(self.carry_wanted)
        self._pair.clicked.connect(self.pair_wanted)
        self.show_panels("", chosen=False)

    def _lay_out(self) -> None:
        working = (self.outlines, self.draw, self.reading, self.measure, self.scale)
        for part in (*working, self.about, self._rule, self.pins):
            self.panels.addWidget(part)
        self.panels.addStretch(1)
        upper, lower = QHBoxLayout(), QHBoxLayout()
        upper.addWidget(self._write)
        upper.addStretch(1)
        lower.addWidget(self._carry)
        lower.addWidget(self._pair)
        lower.addStretch(1)
        lower.setSpacing(8)
        self.foot.addLayout(upper)
        self.foot.addLayout(lower)

    def show_partner(self, model: PhotographModel, partner: Photograph | None) -> None:
        """Take the photograph of the same view at the other stage."""
        self._pair.setVisible(model.tool is not None)
        before = model.photograph.stage is not Stage.FINISHED
        self._can_carry = partner is not None and before and bool(model.outlines)
        if partner is not None:
            self._carry.set_words(f"Carry to the one {STAGE_WORDS[partner.stage]}")

    def offer_surfaces(self, model: PhotographModel) -> None:
        """Offer the surfaces that can be outlined."""
        self.draw.offer(model)

    def show_can_record(self, *, can: bool, written: bool) -> None:
        """Show whether there is a reading to record, and whether it is recorded already."""
        self._can_write = can
        self._write.set_disabled_reason("Already recorded" if written else "")

    def _show_about(self, *, about: bool, pinning: bool) -> None:
        """Show what the photograph is while nothing is measured, and its pins."""
        for part in (self.about, self._rule):
            part.setVisible(about and not pinning)
        self.pins.setVisible(about or pinning)

    def show_panels(self, code: str, *, chosen: bool) -> None:
        """Show the panels for the active tool and the selected outline."""
        drawing, measuring = code in {"outline", "hole"}, code in {"length", "scale"}
        has_own = drawing or measuring
        self.draw.show_for(hole=code == "hole")
        self.draw.setVisible(drawing)
        self.outlines.ask_surface(ask=not has_own)
        self.measure.setVisible(code == "length")
        self.scale.setVisible(code == "scale")
        self.reading.setVisible(chosen and not measuring and code != "pin")
        self._show_about(about=not has_own and not chosen, pinning=code == "pin")
        self._write.setVisible(chosen and self._can_write)
        self._carry.setVisible(chosen and self._can_carry)
