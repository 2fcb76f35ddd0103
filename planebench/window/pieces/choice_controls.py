"""Choices: a drop-down, a check box, and a count that is a switch."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QListView, QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.tokens import CONTROL_HEIGHT, NOTE, RADIUS, TEXT, tokens_now

_ARROW = 32
_BOX, _BESIDE = 16, 12


class DropDown(QComboBox):
    """One of several, opened by pointer, Space or Alt+Down.

    Signals: `chosen(str)` with the key of the choice, when a person changes it.
    """

    chosen = Signal(str)

    def __init__(
        self,
        name: str,
        choices: Iterable[tuple[str, str]] = (),
        parent: QWidget | None = None,
        *,
        holds: str = "",
    ) -> None:
        """`choices` are pairs of a key and its words."""
        self._spoken: QLabel | None = None
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setView(QListView(self))
        self.view().setAccessibleName(name)
        self.setFixedHeight(CONTROL_HEIGHT)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.offer(choices, holds=holds)
        self.activated.connect(self._activated)
        self._add_spoken_label()

    def offer(self, choices: Iterable[tuple[str, str]], *, holds: str = "") -> None:
        """Change what can be chosen, without a signal."""
        self.clear()
        for key, text in choices:
            self.addItem(text, key)
        self.hold(holds)

    @property
    def held(self) -> str:
        """The key of the current choice; empty if there is none."""
        return str(self.currentData() or "")

    def hold(self, key: str) -> None:
        """Make a choice current, without a signal."""
        self.setCurrentIndex(self.findData(key))

    @override
    def event(self, event: QEvent) -> bool:
        # A digit or letter is for the list, not for the screen's shortcut of the same key.
        if event.type() is QEvent.Type.ShortcutOverride and _is_typing(event):
            event.accept()
            return True
        return super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if _is_typing(event):
            # Qt would change the choice at once; so the list opens at the match instead.
            self.showPopup()
            self.view().keyboardSearch(event.text())
        else:
            super().keyPressEvent(event)

    @override
    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.ParentChange:
            self._add_spoken_label()

    def _add_spoken_label(self) -> None:
        """Have the name spoken: on Linux screen readers take it from a label beside the list."""
        beside = self.parentWidget()
        if self._spoken is not None:
            self._spoken.deleteLater()
            self._spoken = None
        if beside is not None:
            self._spoken = QLabel(self.accessibleName(), beside)
            self._spoken.setBuddy(self)
            self._spoken.hide()

    def _activated(self, _row: int) -> None:
        self.chosen.emit(self.held)

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        # A wheel that scrolls the record must not change what is written in it.
        event.ignore()

    @override
    def sizeHint(self) -> QSize:
        measure = QFontMetricsF(text_font())
        texts = [self.itemText(row) for row in range(self.count())]
        widest = max((measure.horizontalAdvance(text) for text in texts), default=64.0)
        return QSize(round(widest) + 12 + _ARROW, CONTROL_HEIGHT)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(64, CONTROL_HEIGHT)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        on = self.isEnabled()
        painter.setPen(
            QPen(QColor(tokens.edge), 1, Qt.PenStyle.SolidLine if on else Qt.PenStyle.DashLine)
        )
        pointed = on and self.underMouse()
        painter.setBrush(
            QColor(tokens.chosen if pointed else tokens.field) if on else QColor(0, 0, 0, 0)
        )
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        painter.setFont(text_font())
        painter.setPen(QColor(tokens.ink if on else tokens.muted))
        room = QRectF(12, 0, self.width() - 12 - _ARROW + 4, self.height() - 1)
        shown = QFontMetricsF(text_font()).elidedText(
            self.currentText() or self.placeholderText(), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, shown)
        middle = QPointF(self.width() - 17, self.height() / 2 + 2)
        painter.setPen(QPen(QColor(tokens.ink if on else tokens.muted), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF([middle + QPointF(-4, -4), middle, middle + QPointF(4, -4)]))


def _is_typing(event: QEvent) -> bool:
    """Return whether a key event is a printed character without Ctrl or Alt."""
    if not isinstance(event, QKeyEvent):
        return False
    held = event.modifiers() & ~(
        Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
    )
    return not held and event.text().isprintable() and bool(event.text().strip())


class CheckBox(QAbstractButton):
    """A box that is on or off, its words, and a remark at the right end.

    Signals: those of a button: `toggled(bool)`, `clicked(bool)`.
    """

    def __init__(
        self, text: str, parent: QWidget | None = None, *, on: bool = False, remark: str = ""
    ) -> None:
        super().__init__(parent)
        self.setCheckable(True)
        self.setChecked(on)
        self.setText(text)
        self.setAccessibleName(text)
        self._remark = ""
        self.set_remark(remark)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def set_remark(self, remark: str) -> None:
        """Change the remark."""
        self._remark = remark
        self.setAccessibleDescription(remark)
        self.updateGeometry()
        self.update()

    def set_fixed_on(self, reason: str) -> None:
        """Switch it on for good and say why in its tip."""
        self.setChecked(True)
        self.setEnabled(False)
        self.setToolTip(reason)

    @override
    def sizeHint(self) -> QSize:
        width = QFontMetricsF(text_font()).horizontalAdvance(self.text()) + _BOX + _BESIDE + 4
        if self._remark:
            width += 16 + QFontMetricsF(text_font(NOTE)).horizontalAdvance(self._remark)
        return QSize(round(width), 28)

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(_BOX + _BESIDE + 40, 28)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(0.5, (self.height() - _BOX) / 2 + 0.5, _BOX - 1, _BOX - 1)
        pointed = self.underMouse() and self.isEnabled()
        paint_check(painter, box, on=self.isChecked(), pointed=pointed, live=self.isEnabled())
        painter.setFont(text_font(NOTE))
        painter.setPen(QColor(tokens.muted))
        whole = QRectF(self.rect()).adjusted(0, 0, 0, -1)
        painter.drawText(
            whole, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, self._remark
        )
        painter.setFont(text_font())
        painter.setPen(QColor(tokens.ink))
        painter.drawText(
            whole.adjusted(_BOX + _BESIDE, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self.text()
        )


def paint_check(
    painter: QPainter, box: QRectF, *, on: bool, pointed: bool = False, live: bool = True
) -> None:
    """Paint the box of a check box with its tick."""
    tokens = tokens_now()
    line = Qt.PenStyle.SolidLine if live else Qt.PenStyle.DashLine
    painter.setPen(QPen(QColor(tokens.edge), 1, line))
    painter.setBrush(QColor(tokens.chosen if pointed else tokens.field))
    painter.drawRect(box)
    if on:
        painter.setPen(QPen(QColor(tokens.ink if live else tokens.muted), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        at = box.topLeft()
        tick = [QPointF(3.5, 7.5), QPointF(6.5, 10.5), QPointF(12, 4.5)]
        painter.drawPolyline(QPolygonF([at + point for point in tick]))


class CountSwitch(QAbstractButton):
    """A count of what is missing that narrows the list while it is on.

    Signals: those of a button: `toggled(bool)`.
    """

    def __init__(self, count: int, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._count = count
        self._words = text
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.set_count(count)

    def set_count(self, count: int) -> None:
        """Change the count."""
        self._count = count
        self.setAccessibleName(f"{count} {self._words}")
        self.updateGeometry()
        self.update()

    @override
    def sizeHint(self) -> QSize:
        count, text = self._measures()
        return QSize(round(count + 4 + text + 16), 28)

    @override
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        held = self.isChecked() or self.isDown()
        ground = tokens.ink if held else tokens.chosen if self.underMouse() else tokens.field
        painter.setPen(QPen(QColor(tokens.ink if held else tokens.edge), 1))
        painter.setBrush(QColor(ground))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        wide, _ = self._measures()
        room = QRectF(self.rect()).adjusted(8, 0, 0, -1)
        painter.setFont(text_font(TEXT, strong=True))
        painter.setPen(
            QColor(tokens.ground if held else tokens.rust if self._count else tokens.muted)
        )
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, str(self._count))
        painter.setFont(text_font())
        painter.setPen(QColor(tokens.ground if held else tokens.ink))
        painter.drawText(
            room.adjusted(wide + 4, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, self._words
        )

    def _measures(self) -> tuple[float, float]:
        count = QFontMetricsF(text_font(TEXT, strong=True)).horizontalAdvance(str(self._count))
        return count, QFontMetricsF(text_font()).horizontalAdvance(self._words)
