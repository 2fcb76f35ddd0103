"""Buttons: one that does something, and a switch of several of which one is on."""

from __future__ import annotations

from enum import Enum
from typing import TypedDict

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget
from typing_extensions import Unpack, override

from planebench.window.fonts import text_font
from planebench.window.icons import BOX, paint_icon
from planebench.window.tokens import CONTROL_HEIGHT, NOTE, RADIUS, TEXT, Tokens, tokens_now

_SIDE, _GAP = 12, 8


class ButtonWeight(Enum):
    """How much a button stands out: at most one MAIN per screen."""

    NORMAL = "normal"
    MAIN = "main"
    QUIET = "quiet"


class ButtonLook(TypedDict, total=False):
    """How a button looks: its weight, an icon by name, and the key that does the same."""

    weight: ButtonWeight
    icon: str
    key: str


class ActionButton(QAbstractButton):
    """A button with words, and an icon and its key where wanted.

    `set_disabled_reason(reason)` turns it off and says why; `set_busy("Judging")` shows running
    work.
    Signals: those of a button, `clicked()` above all.
    """

    def __init__(
        self, text: str, parent: QWidget | None = None, **look: Unpack[ButtonLook]
    ) -> None:
        super().__init__(parent)
        self._weight = look.get("weight", ButtonWeight.NORMAL)
        self._icon = look.get("icon", "")
        self._key = look.get("key", "")
        self._busy = ""
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setText(text)
        self.setAccessibleName(text)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        if enter and not event.isAutoRepeat():
            # Qt presses buttons by Space alone; in a form, Enter would go to the form instead.
            self.click()
        else:
            super().keyPressEvent(event)

    def set_words(self, text: str) -> None:
        """Change the words."""
        self.setText(text)
        self.setAccessibleName(text)
        self.updateGeometry()

    def set_weight(self, weight: ButtonWeight) -> None:
        """Change how much it stands out."""
        self._weight = weight
        self.updateGeometry()
        self.update()

    def set_disabled_reason(self, reason: str) -> None:
        """Turn the button off and say why in its tip; an empty reason turns it on."""
        self.setEnabled(not reason)
        self.setToolTip(reason)
        self.setAccessibleDescription(reason)

    def set_busy(self, doing: str) -> None:
        """Show what is being done in place of the words; empty when it is over."""
        self._busy = f"{doing}…" if doing else ""
        self.setEnabled(not doing)
        self.updateGeometry()
        self.update()

    @override
    def sizeHint(self) -> QSize:
        width = QFontMetricsF(self._font()).horizontalAdvance(self._shown())
        width += (BOX + _GAP if self._icon else 0) + 2 * _SIDE
        if self._key:
            width += _GAP + key_width(self._key)
        return QSize(round(width), CONTROL_HEIGHT)

    @override
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tokens = tokens_now()
        ground, edge, ink = self._colors(tokens)
        painter.setPen(QPen(QColor(edge), 1, self._edge_line()) if edge else Qt.PenStyle.NoPen)
        painter.setBrush(QColor(ground) if ground else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        self._paint_words(painter, ink, plain_key=self._weight is ButtonWeight.MAIN)

    def _paint_words(self, painter: QPainter, ink: str, *, plain_key: bool) -> None:
        font = self._font()
        wide = QFontMetricsF(font).horizontalAdvance(self._shown())
        used = self.sizeHint().width() - 2 * _SIDE
        left = (self.width() - used) / 2
        if self._icon:
            paint_icon(painter, self._icon, QRectF(left, (self.height() - BOX) / 2, BOX, BOX), ink)
            left += BOX + _GAP
        painter.setFont(font)
        painter.setPen(QColor(ink))
        box = QRectF(left, 0, wide + 1, self.height() - 1)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, self._shown())
        if self._key:
            place = QRectF(left + wide + _GAP, 0, key_width(self._key), self.height())
            paint_key(painter, place, self._key, ink if plain_key else "")

    def _shown(self) -> str:
        return self._busy or self.text()

    def _font(self) -> QFont:
        return text_font(TEXT, strong=self._weight is ButtonWeight.MAIN)

    def _edge_line(self) -> Qt.PenStyle:
        return Qt.PenStyle.SolidLine if self._on() else Qt.PenStyle.DashLine

    def _on(self) -> bool:
        return self.isEnabled() or bool(self._busy)

    def _colors(self, tokens: Tokens) -> tuple[str, str, str]:
        """Return ground, edge and ink; empty where there is none."""
        if not self.isEnabled():
            return (tokens.field if self._busy else "", tokens.edge, tokens.muted)
        if self.isDown() or self.isChecked():
            return (tokens.ink, tokens.ink, tokens.ground)
        at_rest = {
            ButtonWeight.NORMAL: (tokens.field, tokens.edge, tokens.ink),
            ButtonWeight.QUIET: ("", "", tokens.brass),
            ButtonWeight.MAIN: (tokens.brass, tokens.brass, tokens.ground),
        }
        pointed = {
            ButtonWeight.NORMAL: (tokens.chosen, tokens.edge, tokens.ink),
            ButtonWeight.QUIET: (tokens.chosen, "", tokens.brass),
            ButtonWeight.MAIN: (tokens.brass, tokens.ink, tokens.ground),
        }
        return (pointed if self.underMouse() else at_rest)[self._weight]


class SegmentedSwitch(QWidget):
    """Two or more choices side by side, one of which is on; arrow keys move between them.

    Signals: `chosen(str)` with the key of the choice, when a person changes it.
    """

    spoken_role = QAccessible.Role.Grouping

    chosen = Signal(str)

    def __init__(
        self, name: str, choices: dict[str, str], parent: QWidget | None = None, *, holds: str = ""
    ) -> None:
        """`choices` maps each key to its words."""
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self._acts: dict[str, ActionButton] = {}
        for key, text in choices.items():
            act = ActionButton(text, self)
            act.setAccessibleName(f"{name}: {text}")
            act.setCheckable(True)
            act.setAutoExclusive(True)
            act.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            act.clicked.connect(self._clicked)
            row.addWidget(act)
            self._acts[key] = act
        self.hold(holds or next(iter(choices)))

    @property
    def held(self) -> str:
        """The key of the choice that is on."""
        return next(key for key, act in self._acts.items() if act.isChecked())

    def hold(self, key: str) -> None:
        """Turn a choice on, without a signal."""
        self._acts[key].setChecked(True)

    def _clicked(self) -> None:
        self.chosen.emit(self.held)


def key_width(key: str) -> float:
    """Return the width of a key's box in pixels."""
    return max(16.0, QFontMetricsF(text_font(NOTE)).horizontalAdvance(key) + 8)


def paint_key(painter: QPainter, place: QRectF, key: str, ink: str = "") -> None:
    """Paint a key's name in its box, in the middle of `place`; plain if `ink` is given."""
    tokens = tokens_now()
    painter.setFont(text_font(NOTE))
    if not ink:
        box = QRectF(place.left(), place.center().y() - 9, place.width(), 18)
        painter.setPen(QPen(QColor(tokens.line), 1))
        painter.setBrush(QColor(tokens.panel))
        painter.drawRoundedRect(box.adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
    painter.setPen(QColor(ink or tokens.muted))
    painter.drawText(place.adjusted(0, 0, 0, -1), Qt.AlignmentFlag.AlignCenter, key)
