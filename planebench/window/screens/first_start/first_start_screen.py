"""The screen before a catalog is open: sample, new catalog, open, print cards."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label, LinkButton, page_title, small_label
from planebench.window.screens.first_start.labeled_plane import LabeledPlane
from planebench.window.tokens import NOTE

_LEAD = (
    "A catalog is one folder on this computer. It holds your records, the original photographs "
    "and every sheet you issue."
)
_PLACE = "New catalogs are saved in Documents/Planebench unless you choose another folder."
_RECENT_AT_MOST = 3
_SAMPLE = "Open the sample"


class FirstStartScreen(Screen):
    """What to do first; with recent catalogs, the latest comes first.

    Signals: `sample_wanted()`, `new_wanted()`, `open_wanted()`, `cards_wanted()`,
    `recent_wanted(str)` with the folder of a recent catalog.
    """

    sample_wanted = Signal()
    new_wanted = Signal()
    open_wanted = Signal()
    cards_wanted = Signal()
    recent_wanted = Signal(str)

    def __init__(self, recent: Sequence[Path] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sample = ActionButton(
            _SAMPLE, weight=ButtonWeight.NORMAL if recent else ButtonWeight.MAIN
        )
        self._sample.clicked.connect(self.sample_wanted)
        self._new = ActionButton("New catalog")
        self._new.clicked.connect(self.new_wanted)
        self._open = ActionButton("Open a catalog")
        self._open.clicked.connect(self.open_wanted)
        self._cards = ActionButton("Print cards")
        self._cards.clicked.connect(self.cards_wanted)
        self._last = ActionButton("Continue", weight=ButtonWeight.MAIN)
        self._last.clicked.connect(lambda: self.recent_wanted.emit(str(recent[0])))
        self._last.setVisible(bool(recent))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(LabeledPlane(), 65)
        row.addWidget(self._side(recent), 35)
        self.set_regions(self._last if recent else self._sample)

    def show_preparing_sample(self, ended: SignalInstance) -> None:
        """Show on the button that the sample is being prepared, until that has ended."""
        self._sample.setText("Preparing…")
        self._sample.setEnabled(False)
        ended.connect(self._offer_sample)

    def _offer_sample(self) -> None:
        self._sample.setText(_SAMPLE)
        self._sample.setEnabled(True)

    def _side(self, recent: Sequence[Path]) -> Background:
        side = Background("ground", ruled=Qt.Edge.LeftEdge)
        side.setMinimumWidth(480)
        column = QVBoxLayout(side)
        column.setContentsMargins(64, 24, 64, 24)
        column.setSpacing(0)
        column.addStretch(1)
        self._lay_out(column, recent)
        column.addStretch(1)
        return side

    def _lay_out(self, column: QVBoxLayout, recent: Sequence[Path]) -> None:
        column.addWidget(page_title("Welcome back" if recent else "Welcome"))
        column.addSpacing(4)
        column.addWidget(Label(_LEAD, ink=Ink.MUTED).wrapped())
        column.addSpacing(24 if recent else 32)
        for title, text, act in self._choices(recent):
            column.addWidget(Rule(strong=True))
            column.addWidget(_choice_row(title, text, act, room=8 if recent else 16))
        column.addWidget(Rule(strong=True))
        column.addSpacing(16)
        if recent[1:]:
            column.addLayout(self._recent(recent[1:]))
            column.addSpacing(8)
        column.addWidget(small_label(_PLACE).wrapped())

    def _choices(self, recent: Sequence[Path]) -> list[tuple[str, str, ActionButton]]:
        sample = (
            "Look at a sample workshop" + ("" if recent else " first"),
            "Ten invented planes, from as found to sold.",
            self._sample,
        )
        ways = [
            ("Start your own", "Add a purchase, then its planes, one line each.", self._new),
            (
                "Open another catalog" if recent else "Open a catalog you have",
                "Catalogs of older versions are backed up, then updated.",
                self._open,
            ),
            (
                "Print scale cards",
                "Lay one beside each plane: it gives stock number and scale.",
                self._cards,
            ),
        ]
        if not recent:
            return [sample, *ways]
        return [(recent[0].name, str(recent[0].parent), self._last), *ways, sample]

    def _recent(self, recent: Sequence[Path]) -> QVBoxLayout:
        lines = QVBoxLayout()
        lines.setSpacing(4)
        lines.addWidget(small_label("Recent catalogs", ink=Ink.INK))
        for folder in recent[:_RECENT_AT_MOST]:
            name = LinkButton(folder.name, strong=True)
            name.setToolTip(str(folder))
            name.clicked.connect(
                lambda _on=False, folder=folder: self.recent_wanted.emit(str(folder))
            )
            line = QHBoxLayout()
            line.setSpacing(8)
            line.addWidget(name)
            line.addWidget(Label(str(folder.parent), size=NOTE, ink=Ink.MUTED), 1)
            lines.addLayout(line)
        return lines


def _choice_row(title: str, text: str, act: ActionButton, *, room: int) -> QWidget:
    row = QWidget()
    line = QHBoxLayout(row)
    line.setContentsMargins(0, room, 0, room)
    line.setSpacing(16)
    texts = QVBoxLayout()
    texts.setSpacing(4)
    texts.addWidget(Label(title, strong=True))
    texts.addWidget(Label(text, ink=Ink.MUTED).wrapped())
    line.addLayout(texts, 1)
    line.addWidget(act)
    act.setAccessibleDescription(f"{title}. {text}")
    return row
