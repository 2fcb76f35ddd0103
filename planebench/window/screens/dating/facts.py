"""A sign's entry as facts, each over a rule."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.evidence_entry import KIND_WORDS, bounds_in_words
from planebench.catalog.reference import open_list
from planebench.catalog.values import EvidenceEntry
from planebench.trade.dating_span import PRODUCTION
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.text import Ink, Words, heading, note
from planebench.window.screens.dating.model import EvidenceLine, sure_words

_LABELS = 96


class _Fact(QWidget):
    """A label, its words or control, and a remark beneath."""

    def __init__(self, label: str, control: QWidget | None = None) -> None:
        super().__init__()
        self.words = Words().wrapped()
        self.remark = note().wrapped()
        name = Words(label, ink=Ink.MUTED)
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


class EvidenceFacts(QWidget):
    """What is known of one sign. Signals: `sure_chosen(str)` with the code of how sure."""

    sure_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = heading()
        rows = open_list("sureness").values()
        self.sure = DropDown("How sure", [(row.code, row.name) for row in rows])
        self._seen = _Fact("seen")
        self._on = _Fact("on")
        self._read = _Fact("read as")
        self._bounds = _Fact("bounds")
        self._sure = _Fact("how sure", self.sure)
        self._source = _Fact("source")
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
        """All that is said, for reading."""
        facts = (self._seen, self._on, self._read, self._bounds, self._source)
        told = [f"{fact.words.text()} {fact.remark.text()}".strip() for fact in facts]
        return "\n".join([self._title.text(), *told])

    def show_line(self, line: EvidenceLine) -> None:
        """Show a sign's entry."""
        evidence, read = line.evidence, line.read
        self._title.setText(f"Sign {evidence.number}: {_kind(evidence)}")
        self._seen.say(evidence.seen)
        self._on.say(line.part.lower())
        self._read.setVisible(bool(read.read_as))
        self._read.say(read.read_as, "\n".join(read.alternatives))
        self._bounds.say(", ".join(filter(None, (bounds_in_words(read), _loose(line)))))
        self._say_sure(evidence)
        self._say_source(evidence, read.status)

    def _say_sure(self, evidence: EvidenceEntry) -> None:
        bounds_all = evidence.kind == PRODUCTION
        self.sure.setVisible(not bounds_all)
        self.sure.hold(_sure_code(float(evidence.sure)))
        self._sure.say("bounds everything else" if bounds_all else "")
        if not evidence.counted:
            self._sure.say(self._sure.words.text(), "left out: not counted")

    def _say_source(self, evidence: EvidenceEntry, status: str) -> None:
        self._source.setVisible(bool(evidence.source or status))
        memory = "memory" in status
        ink = Ink.RUST if memory else Ink.MUTED
        self._source.say(evidence.source or "none written down", known_words(status), ink=ink)


def known_words(status: str) -> str:
    """Say how what a sign rests on is known, by the status of its rows."""
    words = {
        "found": "checked in a public copy of its source",
        "memory": "written from memory, not checked",
        "found and memory": "in part checked in its source, in part from memory",
    }
    return words.get(status, status)


def _kind(evidence: EvidenceEntry) -> str:
    words = KIND_WORDS.get(evidence.kind, evidence.kind.replace("_", " "))
    return "years" if evidence.kind == "years" else words.partition(",")[0]


def _loose(line: EvidenceLine) -> str:
    """Say how far outside its years a sign may still stand: "give or take 2 years"."""
    loose = max(line.loose_before, line.loose_after)
    if not loose:
        return ""
    years = "1 year" if loose == 1 else f"{loose} years"
    # A mark that could not be earlier lingers on only: old stock was used up.
    return f"or up to {years} after" if line.read.never_before else f"give or take {years}"


def _sure_code(sure: float) -> str:
    name = sure_words(sure)
    return next(row.code for row in open_list("sureness").values() if row.name == name)
