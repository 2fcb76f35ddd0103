"""Running work: a graduated bar, its count and Stop."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.pieces.text import Ink, LinkButton, small_label
from planebench.window.tokens import NOTE, tokens_now

_STEPS, _MIDDLE = 20, 10


class ProgressBar(QWidget):
    """How much of a count is done, over a rule; small without the rule."""

    spoken_role = QAccessible.Role.ProgressBar

    def __init__(self, name: str, parent: QWidget | None = None, *, small: bool = False) -> None:
        super().__init__(parent)
        self._name = name
        self._small = small
        self._done, self._total = 0, 0
        if small:
            self.setFixedSize(QSize(160, 8))
        else:
            self.setFixedHeight(28)
            self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_count(0, 0)

    def show_count(self, done: int, total: int) -> None:
        """Show `done` of `total`; a total of 0 is not known yet."""
        self._done, self._total = done, total
        told = f"{done} of {total}" if total else "count not known yet"
        self.setAccessibleName(f"{self._name}: {told}")
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        high = self.height() if self._small else 16
        box = QRectF(0, 0, self.width(), high)
        painter.fillRect(box, QColor(tokens.field))
        share = self._done / self._total if self._total else 0.0
        painter.fillRect(QRectF(0, 0, self.width() * share, high), QColor(tokens.verdigris))
        painter.setPen(QColor(tokens.edge))
        painter.drawRect(box.adjusted(0, 0, -1, -1))
        if self._small:
            return
        for step in range(_STEPS + 1):
            x = round((self.width() - 1) * step / _STEPS)
            painter.setPen(QColor(tokens.ink if step == _MIDDLE else tokens.edge))
            painter.drawLine(x, high + 2, x, high + 8)


class RunningWork(QWidget):
    """Running work in one line: what, bar, Stop.

    Signals: `stop_wanted()`.
    """

    stop_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        self._text = small_label(ink=Ink.INK)
        self._bar = ProgressBar("Running work", small=True)
        self._stop = LinkButton("Stop", size=NOTE, strong=True)
        self._stop.clicked.connect(self.stop_wanted)
        row.addWidget(self._text)
        row.addWidget(self._bar, 0, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self._stop)

    def show_progress(self, text: str, done: int, total: int) -> None:
        """Show what is being done and how far it is; a total of 0 hides the count."""
        self._text.setText(f"{text} {done} of {total}" if total else text)
        self._bar.show_count(done, total)
        self._bar.setVisible(total > 0)
