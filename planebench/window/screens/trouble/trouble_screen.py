"""A catalog that cannot be opened: what happened, which one, what to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypedDict

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QColor, QGuiApplication, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import Unpack, override

from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import IconMark
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label, page_title
from planebench.window.tokens import tokens_now

_WIDE, _BAR = 800, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class TroubleFact:
    """One known fact about the problem."""

    name: str
    text: str


class TroubleCircumstances(TypedDict, total=False):
    """Further facts: the catalog folder, details, whether it can be opened read-only."""

    subject: str
    facts: Sequence[TroubleFact]
    can_look: bool


class TroubleScreen(Screen):
    """The page that explains the problem.

    Signals: `try_again_wanted()`, `look_wanted()` to open read-only, `other_wanted()` for
    another catalog.
    """

    try_again_wanted = Signal()
    look_wanted = Signal()
    other_wanted = Signal()

    def __init__(
        self, *, happened: str, remedy: str, **known: Unpack[TroubleCircumstances]
    ) -> None:
        super().__init__()
        first, _, rest = happened.partition(". ")
        subject, facts = known.get("subject", ""), tuple(known.get("facts", ()))
        lines = (TroubleFact(name="catalog", text=subject), *facts) if subject else facts
        told = [happened, *(f"{line.name}: {line.text}" for line in lines), remedy]
        self._message = "\n".join(told)
        self._try_again = ActionButton("Try again", weight=ButtonWeight.MAIN)
        self._try_again.clicked.connect(self.try_again_wanted)
        self.set_regions(self._try_again)
        page = _Page()
        page.setAccessibleName(happened)
        column = page.column
        column.addLayout(_head(first.rstrip("."), rest))
        column.addSpacing(20)
        for line in lines:
            column.addWidget(_fact(line))
        column.addSpacing(20)
        column.addWidget(Label("What you can do", strong=True))
        column.addWidget(Label(remedy).wrapped())
        column.addSpacing(20)
        column.addLayout(self._act_row(can_look=known.get("can_look", False)))
        self._center(page)

    def _center(self, page: QWidget) -> None:
        whole = QVBoxLayout(self)
        whole.addStretch(1)
        middle = QHBoxLayout()
        middle.addStretch(1)
        middle.addWidget(page)
        middle.addStretch(1)
        whole.addLayout(middle)
        whole.addStretch(1)

    @property
    def message(self) -> str:
        """The whole message as it is copied."""
        return self._message

    def _act_row(self, *, can_look: bool) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        look = ActionButton("Open read-only")
        look.clicked.connect(self.look_wanted)
        other = ActionButton("Open another catalog")
        other.clicked.connect(self.other_wanted)
        copy = ActionButton("Copy message")
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self._message))
        row.addWidget(self._try_again)
        if can_look:
            row.addWidget(look)
        row.addWidget(other)
        row.addStretch(1)
        row.addWidget(copy)
        return row

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        QPainter(self).fillRect(self.rect(), QColor(tokens_now().panel))


class _Page(QWidget):
    """The page with a rust bar along its top."""

    def __init__(self) -> None:
        super().__init__()
        self.setFixedWidth(_WIDE)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Minimum)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(32, 32, 32, 28)
        self.column.setSpacing(0)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.ground))
        painter.setPen(QColor(tokens.edge))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.fillRect(QRect(0, 0, self.width(), _BAR), QColor(tokens.rust))


def _head(title: str, rest: str) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(16)
    row.addWidget(IconMark("trouble", ink=Ink.RUST, size=24), 0, Qt.AlignmentFlag.AlignTop)
    texts = QVBoxLayout()
    texts.setSpacing(4)
    heading = page_title(title)
    heading.wrapped()
    texts.addWidget(heading)
    if rest:
        texts.addWidget(Label(rest, ink=Ink.MUTED).wrapped())
    row.addLayout(texts, 1)
    return row


def _fact(fact: TroubleFact) -> QWidget:
    row = Background("ground", ruled=Qt.Edge.BottomEdge)
    line = QHBoxLayout(row)
    line.setContentsMargins(0, 6, 0, 6)
    name = Label(fact.name, ink=Ink.MUTED)
    name.setFixedWidth(128)
    line.addWidget(name, 0, Qt.AlignmentFlag.AlignTop)
    text = Label(fact.text).wrapped()
    text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    line.addWidget(text, 1)
    return row
