"""Beside the chart: the selected evidence, its photograph, and its effect on the date."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.ids import EvidenceId
from planebench.catalog.reference import open_list
from planebench.catalog.values import EvidenceEntry
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.evidence_input import KIND_WORDS, format_bounds
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.lines import MessageNote, Rule
from planebench.window.pieces.text import Ink, Label, heading, small_label
from planebench.window.screens.dating.dating_model import DatingModel, EvidenceLine, sure_words
from planebench.window.screens.dating.dating_photos import EvidencePhotograph
from planebench.window.screens.dating.disagreements import (
    Disagreement,
    disagreement_of,
    without_in_words,
)

_LABELS = 96


class _DetailRow(QWidget):
    """A label, its text or control, and a remark below."""

    def __init__(self, label: str, control: QWidget | None = None) -> None:
        super().__init__()
        self.words = Label().wrapped()
        self.remark = small_label().wrapped()
        name = Label(label, ink=Ink.MUTED)
        name.setFixedWidth(_LABELS)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        row = QHBoxLayout()
        row.setContentsMargins(0, 4, 0, 0)
        row.setSpacing(8)
        row.addWidget(name, 0, Qt.AlignmentFlag.AlignTop)
        if control is None:
            row.addWidget(self.words, 1)
        else:
            row.addWidget(control, 0)
            row.addWidget(self.words, 1)
        column.addLayout(row)
        beneath = QHBoxLayout()
        beneath.setContentsMargins(_LABELS + 8, 0, 0, 0)
        beneath.addWidget(self.remark)
        column.addLayout(beneath)
        column.addWidget(Rule())

    def say(self, text: str, remark: str = "", *, ink: Ink = Ink.MUTED) -> None:
        self.words.setText(text)
        self.remark.setText(remark)
        self.remark.set_ink(ink)
        self.remark.setVisible(bool(remark))


class EvidenceDetails(QWidget):
    """The details of one piece of evidence. Signals: `sure_chosen(str)` with a sureness code."""

    sure_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = heading()
        rows = open_list("sureness").values()
        self.sure = DropDown("How sure", [(row.code, row.name) for row in rows])
        self._seen = _DetailRow("seen")
        self._on = _DetailRow("on")
        self._read = _DetailRow("read as")
        self._bounds = _DetailRow("limits")
        self._sure = _DetailRow("how sure", self.sure)
        self._source = _DetailRow("source")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self._title)
        column.addSpacing(4)
        for fact in (self._seen, self._on, self._read, self._bounds, self._sure, self._source):
            column.addWidget(fact)
        self.sure.chosen.connect(self.sure_chosen)

    @property
    def said(self) -> str:
        """All texts shown, for tests and screen readers."""
        facts = (self._seen, self._on, self._read, self._bounds, self._source)
        told = [f"{fact.words.text()} {fact.remark.text()}".strip() for fact in facts]
        return "\n".join([self._title.text(), *told])

    def show_line(self, line: EvidenceLine) -> None:
        """Show one piece of evidence."""
        evidence, read = line.evidence, line.read
        self._title.setText(f"Evidence {evidence.number}: {_kind(evidence)}")
        self._seen.say(evidence.seen)
        self._on.say(line.part.lower())
        self._read.setVisible(bool(read.read_as))
        self._read.say(read.read_as, "\n".join(read.alternatives))
        self._bounds.say(", ".join(filter(None, (format_bounds(read), _loose(line)))))
        self._say_sure(evidence)
        self._say_source(evidence, read.status)

    def _say_sure(self, evidence: EvidenceEntry) -> None:
        bounds_all = evidence.kind == PRODUCTION
        self.sure.setVisible(not bounds_all)
        self.sure.hold(_sure_code(float(evidence.sure)))
        self._sure.say("limits everything else" if bounds_all else "")
        if not evidence.counted:
            self._sure.say(self._sure.words.text(), "left out, not counted")

    def _say_source(self, evidence: EvidenceEntry, status: str) -> None:
        self._source.setVisible(bool(evidence.source or status))
        memory = "memory" in status
        ink = Ink.RUST if memory else Ink.MUTED
        self._source.say(evidence.source or "none given", source_check_words(status), ink=ink)


def source_check_words(status: str) -> str:
    """Return how well the source of evidence was checked, by the status of its table rows."""
    words = {
        "found": "checked against a public copy of the source",
        "memory": "from memory, not checked",
        "found and memory": "partly checked, partly from memory",
    }
    return words.get(status, status)


def _kind(evidence: EvidenceEntry) -> str:
    words = KIND_WORDS.get(evidence.kind, evidence.kind.replace("_", " "))
    return "years" if evidence.kind == "years" else words.partition(",")[0]


def _loose(line: EvidenceLine) -> str:
    """Return how far outside its years evidence may still lie: "±2 years"."""
    loose = max(line.loose_before, line.loose_after)
    if not loose:
        return ""
    years = "1 year" if loose == 1 else f"{loose} years"
    # Nothing carries a mark before it existed, but old stock was used up later.
    return f"or up to {years} after" if line.read.never_before else f"±{years}"


def _sure_code(sure: float) -> str:
    name = sure_words(sure)
    return next(row.code for row in open_list("sureness").values() if row.name == name)


_SIDE = 24


class EvidencePanel(QWidget):
    """The panel at the left of the chart.

    Signals: `sure_chosen(EvidenceId, str)`; `part_not_original(Part)`; `doubted(entries)`;
    `left_open(Disagreement)`.
    """

    sure_chosen = Signal(str, str)
    part_not_original = Signal(object)
    doubted = Signal(object)
    left_open = Signal(object)

    def __init__(self, context: ScreenContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._asking = LatestRead(context.jobs, self)
        self._evidence: EvidenceId | None = None
        self._disagreement: Disagreement | None = None
        self.photograph = EvidencePhotograph(context)
        self.facts = EvidenceDetails()
        self.without = MessageNote()
        self.disagreement_note = MessageNote(trouble=True)
        self.not_original = ActionButton("The part is not original", weight=ButtonWeight.MAIN)
        self.doubt = ActionButton("Doubt this evidence")
        self.doubt_other = ActionButton("Doubt the other evidence")
        self.leave_open = ActionButton("Leave open and state on sheet")
        self._lay_out()
        self._connect()

    def show_model(self, shown: DatingModel, evidence: EvidenceId | None) -> None:
        """Show one piece of evidence, and any disagreement."""
        line = shown.line_of(evidence)
        self._evidence = evidence
        self.photograph.show_evidence(shown.tool, None if line is None else line.evidence)
        self.facts.setVisible(line is not None)
        if line is not None:
            self.facts.show_line(line)
        self._ask_without(shown, None if line is None else line.evidence)
        self._show_disagreement(disagreement_of(shown))

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.photograph.set_room(self.width() - 2 * _SIDE)

    def _ask_without(self, shown: DatingModel, evidence: EvidenceEntry | None) -> None:
        tool, anchor = shown.tool, shown.anchor
        if evidence is None or not evidence.counted:
            self.without.hide()
            return
        name = evidence.id
        self._asking.ask(lambda _job: without_in_words(tool, name, anchor), done=self._say_without)

    def _say_without(self, words: str) -> None:
        self.without.show_message(words)
        self.without.show()

    def _show_disagreement(self, found: Disagreement | None) -> None:
        self._disagreement = found
        self.disagreement_note.setVisible(found is not None)
        if found is None:
            return
        self.disagreement_note.show_message(found.text, found.title, trouble=not found.left_open)
        part = found.part
        self.not_original.setVisible(part is not None)
        if part is not None:
            self.not_original.set_words(f"The {part.name.lower()} is not original")
        one = found.evidence[:1] if part is None else found.evidence
        other = found.evidence[1:] if part is None else ()
        self._name_doubt(self.doubt, one)
        self._name_doubt(self.doubt_other, other)
        self.leave_open.set_words(
            "Resolve after all" if found.left_open else "Leave open and state on sheet"
        )

    @staticmethod
    def _name_doubt(act: ActionButton, entries: tuple[EvidenceEntry, ...]) -> None:
        act.setVisible(bool(entries))
        if entries:
            what = f"evidence {entries[0].number}" if len(entries) == 1 else "its evidence"
            act.set_words(f"Doubt {what}")

    def _doubt(self, at: int) -> None:
        found = self._disagreement
        if found is None:
            return
        both = found.part is not None
        self.doubted.emit(found.evidence if both else found.evidence[at : at + 1])

    def _connect(self) -> None:
        self.facts.sure_chosen.connect(
            lambda code: self.sure_chosen.emit(self._evidence or "", code)
        )
        self.not_original.clicked.connect(
            lambda: self.part_not_original.emit(self._disagreement and self._disagreement.part)
        )
        self.doubt.clicked.connect(lambda: self._doubt(0))
        self.doubt_other.clicked.connect(lambda: self._doubt(1))
        self.leave_open.clicked.connect(lambda: self.left_open.emit(self._disagreement))

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(_SIDE, 24, _SIDE, 8)
        column.setSpacing(16)
        for part in (self.photograph, self.facts):
            column.addWidget(part)
        column.addStretch(1)
        self.disagreement_note.add_below(
            _side_by_side(self.not_original, self.doubt, self.doubt_other)
        )
        self.disagreement_note.add_below(_side_by_side(self.leave_open))
        self.without.hide()
        self.disagreement_note.hide()
        self.setAccessibleName("Selected evidence")
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(_scrolled(inside), 1)
        foot = QVBoxLayout()
        foot.setContentsMargins(24, 8, 24, 8)
        foot.setSpacing(16)
        foot.addWidget(self.without)
        foot.addWidget(self.disagreement_note)
        whole.addLayout(foot)


def _scrolled(inside: QWidget) -> QScrollArea:
    """Return a scroll area; the disagreement below it stays visible however long an entry is."""
    area = QScrollArea()
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area


def _side_by_side(*actions: QWidget) -> QWidget:
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 8)
    row.setSpacing(8)
    for act in actions:
        row.addWidget(act)
    row.addStretch(1)
    return holder
