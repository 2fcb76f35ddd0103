"""The form for evidence; what it means is shown while it is typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.entries import EvidenceFields
from planebench.catalog.evidence_entry import fields_from, parse_evidence
from planebench.catalog.ids import EvidenceId, PartId
from planebench.catalog.reference import open_list
from planebench.catalog.values import EvidenceEntry, Tool
from planebench.errors import InputError
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.evidence_input import (
    KIND_WORDS,
    EvidenceInput,
    EvidenceValues,
    ParsedEvidence,
)
from planebench.trade.evidence_parsing import EvidenceTables
from planebench.trade.terms import BASIS_WORDS, Basis
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.esc_key import EscLeavesWidget
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.lines import MessageNote, Rule
from planebench.window.pieces.text import heading
from planebench.window.screens.dating.dating_edits import weight_of
from planebench.window.screens.dating.dating_model import sure_words
from planebench.window.screens.dating.diamond_mark import DiamondMarkFields
from planebench.window.screens.dating.evidence_form_values import (
    LINE_OF,
    EvidenceFormValues,
    draft_of,
    form_values_of,
    values_of_draft,
    with_unasked,
)
from planebench.window.screens.dating.evidence_panel import source_check_words
from planebench.window.screens.dating.known_features import KnownFeatureFields

_PAUSE_MS = 600  # a rest in typing after which errors are shown
_OF_WHOLE = frozenset({"word", "document", "type_study", PRODUCTION})
_HINTS = {
    "value": ("Years", "c. 1915, 1920s, before 1910, 1907-11"),
    "number": ("Number as marked", "1,234,567"),
    "text": ("Date as stamped", "PAT. APR. 19. 92"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class EnteredEvidence:
    """Evidence to save: new, or replacing `evidence`."""

    evidence: EvidenceId | None
    fields: EvidenceFields


class EvidenceForm(EscLeavesWidget):
    """Asks for evidence.

    Signals: `wanted(EnteredEvidence)`; `rested()` when typing pauses and when it is hidden;
    `left()` by Esc or Cancel.
    """

    wanted = Signal(object)
    rested = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tables: EvidenceTables | None = None
        self._evidence: EvidenceEntry | None = None
        self._title = heading("Add evidence")
        self.kind = DropDown("Kind of evidence", list(KIND_WORDS.items()), holds="years")
        self.lines = {key: Field(name, hint=hint) for key, (name, hint) in _HINTS.items()}
        self.diamond = DiamondMarkFields()
        self.known_features = KnownFeatureFields()
        self.meaning = MessageNote()
        self.part = DropDown("On which part")
        self.seen = Field("What was seen")
        self.sure = DropDown("How sure")
        self.looseness = Field("Tolerance in years (±)")
        self.basis = DropDown("Basis", [(b.value, w) for b, w in BASIS_WORDS.items()])
        self.source = Field("Source")
        self.write = ActionButton("Save", weight=ButtonWeight.MAIN, key="Enter")
        self._leave = ActionButton("Cancel", key="Esc")
        self._marks: dict[str, QWidget] = {}
        self._area = QScrollArea()
        self._part_chosen = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._lay_out()
        self._connect()

    def set_tables(self, tables: EvidenceTables) -> None:
        """Set the tables used to read marks."""
        self._tables = tables
        self.known_features.offer(tables.clues.values())

    @property
    def is_adding(self) -> bool:
        """Whether the form is for new evidence."""
        return self._evidence is None

    @property
    def draft(self) -> dict[str, str]:
        """What is typed for new evidence, to be kept until it is saved."""
        if self._evidence is not None:
            return {}
        return draft_of(
            EvidenceFormValues(
                kind=self.kind.held,
                mark=self._mark(),
                part=self.part.held,
                seen=self.seen.text,
                looseness=self.looseness.text,
                basis=self.basis.held or Basis.READ_OFF,
                source=self.source.text,
            )
        )

    def begin(
        self, tool: Tool, evidence: EvidenceEntry | None, draft: Mapping[str, str] | None = None
    ) -> None:
        """Show existing evidence to edit, or new evidence with what was begun before."""
        self._evidence = evidence
        self._part_chosen = evidence is not None or bool(draft)
        self.part.offer([("", "whole tool"), *((part.id, part.name) for part in tool.parts)])
        values = values_of_draft(draft) if draft else form_values_of(evidence)
        self._show_typed(values)
        self._show_kind()
        self._area.ensureVisible(0, 0)
        self.kind.setFocus()

    def _show_typed(self, typed: EvidenceFormValues) -> None:
        self._title.setText(typed.title)
        self.part.hold(typed.part)
        self.kind.hold(typed.kind)
        for key, line in self.lines.items():
            _fill(line, typed.mark.get(key, ""))
        self.diamond.show_mark(typed.mark)
        self.known_features.show_mark(typed.mark.get("row", ""))
        _fill(self.seen, typed.seen)
        _fill(self.looseness, typed.looseness)
        _fill(self.source, typed.source)
        self.basis.hold(typed.basis)
        self._offer_sure(None, typed.sure)

    def save(self) -> None:
        """Save the evidence if it can be read, else show the error under its field."""
        parsed = self._parse(show_error=True)
        if parsed is None:
            return
        of_tool = self.kind.held == PRODUCTION or not self.part.held
        part = None if of_tool else PartId(self.part.held)
        fields = EvidenceFields(**{**fields_from(parsed.fields), "part_id": part})
        if self._evidence is None:
            self.wanted.emit(EnteredEvidence(evidence=None, fields=fields))
        else:
            self.wanted.emit(
                EnteredEvidence(
                    evidence=self._evidence.id, fields=with_unasked(self._evidence, fields)
                )
            )

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        self.rested.emit()
        super().hideEvent(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.save()
        else:
            super().keyPressEvent(event)

    def _mark(self) -> dict[str, str]:
        kind = self.kind.held
        if kind == "diamond_uk":
            return self.diamond.mark
        if kind == "clue":
            return self.known_features.mark
        key = LINE_OF[kind]
        return {key: self.lines[key].text}

    def _input(self) -> EvidenceInput:
        loose = self.looseness.text.strip()
        if loose and not loose.isdecimal():
            raise InputError(
                f"“{loose}” is not a number of years.",
                remedy="Enter a whole number such as 3, or leave it empty.",
                subject="looseness",
            )
        return EvidenceInput(
            kind=self.kind.held,
            mark=self._mark(),
            seen=self.seen.text,
            sure=weight_of(self.sure.held) if self.sure.held else None,
            looseness=int(loose) if loose else None,
            basis=Basis(self.basis.held) if self.basis.held else None,
            source=self.source.text,
        )

    def _parse(self, *, show_error: bool) -> ParsedEvidence | None:
        """Parse what is typed; with `show_error`, show errors under the field."""
        if self._tables is None:
            return None
        try:
            return parse_evidence(self._input(), self._tables)
        except InputError as error:
            if show_error:
                self._refuse(error)
            return None

    def _refuse(self, error: InputError) -> None:
        if error.subject == "looseness":
            self.looseness.show_trouble(error)
        elif self.kind.held == "diamond_uk":
            self.diamond.show_trouble(error)
        elif self.kind.held == "clue":
            self.known_features.show_trouble(_NO_FEATURE if not self.known_features.mark else error)
        else:
            self.lines[LINE_OF[self.kind.held]].show_trouble(error)

    def _typed(self) -> None:
        self._show_meaning(self._parse(show_error=False))
        self._pause.start()

    def _paused(self) -> None:
        """Show errors once a person has stopped typing."""
        self.rested.emit()
        if any(text.strip() for text in self._mark().values()):
            self._parse(show_error=True)

    def _show_meaning(self, parsed: ParsedEvidence | None) -> None:
        self.meaning.setVisible(parsed is not None)
        self.meaning.show_message("")
        if parsed is not None:
            known = source_check_words(parsed.status)
            lines = (
                f"Limits: {parsed.bounds}.",
                *(f"Or: {other}." for other in parsed.alternatives),
                f"{known[:1].upper()}{known[1:]}." if known else "",
            )
            text = "\n".join(line for line in lines if line)
            self.meaning.show_message(text, f"Reads as {parsed.read_as}")
        fields = None if parsed is None else parsed.fields
        self._offer_usual(fields)

    def _offer_usual(self, fields: EvidenceValues | None) -> None:
        """Show defaults as placeholders; none while the mark cannot be read yet."""
        if fields is None:
            for field in (self.looseness, self.seen, self.source):
                field.line.setPlaceholderText("")
            return
        if self._evidence is None:
            self._offer_sure(float(fields["sure"]) if not self.sure.held else None, "")
        self.looseness.line.setPlaceholderText(f"usual: {fields['looseness']}")
        self.seen.line.setPlaceholderText(fields["seen"])
        self.source.line.setPlaceholderText(fields["source"])

    def _offer_sure(self, usual: float | None, holds: str) -> None:
        rows = open_list("sureness").values()
        held = next(
            (row.code for row in rows if row.name == holds), self.sure.held if not holds else ""
        )
        words = "usual for this kind" if usual is None else f"usual: {sure_words(usual)}"
        self.sure.offer([("", words), *((row.code, row.name) for row in rows)], holds=held)

    def _show_kind(self) -> None:
        kind = self.kind.held
        wanted = kind if kind in self._marks else LINE_OF[kind]
        for key, widget in self._marks.items():
            widget.setVisible(key == wanted)
        bounds_all = kind == PRODUCTION
        for widget in (self._how, self._part_label):
            widget.setVisible(not bounds_all)
        if not self._part_chosen:
            # Marks are on a part, most often the body; hearsay is about the whole tool.
            self.part.setCurrentIndex(0 if kind in _OF_WHOLE else min(1, self.part.count() - 1))
        if self._evidence is None:
            self.basis.hold(Basis.TOLD if kind == "word" else Basis.READ_OFF)
        self._typed()

    def _choose_part(self) -> None:
        self._part_chosen = True

    def _connect(self) -> None:
        self.kind.chosen.connect(lambda _kind: self._show_kind())
        for field in (*self.lines.values(), self.seen, self.looseness, self.source):
            field.typed.connect(lambda _text: self._typed())
            field.ignore_esc()  # Esc leaves the form, which keeps what was typed
        self.part.chosen.connect(lambda _part: self._choose_part())
        self.sure.chosen.connect(lambda _code: self._typed())
        self.diamond.typed.connect(self._typed)
        self.known_features.typed.connect(self._typed)
        self._pause.timeout.connect(self._paused)
        self.write.clicked.connect(self.save)
        self._leave.clicked.connect(self.left)

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(24, 24, 24, 24)
        column.setSpacing(12)
        column.addWidget(self._title)
        column.addWidget(LabeledControl("Kind of evidence", self.kind))
        for key, line in self.lines.items():
            self._marks[key] = LabeledControl(_HINTS[key][0], line)
        self._marks |= {"diamond_uk": self.diamond, "clue": self.known_features}
        for mark in self._marks.values():
            column.addWidget(mark)
        column.addWidget(self.meaning)
        self._part_label = LabeledControl("On which part", self.part)
        column.addWidget(self._part_label)
        column.addWidget(LabeledControl("What was seen", self.seen))
        self._how = _row(
            LabeledControl("How sure", self.sure),
            LabeledControl("Tolerance in years (±)", self.looseness),
        )
        column.addWidget(self._how)
        column.addWidget(
            _row(LabeledControl("Basis", self.basis), LabeledControl("Source", self.source))
        )
        column.addStretch(1)
        self._lay_around(inside)

    def _lay_around(self, inside: QWidget) -> None:
        """Let the fields scroll above the buttons, which stay visible."""
        self._area.setWidget(inside)
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        foot = _row(self.write, self._leave, stretched=False)
        foot.setContentsMargins(24, 12, 24, 16)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._area, 1)
        whole.addWidget(Rule())
        whole.addWidget(foot)
        self.setAccessibleName("Evidence")


_NO_FEATURE = InputError(
    "No known feature is chosen.", remedy="Search, then choose one from the list.", subject="clue"
)


def _fill(field: Field, text: str) -> None:
    field.line.clear()
    field.set_text(text)


def _row(*widgets: QWidget, stretched: bool = True) -> QWidget:
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(12 if stretched else 8)
    for widget in widgets:
        row.addWidget(widget, 1 if stretched else 0)
    if not stretched:
        row.addStretch(1)
    return holder
