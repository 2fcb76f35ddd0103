"""Compare a tool with a type study: choose what it shows, see which variants fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.own_tables import KnownStudy, OwnTable
from planebench.catalog.values import Tool
from planebench.trade.type_study import Comparison, TypeStudy, compare
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.field import LabeledControl
from planebench.window.pieces.lines import MessageNote, Rule
from planebench.window.pieces.text import ElidedLabel, Ink, Label, LinkButton, heading, small_label
from planebench.window.screens.dating.dating_photos import StudyPhotograph
from planebench.window.screens.dating.study_comparison import (
    fitting_words,
    forms_chosen,
    likeliest_study,
    next_words,
    seen_before,
)
from planebench.window.screens.dating.study_recorded import ADD, StudyRecordedNote, show_limits
from planebench.window.screens.dating.study_variants import VariantList
from planebench.window.tokens import NOTE

_LABELS = 112
_WITH_PHOTO = 1150
_NOT_CHECKED = "not checked"


class StudyPage(EscLeavesWidget):
    """Compares a tool with a type study.

    Signals: `evidence_wanted(Comparison)`; `production_wanted(TypeStudy)`; `file_wanted(purpose)`;
    `entry_wanted(TypeStudy)` to edit one, None to add one; `bin_wanted(OwnTableId)`; `left()`.
    """

    evidence_wanted = Signal(object)
    production_wanted = Signal(object)
    file_wanted = Signal(str)
    entry_wanted = Signal(object)
    bin_wanted = Signal(str)

    def __init__(self, context: ScreenContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._comparing = LatestRead(context.jobs, self)
        self._studies: Sequence[KnownStudy] = ()
        self._tool: Tool | None = None
        self._found: Comparison | None = None
        self.choice = DropDown("Type study")
        self.features: dict[str, DropDown] = {}
        self.variants = VariantList()
        self.fitting = heading()
        self.years = Label(ink=Ink.MUTED).wrapped()
        self.next_look = MessageNote()
        self.trouble = Label(ink=Ink.RUST).wrapped()
        self.write = ActionButton(ADD, weight=ButtonWeight.MAIN)
        self.production = ActionButton("Limit date to years made")
        self.told = StudyRecordedNote()
        self.bring = LinkButton("Import")
        self.type_in = LinkButton("Add")
        self.edit = LinkButton("Edit")
        self.to_bin = LinkButton("Delete")
        self.bring_dates = LinkButton("Import your own table of dates")
        self.date_tables = QWidget()
        self._source, self._form = small_label().wrapped(), _FeatureForm()
        self.photograph = StudyPhotograph(context)
        self._lay_out()
        self._connect()

    @property
    def study(self) -> TypeStudy | None:
        """The type study shown."""
        held = self.choice.held
        return next((one.study for one in self._studies if one.id == held), None)

    def set_width(self, wide: int) -> None:
        """Set the width of the left column in px."""
        self._side.setFixedWidth(wide)

    def show_studies(self, studies: Sequence[KnownStudy], tool: Tool, kind: str) -> None:
        """Offer type studies; keep the one shown, else select the likeliest for the tool.

        `kind` is the name of the tool's kind.
        """
        before, held = self.study, self.choice.held
        self._studies, self._tool = studies, tool
        self.photograph.show_tool(tool)
        selected = held if self.study is not None else likeliest_study(studies, tool, kind)
        self.choice.offer([(one.id, one.study.title) for one in studies], holds=selected)
        if self.study is None or self.study != before:
            self._show_study()
        elif self._found is not None:
            self._show_written(self._found)

    def show_date_tables(self, tables: Sequence[OwnTable]) -> None:
        """List the user's own tables of dates, each with a Delete link."""
        column = self.date_tables.layout()
        if column is None:
            return
        while (item := column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.deleteLater()
        for table in tables:
            column.addWidget(self._date_table(table))
        self.date_tables.setVisible(bool(tables))

    def _date_table(self, table: OwnTable) -> QWidget:
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(16)
        row.addWidget(ElidedLabel(f"Own dates: {table.name}", size=NOTE, ink=Ink.MUTED), 1)
        to_bin = LinkButton("Delete", size=NOTE)
        to_bin.setAccessibleName(f"Delete the table {table.name}")
        to_bin.clicked.connect(lambda: self.bin_wanted.emit(table.id))
        row.addWidget(to_bin)
        return line

    def refuse(self, error: Exception) -> None:
        """Show what is wrong with an imported table."""
        self.trouble.setText(str(error))
        self.trouble.show()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.photograph.setVisible(self.width() >= _WITH_PHOTO)

    def _show_study(self) -> None:
        study = self.study
        self.trouble.hide()
        for part in (
            self.edit,
            self.to_bin,
            self.write,
            self.production,
            self.next_look,
            self.variants,
        ):
            part.setVisible(study is not None)
        self._source.setText("" if study is None else _source_words(study))
        seen = {} if study is None or self._tool is None else seen_before(self._tool, study)
        self.features = self._form.show_features(study, seen)
        for box in self.features.values():
            box.chosen.connect(lambda _form: self._compare())
        if study is None:
            self.told.say_nothing()
            self.fitting.setText("No type study yet")
            self.years.setText(
                "Import a CSV file or add one here: one row per variant, with its years "
                "and the form of each feature."
            )
            return
        self._compare()

    def _compare(self) -> None:
        study = self.study
        seen = forms_chosen({feature: box.held for feature, box in self.features.items()})
        if study is not None:
            self._comparing.ask(lambda _job: compare(study, seen), done=self._show_found)

    def _show_found(self, found: Comparison) -> None:
        self._found = found
        title, years = fitting_words(found)
        self.fitting.setText(title)
        self.years.setText(years)
        look = next_words(found)
        self.next_look.setVisible(bool(look))
        self.next_look.show_message(look)
        self.variants.show_fits(found.fits)
        self._form.mark_next(found)
        self._show_written(found)

    def _show_written(self, found: Comparison) -> None:
        if self._tool is not None:
            self.told.show_found(found, self._tool, self.write)
            show_limits(found.study, self._tool, self.production)

    def _connect(self) -> None:
        self.choice.chosen.connect(lambda _id: self._show_study())
        self.write.clicked.connect(lambda: self.evidence_wanted.emit(self._found))
        self.production.clicked.connect(lambda: self.production_wanted.emit(self.study))
        self.bring.clicked.connect(lambda: self.file_wanted.emit("type_study"))
        self.bring_dates.clicked.connect(lambda: self.file_wanted.emit("dating_clues"))
        self.type_in.clicked.connect(lambda: self.entry_wanted.emit(None))
        self.edit.clicked.connect(lambda: self.entry_wanted.emit(self.study))
        self.to_bin.clicked.connect(lambda: self.bin_wanted.emit(self.choice.held))

    def _lay_out(self) -> None:
        self._side = QWidget()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self._side)
        row.addWidget(Rule(upright=True))
        row.addLayout(self._right(), 5)
        row.addWidget(self.photograph, 4)
        self._lay_side()
        self.trouble.hide()

    def _lay_side(self) -> None:
        side = QVBoxLayout(self._side)
        side.setContentsMargins(0, 24, 0, 16)
        side.setSpacing(8)
        top = QVBoxLayout()
        top.setContentsMargins(24, 0, 24, 0)
        top.setSpacing(8)
        top.addWidget(LabeledControl("Type study", self.choice))
        top.addWidget(self._source)
        actions = QHBoxLayout()
        actions.setSpacing(16)
        for act in (self.bring, self.type_in, self.edit, self.to_bin):
            actions.addWidget(act)
        actions.addStretch(1)
        top.addLayout(actions)
        top.addWidget(self.trouble)
        side.addLayout(top)
        side.addWidget(self._form, 1)
        foot = QVBoxLayout()
        foot.setContentsMargins(24, 0, 24, 0)
        foot.setSpacing(4)
        foot.addWidget(self.date_tables)
        foot.addWidget(self.bring_dates, 0, Qt.AlignmentFlag.AlignLeft)
        QVBoxLayout(self.date_tables).setContentsMargins(0, 0, 0, 0)
        side.addLayout(foot)

    def _right(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(0, 24, 0, 16)
        column.setSpacing(8)
        above = QVBoxLayout()
        above.setContentsMargins(24, 0, 24, 8)
        above.setSpacing(4)
        above.addWidget(self.fitting)
        above.addWidget(self.years)
        above.addSpacing(4)
        above.addWidget(self.next_look)
        column.addLayout(above)
        policy = self.variants.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.variants.setSizePolicy(policy)
        column.addWidget(self.variants, 1)
        actions = QHBoxLayout()
        actions.setContentsMargins(24, 8, 24, 0)
        actions.setSpacing(8)
        actions.addWidget(self.write)
        actions.addWidget(self.production)
        actions.addStretch(1)
        column.addLayout(actions)
        column.addWidget(self.told)
        return column


@dataclass(frozen=True, slots=True)
class _Row:
    """A feature's label and its choice."""

    label: Label
    box: DropDown


class _FeatureForm(QScrollArea):
    """The features of a study, each with its possible forms."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: dict[str, _Row] = {}
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("What the tool shows")

    def show_features(self, study: TypeStudy | None, seen: dict[str, str]) -> dict[str, DropDown]:
        """Show the features with what was seen before; return their drop-downs by feature."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(24, 8, 24, 8)
        column.setSpacing(8)
        self._rows = {}
        for feature in () if study is None else study.features:
            forms = () if study is None else study.forms_of(feature)
            offered = [("", _NOT_CHECKED), *((form, form) for form in forms)]
            box = DropDown(feature, offered, holds=seen.get(feature, ""))
            label = small_label(feature).wrapped()
            label.setBuddy(box)
            label.setFixedWidth(_LABELS)
            row = QHBoxLayout()
            row.setSpacing(8)
            row.addWidget(label)
            row.addWidget(box, 1)
            column.addLayout(row)
            self._rows[feature] = _Row(label, box)
        column.addStretch(1)
        self.setWidget(inside)
        return {feature: row.box for feature, row in self._rows.items()}

    def mark_next(self, found: Comparison) -> None:
        """Highlight the feature to look at next."""
        best = found.next_looks[0].feature if next_words(found) and found.next_looks else ""
        for feature, row in self._rows.items():
            row.label.setText(f"{feature}, look here next" if feature == best else feature)
            row.label.set_ink(Ink.BRASS if feature == best else Ink.MUTED)


def _source_words(study: TypeStudy) -> str:
    made = ", ".join(words for words in (study.maker, study.model) if words)
    return "\n".join(words for words in (made, study.source) if words)
