"""The title line: one level up, the title of the screen, and its buttons."""

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

    Signals: `up_wanted()` by the link to the level up.
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
        self._remark.setFixedHeight(18)
        self._title = ElidedLabel()
        self._title.set_font(title_font(TITLE))
        self._title.setFixedHeight(32)
        self._buttons: tuple[QWidget, ...] = ()
        self._lay_out()

    def _lay_out(self) -> None:
        above = QHBoxLayout()
        above.setSpacing(0)
        above.addWidget(self._up_mark)
        above.addWidget(self._up)
        above.addSpacing(8)
        above.addWidget(self._remark, 1)
        texts = QVBoxLayout()
        texts.setSpacing(0)
        texts.setContentsMargins(0, 5, 0, 3)
        texts.addLayout(above)
        texts.addWidget(self._title)
        self._button_row = QHBoxLayout()
        self._button_row.setSpacing(8)
        row = QHBoxLayout(self)
        row.setContentsMargins(PAGE_EDGE, 0, PAGE_EDGE, 0)
        row.setSpacing(PAGE_EDGE)
        row.addLayout(texts, 1)
        row.addLayout(self._button_row)

    def show_title(self, title: ScreenTitle) -> None:
        """Show the title of the current screen."""
        self._up.setText(title.up)
        self._up.setAccessibleName(f"Up to {title.up}" if title.up else "")
        for widget in (self._up, self._up_mark):
            widget.setVisible(bool(title.up))
        self._remark.setText(title.remark)
        self._title.setText(title.text)

    def show_buttons(self, buttons: tuple[QWidget, ...]) -> None:
        """Show a screen's buttons at the right end; those of the screen before are hidden."""
        for button in self._buttons:
            self._button_row.removeWidget(button)
            button.hide()
        self._buttons = buttons
        for button in buttons:
            self._button_row.addWidget(button)
            button.show()

    def first_focus(self) -> QWidget | None:
        """Return what takes the keyboard when F6 comes here, None where nothing can."""
        buttons = (button for button in self._buttons if button.isEnabled())
        return next(buttons, None if self._up.isHidden() else self._up)
