"""The line that says where one is: one level up, the title, what can be done here."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.window.fonts import title_font
from planebench.window.pieces.background import Background
from planebench.window.pieces.lines import IconMark
from planebench.window.pieces.screen import ScreenTitle
from planebench.window.pieces.text import ElidedLabel, Ink, LinkButton
from planebench.window.tokens import NOTE, PAGE_EDGE, TITLE


class TitleBar(Background):
    """The title line, 64 px high.

    Signals: `up_wanted()` by the words of the level up.
    """

    up_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("ground", parent, ruled=Qt.Edge.BottomEdge)
        self.setAccessibleName("Title")
        self.setFixedHeight(64)
        self._up = LinkButton("", size=NOTE)
        self._up.clicked.connect(self.up_wanted)
        self._up_mark = IconMark("up", ink=Ink.BRASS, size=12)
        self._remark = ElidedLabel(size=NOTE, ink=Ink.MUTED)
        for widget in (self._up, self._remark):
            widget.setFixedHeight(18)
        # Their room goes with them where there is no level up.
        self._up.setContentsMargins(4, 0, 8, 0)
        self._title = ElidedLabel()
        self._title.set_font(title_font(TITLE))
        self._title.setFixedHeight(32)
        self._acts: tuple[QWidget, ...] = ()
        self._lay_out()

    def _lay_out(self) -> None:
        above = QHBoxLayout()
        above.setSpacing(0)
        above.addWidget(self._up_mark)
        above.addWidget(self._up)
        above.addWidget(self._remark, 1)
        texts = QVBoxLayout()
        texts.setSpacing(0)
        texts.setContentsMargins(0, 8, 0, 4)
        texts.addLayout(above)
        texts.addWidget(self._title)
        self._acts_row = QHBoxLayout()
        self._acts_row.setSpacing(8)
        row = QHBoxLayout(self)
        row.setContentsMargins(PAGE_EDGE, 0, PAGE_EDGE, 0)
        row.setSpacing(PAGE_EDGE)
        row.addLayout(texts, 1)
        row.addLayout(self._acts_row)

    def show_title(self, title: ScreenTitle) -> None:
        """Say where one is."""
        self._up.setText(title.up)
        self._up.setAccessibleName(f"up to {title.up}")
        for widget in (self._up, self._up_mark):
            widget.setVisible(bool(title.up))
        self._remark.setText(title.remark)
        self._title.setText(title.text)

    def show_acts(self, acts: tuple[QWidget, ...]) -> None:
        """Put the place's controls at the right end; those of the former place go back to it."""
        for act in self._acts:
            self._acts_row.removeWidget(act)
            act.hide()
        self._acts = acts
        for act in acts:
            self._acts_row.addWidget(act)
            act.show()

    def first_focus(self) -> QWidget:
        """Return what takes the keyboard when F6 comes here."""
        return next((act for act in self._acts if act.isEnabled()), self._up)
