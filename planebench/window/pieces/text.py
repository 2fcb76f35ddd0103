"""Text on a screen: labels of the four sizes, titles, and links."""

from __future__ import annotations

import re
from enum import Enum
from math import ceil
from typing import TypedDict

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import (
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPalette,
)
from PySide6.QtWidgets import QAbstractButton, QLabel, QSizePolicy, QWidget
from typing_extensions import Unpack, override

from planebench.window.fonts import text_font, title_font
from planebench.window.tokens import NOTE, SECTION, SMALLEST_TARGET, TEXT, TITLE, Tokens


class Ink(Enum):
    """What color words have; the names are those of the tokens."""

    INK = "ink"
    MUTED = "muted"
    BRASS = "brass"
    RUST = "rust"
    VERDIGRIS = "verdigris"

    def color(self, tokens: Tokens) -> str:
        """Return the color as #RRGGBB in a theme."""
        return str(getattr(tokens, self.value))


# The palette's roles in which the theme puts these colors, so that Qt itself changes them.
_ROLES = {
    Ink.INK: QPalette.ColorRole.WindowText,
    Ink.MUTED: QPalette.ColorRole.PlaceholderText,
    Ink.BRASS: QPalette.ColorRole.Link,
    Ink.RUST: QPalette.ColorRole.BrightText,
    Ink.VERDIGRIS: QPalette.ColorRole.LinkVisited,
}


_BREAK = "\u200b"
_LONG = re.compile(r"[!-~]{24}(?=[!-~])")
"""As much of a word as a narrow column has room for."""


class LabelLook(TypedDict, total=False):
    """How words look: size in pixels (TEXT unless said), strong or not, and their color."""

    size: int
    strong: bool
    ink: Ink


class Label(QLabel):
    """Plain words in one of the sizes; they follow the theme."""

    def __init__(
        self, text: str = "", parent: QWidget | None = None, **look: Unpack[LabelLook]
    ) -> None:
        super().__init__(text, parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setFont(text_font(look.get("size", TEXT), strong=look.get("strong", False)))
        self.set_ink(look.get("ink", Ink.INK))

    def wrapped(self) -> Label:
        """Let the words run over several lines; returns itself."""
        self.setWordWrap(True)
        self.setText(self.text())
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        return self

    @override
    def setText(self, text: str) -> None:
        # An address or a file's name without a blank would push everything beside it away.
        broken = _LONG.sub(rf"\g<0>{_BREAK}", text) if self.wordWrap() else text
        super().setText(broken)

    @override
    def text(self) -> str:
        return super().text().replace(_BREAK, "")

    def set_ink(self, ink: Ink) -> None:
        """Change the color."""
        self.setForegroundRole(_ROLES[ink])

    def set_font(self, font: QFont) -> None:
        """Change the face."""
        self.setFont(font)


def small_label(text: str = "", *, ink: Ink = Ink.MUTED) -> Label:
    """Return words in the size of notes."""
    return Label(text, size=NOTE, ink=ink)


def heading(text: str = "", *, size: int = SECTION) -> Label:
    """Return a title: a section's, a tool's name (18) or a page's (24)."""
    made = Label(text)
    made.set_font(title_font(size))
    return made


def page_title(text: str = "") -> Label:
    """Return the title of a page."""
    return heading(text, size=TITLE)


class LinkButton(QAbstractButton):
    """Brass words that do something, for the end of a sentence; a button to screen readers.

    Signals: those of a button: `clicked()` by pointer, Enter or Space.
    """

    def __init__(
        self, text: str, parent: QWidget | None = None, *, size: int = TEXT, strong: bool = False
    ) -> None:
        super().__init__(parent)
        self.setFont(text_font(size, strong=strong))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._role = _ROLES[Ink.BRASS]
        self.setText(text)

    def set_ink(self, ink: Ink) -> None:
        """Change the color."""
        self._role = _ROLES[ink]
        self.update()

    @override
    def setText(self, text: str) -> None:
        # Plain words: an & in a name does not mark an Alt letter.
        super().setText(text)
        self.setAccessibleName(text)
        self.updateGeometry()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.isAutoRepeat():
            self.click()
        else:
            super().keyPressEvent(event)

    @override
    def sizeHint(self) -> QSize:
        metrics = QFontMetricsF(self.font())
        width = ceil(metrics.horizontalAdvance(self.text()))
        return QSize(width, max(SMALLEST_TARGET, ceil(metrics.height())))

    @override
    def minimumSizeHint(self) -> QSize:
        hint = self.sizeHint()
        return QSize(min(40, hint.width()), hint.height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        shown = QFontMetricsF(self.font()).elidedText(
            self.text(), Qt.TextElideMode.ElideRight, self.width() + 1
        )
        painter = QPainter(self)
        painter.setFont(self.font())
        role = self._role if self.isEnabled() else _ROLES[Ink.MUTED]
        painter.setPen(self.palette().color(role))
        painter.drawText(QRectF(self.rect()), Qt.AlignmentFlag.AlignVCenter, shown)


class ElidedLabel(Label):
    """Words that end in "…" where there is no room for all; the tip gives the whole."""

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(40, super().minimumSizeHint().height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        shown = QFontMetricsF(self.font()).elidedText(
            self.text(), Qt.TextElideMode.ElideRight, self.width()
        )
        self.setToolTip(self.text() if shown != self.text() else "")
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(self.palette().color(self.foregroundRole()))
        align = self.alignment() | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(QRectF(self.rect()), align, shown)
