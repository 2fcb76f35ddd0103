"""What is already recorded from a type study, and whether the study fits the maker."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from planebench.catalog.values import EvidenceEntry, Tool
from planebench.trade.type_study import Comparison, TypeStudy
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.text import Ink, Label, small_label
from planebench.window.screens.dating.study_comparison import (
    evidence_by,
    maker_doubt,
    production_by,
    says_the_same,
)

ADD = "Add as evidence"
_TWICE = (
    "If the same features are also recorded as evidence of their own, leave out one of the two, "
    "or they count twice."
)


class StudyRecordedNote(QWidget):
    """Notes below the actions of a study; disables actions that would change nothing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.recorded = Label().wrapped()
        self.doubt = Label(ink=Ink.RUST).wrapped()
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 0, 24, 0)
        column.setSpacing(4)
        for words in (self.recorded, self.doubt, small_label(_TWICE).wrapped()):
            column.addWidget(words)
        self.say_nothing()

    def say_nothing(self) -> None:
        """Clear the notes."""
        _say(self.recorded, "")
        _say(self.doubt, "")

    def show_found(self, found: Comparison, tool: Tool, write: ActionButton) -> None:
        """Say what is already recorded; `write` is labeled and enabled to match."""
        known = evidence_by(tool, found.study)
        there = "" if known is None else _recorded_words(known, found)
        write.set_words(ADD if known is None else f"Update evidence {known.number}")
        write.set_disabled_reason(_not_yet(found) or there)
        _say(self.recorded, there)
        _say(self.doubt, maker_doubt(tool, found.study))


def show_limits(study: TypeStudy, tool: Tool, production: ActionButton) -> None:
    """Disable limiting the date where this study already does."""
    known = production_by(tool, study)
    production.set_disabled_reason(
        "" if known is None else f"Already limited by evidence {known.number}."
    )


def _not_yet(found: Comparison) -> str:
    if not found.seen:
        return "Choose what the tool shows first."
    if found.years == (None, None):
        return "No variant fits, or the fitting ones have no years."
    return ""


def _recorded_words(known: EvidenceEntry, found: Comparison) -> str:
    if not says_the_same(known, found):
        return ""
    return f"Already recorded as evidence {known.number}."


def _say(words: Label, text: str) -> None:
    words.setText(text)
    words.setVisible(bool(text))
