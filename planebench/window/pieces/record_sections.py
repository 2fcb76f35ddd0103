"""The record of a tool: its seven sections beside a numbered rule."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QAccessible, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.trade.terms import Completeness
from planebench.window.fonts import text_font
from planebench.window.pieces.lines import SectionHeading
from planebench.window.tokens import NOTE, tokens_now


class RecordSection(QWidget):
    """One of the seven in the record: its heading, and a column for what it holds."""

    spoken_role = QAccessible.Role.Section

    def __init__(self, number: int, title: str, record: Record) -> None:
        super().__init__(record)
        self._record = record
        self.number = number
        self.state = Completeness.OPEN
        self.setAccessibleName(f"{number} {title}")
        self._heading = SectionHeading(title)
        self._acts: list[QWidget] = []
        self.column = QVBoxLayout()
        self.column.setSpacing(4)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 20)
        whole.setSpacing(0)
        whole.addWidget(self._heading)
        whole.addLayout(self.column)

    def set_state(self, state: Completeness) -> None:
        """Change how far it is; the number at the edge shows it."""
        self.state = state
        self.setAccessibleDescription(state.value.replace("_", " "))
        self._record.update()

    def set_remark(self, remark: str) -> None:
        """Change the words at the right end of the heading."""
        self._heading.set_remark(remark)

    def add_title_button(self, act: QWidget) -> None:
        """Put an act into the heading, after the title."""
        self._acts.append(act)
        self._heading.add_title_button(act)

    def focus_act(self) -> None:
        """Take the keyboard to the first act of the heading, if there is one."""
        for act in self._acts[:1]:
            act.setFocus()


class Record(QWidget):
    """The record: sections one below another, a numbered rule standing at their left edge."""

    _RULE, _LONG, _SHORT, _STEP, _BOX = 48, 25, 8, 8, 20

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sections: list[RecordSection] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(60, 8, 24, 8)
        self._column.setSpacing(0)
        self._column.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)

    def add_section(self, title: str) -> RecordSection:
        """Add the next section; it is numbered from 1."""
        section = RecordSection(len(self.sections) + 1, title, self)
        self.sections.append(section)
        self._column.insertWidget(self._column.count() - 1, section)
        return section

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if not self.sections:
            return
        tokens = tokens_now()
        painter = QPainter(self)
        top = self.sections[0].y()
        bottom = self.sections[-1].geometry().bottom()
        painter.setPen(QColor(tokens.edge))
        painter.drawLine(self._RULE, top, self._RULE, bottom)
        painter.setPen(QColor(tokens.line))
        for y in range(top + self._STEP, bottom, self._STEP):
            painter.drawLine(self._RULE - self._SHORT, y, self._RULE - 1, y)
        for section in self.sections:
            painter.setPen(QColor(tokens.edge))
            painter.drawLine(self._RULE - self._LONG, section.y(), self._RULE - 1, section.y())
            box = QRectF(15, section.y() + 6, self._BOX, self._BOX)
            paint_number(painter, box, section.number, section.state)


def paint_number(painter: QPainter, box: QRectF, number: int, state: Completeness) -> None:
    """Paint a section's number: ink is complete, hollow is open, rust disagrees."""
    tokens = tokens_now()
    painter.save()
    full = {Completeness.COMPLETE: tokens.ink, Completeness.DISAGREES: tokens.rust}.get(state, "")
    painter.fillRect(box, QColor(full or tokens.ground))
    if not full:
        edge = tokens.ink if state is Completeness.IN_PART else tokens.edge
        painter.setPen(QPen(QColor(edge), 2 if state is Completeness.IN_PART else 1))
        painter.drawRect(box.adjusted(1, 1, -1, -1) if state is Completeness.IN_PART else box)
    painter.setFont(text_font(NOTE, strong=True))
    painter.setPen(QColor(tokens.ground if full else tokens.ink))
    painter.drawText(box.adjusted(0, 0, 0, -1), Qt.AlignmentFlag.AlignCenter, str(number))
    painter.restore()
