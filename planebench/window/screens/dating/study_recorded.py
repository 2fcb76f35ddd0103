"""What of a type study stands written down already of a tool, and whether the study is of it."""

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

WRITE = "Write this down as a sign"
_TWICE = (
    "Written down, it counts beside the signs it rests on: leave out the one or the others, "
    "or the same thing counts twice."
)


class WrittenWords(QWidget):
    """Words under the acts of a study, and the acts turned off where they would change nothing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stands_there = Label().wrapped()
        self.doubt = Label(ink=Ink.RUST).wrapped()
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 0, 24, 0)
        column.setSpacing(4)
        for words in (self.stands_there, self.doubt, small_label(_TWICE).wrapped()):
            column.addWidget(words)
        self.say_nothing()

    def say_nothing(self) -> None:
        """Take away what was said of a study."""
        _say(self.stands_there, "")
        _say(self.doubt, "")

    def show_found(self, found: Comparison, tool: Tool, write: ActionButton) -> None:
        """Say what stands written down, so that nothing counts twice; `write` is named after it."""
        known = evidence_by(tool, found.study)
        there = "" if known is None else _stands_there(known, found)
        write.set_words(WRITE if known is None else f"Change sign {known.number} to this")
        write.set_disabled_reason(_not_yet(found) or there)
        _say(self.stands_there, there)
        _say(self.doubt, maker_doubt(tool, found.study))


def show_limits(study: TypeStudy, tool: Tool, production: ActionButton) -> None:
    """Turn off the act that limits the date where the study's years limit it already."""
    known = production_by(tool, study)
    production.set_disabled_reason(
        "" if known is None else f"They limit it already, as sign {known.number}."
    )


def _not_yet(found: Comparison) -> str:
    if not found.seen:
        return "Say first what the tool shows."
    if found.years == (None, None):
        return "No variant fits, or those that do have no years."
    return ""


def _stands_there(known: EvidenceEntry, found: Comparison) -> str:
    if not says_the_same(known, found):
        return ""
    return f"This stands written down already, as sign {known.number}."


def _say(words: Label, text: str) -> None:
    words.setText(text)
    words.setVisible(bool(text))
