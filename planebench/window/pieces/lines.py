"""Headings, rules, messages and marks around text."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.window.icons import BOX, paint_icon
from planebench.window.pieces.text import ElidedLabel, Ink, Label, heading
from planebench.window.tokens import NOTE, NOTE_BAR, tokens_now

# The icon of each basis and its usual word.
BASES = {
    "measured": "measured",
    "counted": "counted",
    "read-off": "read off",
    "by-eye": "by eye",
    "told": "told",
}


_BASELINE = Qt.AlignmentFlag.AlignBaseline
_AFTER_BUTTONS = 2  # the stretch and the remark


class SectionHeading(QWidget):
    """A section's title above which runs a rule, with a remark at its right end."""

    def __init__(
        self, title: str, remark: str = "", parent: QWidget | None = None, *, ruled: bool = True
    ) -> None:
        super().__init__(parent)
        self._ruled = ruled
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 4, 0, 4)
        row.setSpacing(4)
        self._title = heading(title)
        self._remark = ElidedLabel(remark, size=NOTE, ink=Ink.MUTED)
        row.addWidget(self._title, 0, Qt.AlignmentFlag.AlignBaseline)
        row.addStretch(1)
        row.addWidget(self._remark, 0, Qt.AlignmentFlag.AlignBaseline)
        self._row = row
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def add_title_button(self, act: QWidget) -> None:
        """Add a button after the title and after those added before."""
        self._row.insertWidget(self._row.count() - _AFTER_BUTTONS, act, 0, _BASELINE)

    def set_remark(self, remark: str) -> None:
        """Change the remark."""
        self._remark.setText(remark)

    def set_title(self, title: str) -> None:
        """Change the title."""
        self._title.setText(title)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self._ruled:
            painter = QPainter(self)
            painter.fillRect(QRect(0, 0, self.width(), 1), QColor(tokens_now().line))


class Rule(QWidget):
    """A line between rows: `strong` in the color of edges."""

    def __init__(
        self, parent: QWidget | None = None, *, strong: bool = False, upright: bool = False
    ) -> None:
        super().__init__(parent)
        self._strong = strong
        if upright:
            self.setFixedWidth(1)
        else:
            self.setFixedHeight(1)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.edge if self._strong else tokens.line))


class MessageNote(QWidget):
    """A sentence beside a bar: brass for advice, rust for trouble.

    `add_below(widget)` adds buttons or rows below the words.
    """

    spoken_role = QAccessible.Role.Note

    def __init__(
        self,
        text: str = "",
        title: str = "",
        parent: QWidget | None = None,
        *,
        trouble: bool = False,
    ) -> None:
        super().__init__(parent)
        self._trouble = trouble
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(16, 0, 0, 0)
        self._column.setSpacing(0)
        self._title = Label(strong=True).wrapped()
        self._text = Label().wrapped()
        self._column.addWidget(self._title)
        self._column.addWidget(self._text)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.show_message(text, title, trouble=trouble)

    def show_message(self, text: str, title: str = "", *, trouble: bool = False) -> None:
        """Change the words and whether they report trouble."""
        self._trouble = trouble
        self._title.setText(title)
        self._title.set_ink(Ink.RUST if trouble else Ink.INK)
        self._title.setVisible(bool(title))
        self._text.setText(text)
        self._text.setVisible(bool(text))
        self.setAccessibleName(f"{'Trouble' if trouble else 'Advice'}: {title} {text}".strip())
        self.update()

    def add_below(self, widget: QWidget) -> None:
        """Add a widget below the words."""
        if self._column.count() == _WORDS_ONLY:
            self._column.addSpacing(8)
        self._column.addWidget(widget)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        color = tokens.rust if self._trouble else tokens.brass
        painter.fillRect(QRect(0, 0, NOTE_BAR, self.height()), QColor(color))


_WORDS_ONLY = 2


class AmountRow(QWidget):
    """A label and an amount on one line over a rule: a purchase, a cost, a fact."""

    def __init__(
        self, label: str, amount: str, *, strong: bool = False, ink: Ink = Ink.INK
    ) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 3)
        self._label = Label(label, strong=strong, ink=Ink.INK if strong else Ink.MUTED)
        self._amount = Label(amount, ink=ink)
        row.addWidget(self._label, 1)
        row.addWidget(self._amount)
        self.setFixedHeight(25)
        self.setAccessibleName(f"{label}: {amount}")

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(QRect(0, self.height() - 1, self.width(), 1), QColor(tokens_now().line))


class IconMark(QWidget):
    """An icon beside words; never read aloud alone."""

    def __init__(
        self, icon: str, parent: QWidget | None = None, *, ink: Ink = Ink.INK, size: int = BOX
    ) -> None:
        super().__init__(parent)
        self._icon = icon
        self._ink = ink
        self.setFixedSize(QSize(size, size))

    def set_icon(self, icon: str, ink: Ink | None = None) -> None:
        """Change the icon, and its color if given."""
        self._icon = icon
        self._ink = ink or self._ink
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self._icon:
            color = self._ink.color(tokens_now())
            paint_icon(QPainter(self), self._icon, QRectF(self.rect()), color)


class BasisMark(QWidget):
    """How a figure is known: its icon and its word, small and muted."""

    def __init__(self, basis: str = "", word: str = "", parent: QWidget | None = None) -> None:
        """`basis` is one of BASES (or of the trade's codes) or empty; `word` replaces its word."""
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        self._mark = IconMark("", ink=Ink.MUTED, size=16)
        self._word = ElidedLabel(size=NOTE, ink=Ink.MUTED)
        row.addWidget(self._mark)
        row.addWidget(self._word)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.show_basis(basis, word)

    def show_basis(self, basis: str, word: str = "") -> None:
        """Change the basis."""
        known = basis.replace("_", "-")
        self._mark.set_icon(known)
        self._mark.setVisible(bool(known))
        self._word.setText(word or BASES.get(known, ""))
        self.setAccessibleName(f"Basis: {self._word.text()}" if self._word.text() else "")
