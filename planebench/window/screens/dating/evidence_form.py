"""The form in which a sign is entered; what it means is shown while it is typed."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
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
from planebench.window.screens.dating.diamond_mark import DiamondFields
from planebench.window.screens.dating.evidence_form_values import (
    LINE_OF,
    EvidenceTyped,
    typed_for,
    with_unasked,
)
from planebench.window.screens.dating.evidence_panel import known_words
from planebench.window.screens.dating.known_features import ClueFields

_PAUSE_MS = 600
_OF_WHOLE = frozenset({"word", "document", "type_study", PRODUCTION})
_HINTS = {
    "value": ("Years", "c. 1915, 1920s, before 1910, 1907-11"),
    "number": ("Number as marked", "1,234,567"),
    "text": ("Date as stamped", "PAT. APR. 19. 92"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class EnteredEvidence:
    """A sign to be written down: anew, or in place of `sign`."""

    evidence: EvidenceId | None
    fields: EvidenceFields


class EvidenceForm(EscLeavesWidget):
    """Asks for a sign. Signals: `wanted(Written)`; `left()` by Esc or the act."""

    wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tables: EvidenceTables | None = None
        self._evidence: EvidenceEntry | None = None
        self._title = heading("Enter a sign")
        self.kind = DropDown("Kind of sign", list(KIND_WORDS.items()), holds="years")
        self.lines = {key: Field(name, hint=hint) for key, (name, hint) in _HINTS.items()}
        self.diamond = DiamondFields()
        self.clues = ClueFields()
        self.meaning = MessageNote()
        self.part = DropDown("On which part")
        self.seen = Field("What was seen")
        self.sure = DropDown("How sure")
        self.looseness = Field("Years allowed around")
        self.basis = DropDown("How it was seen", [(b.value, w) for b, w in BASIS_WORDS.items()])
        self.source = Field("Source")
        self.write = ActionButton("Write it down", weight=ButtonWeight.MAIN, key="Enter")
        self._leave = ActionButton("Leave it", key="Esc")
        self._marks: dict[str, QWidget] = {}
        self._area = QScrollArea()
        self._part_chosen = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._lay_out()
        self._connect()

    def set_tables(self, tables: EvidenceTables) -> None:
        """Take the tables by which marks are read."""
        self._tables = tables
        self.clues.offer(tables.clues.values())

    def begin(self, tool: Tool, evidence: EvidenceEntry | None) -> None:
        """Show an empty form, or a known sign to be changed."""
        self._evidence = evidence
        self._part_chosen = evidence is not None
        self.part.offer([("", "whole tool"), *((part.id, part.name) for part in tool.parts)])
        self._show_typed(typed_for(evidence))
        self._show_kind()
        self._area.ensureVisible(0, 0)
        self.kind.setFocus()

    def _show_typed(self, typed: EvidenceTyped) -> None:
        self._title.setText(typed.title)
        self.part.hold(typed.part)
        self.kind.hold(typed.kind)
        for key, line in self.lines.items():
            _fill(line, typed.mark.get(key, ""))
        self.diamond.show_mark(typed.mark)
        self.clues.show_mark(typed.mark.get("row", ""))
        _fill(self.seen, typed.seen)
        _fill(self.looseness, typed.looseness)
        _fill(self.source, typed.source)
        self.basis.hold(typed.basis)
        self._offer_sure(None, typed.sure)

    def take(self) -> None:
        """Write the sign down if it can be meant, else say under its field what is wrong."""
        understood = self._understand(told=True)
        if understood is None:
            return
        of_tool = self.kind.held == PRODUCTION or not self.part.held
        part = None if of_tool else PartId(self.part.held)
        fields = EvidenceFields(**{**fields_from(understood.fields), "part_id": part})
        if self._evidence is None:
            self.wanted.emit(EnteredEvidence(evidence=None, fields=fields))
        else:
            self.wanted.emit(
                EnteredEvidence(
                    evidence=self._evidence.id, fields=with_unasked(self._evidence, fields)
                )
            )

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.take()
        else:
            super().keyPressEvent(event)

    def _mark(self) -> dict[str, str]:
        kind = self.kind.held
        if kind == "diamond_uk":
            return self.diamond.mark
        if kind == "clue":
            return self.clues.mark
        key = LINE_OF[kind]
        return {key: self.lines[key].text}

    def _given(self) -> EvidenceInput:
        loose = self.looseness.text.strip()
        if loose and not loose.isdecimal():
            raise InputError(
                f"“{loose}” is no number of years.",
                remedy="Write a whole number such as 3, or nothing for what is usual.",
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

    def _understand(self, *, told: bool) -> ParsedEvidence | None:
        """Read what is typed; `told` says under the field what is wrong with it."""
        if self._tables is None:
            return None
        try:
            return parse_evidence(self._given(), self._tables)
        except InputError as error:
            if told:
                self._refuse(error)
            return None

    def _refuse(self, error: InputError) -> None:
        if error.subject == "looseness":
            self.looseness.show_trouble(error)
        elif self.kind.held == "diamond_uk":
            self.diamond.show_trouble(error)
        elif self.kind.held == "clue":
            self.clues.show_trouble(_NO_CLUE if not self.clues.mark else error)
        else:
            self.lines[LINE_OF[self.kind.held]].show_trouble(error)

    def _typed(self) -> None:
        self._show_meaning(self._understand(told=False))
        self._pause.start()

    def _paused(self) -> None:
        """Say what is wrong once a person has stopped typing something."""
        if any(text.strip() for text in self._mark().values()):
            self._understand(told=True)

    def _show_meaning(self, understood: ParsedEvidence | None) -> None:
        self.meaning.setVisible(understood is not None)
        self.meaning.show_message("")
        if understood is not None:
            known = known_words(understood.status)
            lines = (
                f"Bounds: {understood.bounds}.",
                *(f"Or: {other}." for other in understood.alternatives),
                f"{known[:1].upper()}{known[1:]}." if known else "",
            )
            text = "\n".join(line for line in lines if line)
            self.meaning.show_message(text, f"Read as {understood.read_as}")
        fields = None if understood is None else understood.fields
        self._offer_usual(fields)

    def _offer_usual(self, fields: EvidenceValues | None) -> None:
        """Show what holds where nothing is written; nothing, where no mark is understood yet."""
        if fields is None:
            for field in (self.looseness, self.seen, self.source):
                field.line.setPlaceholderText("")
            return
        if self._evidence is None:
            self._offer_sure(float(fields["sure"]) if not self.sure.held else None, "")
        self.looseness.line.setPlaceholderText(f"as usual: {fields['looseness']}")
        self.seen.line.setPlaceholderText(fields["seen"])
        self.source.line.setPlaceholderText(fields["source"])

    def _offer_sure(self, usual: float | None, holds: str) -> None:
        rows = open_list("sureness").values()
        held = next(
            (row.code for row in rows if row.name == holds), self.sure.held if not holds else ""
        )
        words = "as usual for its kind" if usual is None else f"as usual: {sure_words(usual)}"
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
            # A mark stands on a part, first of all the body; what is told speaks of the whole.
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
        self.part.chosen.connect(lambda _part: self._choose_part())
        self.sure.chosen.connect(lambda _code: self._typed())
        self.diamond.typed.connect(self._typed)
        self.clues.typed.connect(self._typed)
        self._pause.timeout.connect(self._paused)
        self.write.clicked.connect(self.take)
        self._leave.clicked.connect(self.left)

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(24, 24, 24, 24)
        column.setSpacing(12)
        column.addWidget(self._title)
        column.addWidget(LabeledControl("Kind of sign", self.kind))
        for key, line in self.lines.items():
            self._marks[key] = LabeledControl(_HINTS[key][0], line)
        self._marks |= {"diamond_uk": self.diamond, "clue": self.clues}
        for mark in self._marks.values():
            column.addWidget(mark)
        column.addWidget(self.meaning)
        self._part_label = LabeledControl("On which part", self.part)
        column.addWidget(self._part_label)
        column.addWidget(LabeledControl("What was seen", self.seen))
        self._how = _row(
            LabeledControl("How sure", self.sure),
            LabeledControl("Years allowed around", self.looseness),
        )
        column.addWidget(self._how)
        column.addWidget(
            _row(
                LabeledControl("How it was seen", self.basis), LabeledControl("Source", self.source)
            )
        )
        column.addStretch(1)
        self._lay_around(inside)

    def _lay_around(self, inside: QWidget) -> None:
        """Let the fields scroll over the acts, which stay in sight."""
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
        self.setAccessibleName("A sign of its date")


_NO_CLUE = InputError(
    "No clue is chosen.", remedy="Search, then choose one of the list.", subject="clue"
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
