"""The tool box under a photograph: canvas tools and commands, each with its letter."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.icons import BOX, paint_icon
from planebench.window.pieces.background import Background
from planebench.window.pieces.buttons import key_width, paint_key
from planebench.window.pieces.lines import Rule
from planebench.window.tokens import tokens_now

HEIGHT = 56
_HIGH, _SIDE, _GAP, _FOOT = 36, 8, 8, 3


class ToolBoxEntry(QAbstractButton):
    """One entry: icon, word, letter. The active tool has a brass foot.

    Signals: those of a button.
    """

    def __init__(self, text: str, icon: str, letter: str, *, holds: bool) -> None:
        super().__init__()
        self._icon = icon
        self._letter = letter
        self._short = False
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCheckable(holds)
        self.set_word(text)
        self.setAccessibleDescription(f"key {letter}" if letter else "")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def set_word(self, text: str) -> None:
        """Change the word."""
        self.setText(text)
        self.setAccessibleName(text)
        self.setToolTip(f"{text}, key {self._letter}" if self._letter else text)
        self.updateGeometry()

    def set_short(self, short: bool) -> None:  # noqa: FBT001 (a setter)
        """Leave the word out where there is no room; an icon and its letter stay."""
        self._short = short and bool(self._icon)
        self.updateGeometry()
        self.update()

    def width_with_word(self) -> int:
        """Return the width with the word, in pixels."""
        return self._width(short=False)

    @override
    def sizeHint(self) -> QSize:
        return QSize(self._width(short=self._short), _HIGH)

    @override
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        box = QRectF(self.rect())
        if self.isChecked():
            painter.fillRect(box, QColor(tokens.field))
            painter.setPen(QColor(tokens.brass))
            painter.drawRect(box.adjusted(0, 0, -1, -1))
            painter.fillRect(
                QRectF(0, box.height() - _FOOT, box.width(), _FOOT), QColor(tokens.brass)
            )
        elif self.underMouse() and self.isEnabled():
            painter.fillRect(box, QColor(tokens.chosen))
        ink = tokens.ink if self.isEnabled() else tokens.muted
        left = float(_SIDE)
        if self._icon:
            paint_icon(painter, self._icon, QRectF(left, (_HIGH - BOX) / 2, BOX, BOX), ink)
            left += BOX + _GAP
        if not self._short:
            painter.setFont(text_font())
            painter.setPen(QColor(ink))
            room = QRectF(left, 0, box.width(), _HIGH - 1)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, self.text())
            left += self._word_width() + _GAP
        if self._letter:
            wide = key_width(self._letter)
            paint_key(painter, QRectF(left, 0, wide, _HIGH), self._letter)

    def _word_width(self) -> float:
        return QFontMetricsF(text_font()).horizontalAdvance(self.text())

    def _width(self, *, short: bool) -> int:
        parts = [float(BOX)] if self._icon else []
        if not short:
            parts.append(self._word_width())
        if self._letter:
            parts.append(key_width(self._letter))
        return round(sum(parts) + _GAP * (len(parts) - 1) + 2 * _SIDE)


class ToolBox(Background):
    """The tool box, 56 px high. Where it is narrow, words are left out, the last ones first.

    Signals: `tool_chosen(str)` with the code of a tool; `command_chosen(str)` with the code of
    a command.
    """

    tool_chosen = Signal(str)
    command_chosen = Signal(str)

    def __init__(self, rename: str, parent: QWidget | None = None) -> None:
        super().__init__("panel", parent, ruled=Qt.Edge.TopEdge)
        self.setAccessibleName(rename)
        self.setFixedHeight(HEIGHT)
        self._entries: dict[str, ToolBoxEntry] = {}
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(12, 0, 12, 0)
        self._row.setSpacing(2)

    def add_tool(self, code: str, text: str, icon: str = "", letter: str = "") -> ToolBoxEntry:
        """Add a tool, which stays active until another is chosen."""
        entry = ToolBoxEntry(text, icon, letter, holds=True)
        entry.clicked.connect(lambda: self._choose(code))
        return self._add(code, entry)

    def add_command(self, code: str, text: str, icon: str = "", letter: str = "") -> ToolBoxEntry:
        """Add a command, which is done at once."""
        entry = ToolBoxEntry(text, icon, letter, holds=False)
        entry.clicked.connect(lambda: self.command_chosen.emit(code))
        return self._add(code, entry)

    def add_rule(self) -> None:
        """Add an upright line between groups."""
        rule = Rule(upright=True)
        rule.setFixedHeight(_HIGH)
        self._row.addSpacing(6)
        self._row.addWidget(rule)
        self._row.addSpacing(6)

    def add_stretch(self) -> None:
        """Push what follows to the right end."""
        self._row.addStretch(1)

    @property
    def active(self) -> str:
        """The code of the active tool; empty if there is none."""
        return next((code for code, entry in self._entries.items() if entry.isChecked()), "")

    def select(self, code: str) -> None:
        """Show a tool as active, or none for an empty code; emits no signal."""
        for other, entry in self._entries.items():
            entry.setChecked(other == code)

    def show_entry(self, code: str, *, shown: bool) -> None:
        """Show an entry, or leave it out where it has no use."""
        self._entries[code].setVisible(shown)
        self._fit()

    def rename(self, code: str, text: str) -> None:
        """Change the word of an entry."""
        self._entries[code].set_word(text)
        self._fit()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _add(self, code: str, entry: ToolBoxEntry) -> ToolBoxEntry:
        self._entries[code] = entry
        self._row.addWidget(entry)
        self._fit()
        return entry

    def _choose(self, code: str) -> None:
        self.select(code)
        self.tool_chosen.emit(code)

    def _fit(self) -> None:
        """Leave out as many words as there is no room for, the last first."""
        entries = [entry for entry in self._entries.values() if not entry.isHidden()]
        lacking = sum(entry.width_with_word() + 2 for entry in entries) + 64
        lacking -= self.width()
        for entry in reversed(entries):
            entry.set_short(lacking > 0)
            lacking -= entry.width_with_word() - entry.sizeHint().width()

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(240, HEIGHT)
