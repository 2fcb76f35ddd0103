"""Before a catalog is open: what the program asks of a plane, and four ways on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.window.pieces.act import ActButton, Weight
from planebench.window.pieces.ground import Ground
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.place import Place
from planebench.window.pieces.words import Ink, LinkAct, Words, note, page_title
from planebench.window.screens.first_start.drawing import AskingDrawing
from planebench.window.tokens import NOTE

_LEAD = (
    "A catalog is one folder on this machine. It holds the record, the photographs as they came, "
    "and every sheet you issue."
)
_PLACE = "New catalogs go into Documents / Planebench unless you choose another place."
_RECENT_AT_MOST = 4


class FirstStart(Place):
    """The four ways on; catalogs opened before are named beneath.

    Signals: `sample_wanted()`, `new_wanted()`, `open_wanted()`, `cards_wanted()`,
    `recent_wanted(str)` with the folder of a catalog opened before.
    """

    sample_wanted = Signal()
    new_wanted = Signal()
    open_wanted = Signal()
    cards_wanted = Signal()
    recent_wanted = Signal(str)

    def __init__(self, recent: Sequence[Path] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sample = ActButton("Open the sample", weight=Weight.MAIN)
        self._new = ActButton("New catalog")
        self._open = ActButton("Open a catalog")
        self._cards = ActButton("Print cards")
        self._sample.clicked.connect(self.sample_wanted)
        self._new.clicked.connect(self.new_wanted)
        self._open.clicked.connect(self.open_wanted)
        self._cards.clicked.connect(self.cards_wanted)
        side = Ground("ground", ruled=Qt.Edge.LeftEdge)
        side.setMinimumWidth(480)
        column = QVBoxLayout(side)
        column.setContentsMargins(64, 24, 64, 24)
        column.setSpacing(0)
        column.addStretch(1)
        self._lay_out(column, recent)
        column.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(AskingDrawing(), 65)
        row.addWidget(side, 35)
        self.set_regions(self._sample)

    def _lay_out(self, column: QVBoxLayout, recent: Sequence[Path]) -> None:
        column.addWidget(page_title("Nothing on the bench yet"))
        column.addSpacing(4)
        column.addWidget(Words(_LEAD, ink=Ink.MUTED).wrapped())
        column.addSpacing(32)
        for title, text, act in (
            ("Look at a sample workshop first", "Ten invented planes, from found to sold.", "s"),
            ("Start your own", "Write down a purchase, then its planes, a line each.", "n"),
            ("Go on with one you have", "Older ones are brought up to date after a backup.", "o"),
            ("Print scale cards", "One lies beside each plane: its number, its size.", "c"),
        ):
            acts = {"s": self._sample, "n": self._new, "o": self._open, "c": self._cards}
            column.addWidget(Rule(strong=True))
            column.addWidget(_way_on(title, text, acts[act]))
        column.addWidget(Rule(strong=True))
        column.addSpacing(16)
        if recent:
            column.addLayout(self._recent(recent))
            column.addSpacing(8)
        column.addWidget(note(_PLACE).wrapped())

    def _recent(self, recent: Sequence[Path]) -> QVBoxLayout:
        lines = QVBoxLayout()
        lines.setSpacing(4)
        lines.addWidget(note("Opened before", ink=Ink.INK))
        for folder in recent[:_RECENT_AT_MOST]:
            name = LinkAct(folder.name, strong=True)
            name.setToolTip(str(folder))
            name.clicked.connect(lambda folder=folder: self.recent_wanted.emit(str(folder)))
            line = QHBoxLayout()
            line.setSpacing(8)
            line.addWidget(name)
            line.addWidget(Words(str(folder.parent), size=NOTE, ink=Ink.MUTED), 1)
            lines.addLayout(line)
        return lines


def _way_on(title: str, text: str, act: ActButton) -> QWidget:
    row = QWidget()
    line = QHBoxLayout(row)
    line.setContentsMargins(0, 16, 0, 16)
    line.setSpacing(16)
    texts = QVBoxLayout()
    texts.setSpacing(4)
    texts.addWidget(Words(title, strong=True))
    texts.addWidget(Words(text, ink=Ink.MUTED).wrapped())
    line.addLayout(texts, 1)
    line.addWidget(act)
    act.setAccessibleDescription(f"{title}. {text}")
    return row
