"""The seven sections of a tool’s record, as a rule with seven graduations."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.trade.progress import SECTIONS as SEVEN
from planebench.trade.terms import Completeness
from planebench.window.pieces.hatching import Hatch, paint_hatched
from planebench.window.tokens import tokens_now

CELL = 16
_HIGH, _FOOT = 12, 4


def paint_rule(
    painter: QPainter, at: QPointF, states: Sequence[Completeness], cell: int = CELL
) -> None:
    """Paint the flat rule with its upper left corner at `at`; it is 17 px high."""
    tokens = tokens_now()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # noqa: FBT003 (Qt's own call)
    x, y = round(at.x()), round(at.y())
    for number, state in enumerate(states):
        box = QRectF(x + number * cell, y, cell, _HIGH)
        if state is Completeness.IN_PART:
            painter.fillRect(box, QColor(tokens.field))
            paint_hatched(painter, box, Hatch.NOT_ORIGINAL)
            continue
        fills = {Completeness.COMPLETE: tokens.ink, Completeness.DISAGREES: tokens.rust}
        painter.fillRect(box, QColor(fills.get(state, tokens.field)))
    painter.setPen(QPen(QColor(tokens.edge), 1))
    wide = len(states) * cell
    painter.drawRect(QRectF(x, y, wide, _HIGH))
    for number in range(len(states) + 1):
        left = x + number * cell
        painter.drawLine(QPointF(left, y), QPointF(left, y + _HIGH + _FOOT))
    painter.restore()


class RuleOfSeven(QWidget):
    """The flat rule for a row; `show_states` takes seven states in the order of SEVEN."""

    def __init__(self, parent: QWidget | None = None, *, cell: int = CELL) -> None:
        super().__init__(parent)
        self._cell = cell
        self._states: tuple[Completeness, ...] = (Completeness.OPEN,) * 7
        self.setFixedSize(QSize(7 * cell + 1, _HIGH + _FOOT + 1))
        self.show_states(self._states)

    def show_states(self, states: Sequence[Completeness]) -> None:
        """Show how far each of the seven is."""
        self._states = tuple(states)
        self.setAccessibleName(describe_completeness(states))
        self.setToolTip(describe_completeness(states))
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        paint_rule(QPainter(self), QPointF(0, 0), self._states, self._cell)


def describe_completeness(states: Sequence[Completeness]) -> str:
    """Return in words how complete the seven sections are."""
    known = sum(state is Completeness.COMPLETE for state in states)
    rest = [
        f"{name.lower()} {state.value.replace('_', ' ')}"
        for name, state in zip(SEVEN, states, strict=True)
        if state is not Completeness.COMPLETE
    ]
    return ", ".join([f"{known} of 7 recorded", *rest])
