"""A brass ring around whatever has the keyboard."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QWidget
from shiboken6 import isValid
from typing_extensions import override

from planebench.window.tokens import FOCUS_LINE, RADIUS, tokens_now

_GAP = 2
_REACH = _GAP + FOCUS_LINE
_MOVES = (QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.Show, QEvent.Type.Hide)

INSIDE, NONE = "inside", "none"


def ring_inside(widget: QWidget) -> None:
    """Ask for the ring within the widget's edge, for what fills its place to the brim."""
    widget.setProperty("focusRing", INSIDE)


def no_ring(widget: QWidget) -> None:
    """Ask for no ring: the widget shows by itself where the keyboard is."""
    widget.setProperty("focusRing", NONE)


class FocusRing(QObject):
    """Follows the keyboard through the application with one drawn ring a window."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self._watched: list[QWidget] = []
        self._ring: _Ring | None = None
        app.focusChanged.connect(self._focus_moved)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in _MOVES:
            self._place()
        return False

    def _focus_moved(self, _old: QWidget | None, new: QWidget | None) -> None:
        for widget in self._watched:
            if isValid(widget):
                widget.removeEventFilter(self)
        self._watched = _chain(new) if new is not None and _wants_ring(new) else []
        for widget in self._watched:
            widget.installEventFilter(self)
        if self._watched:
            self._place()
        else:
            self._hide()

    def _hide(self) -> None:
        if self._ring is not None and isValid(self._ring):
            self._ring.hide()

    def _place(self) -> None:
        if not self._watched or not isValid(self._watched[0]):
            return
        widget, window = self._watched[0], self._watched[-1]
        if not widget.isVisible():
            self._hide()
            return
        if self._ring is None or not isValid(self._ring) or self._ring.parentWidget() is not window:
            self._hide()
            self._ring = _Ring(window)
        reach = 0 if widget.property("focusRing") == INSIDE else _REACH
        box = _box_in(widget, window).adjusted(-reach, -reach, reach, reach)
        self._ring.setGeometry(box)
        shown = _visible_part(box, self._watched)
        self._ring.setVisible(not shown.isEmpty())
        self._ring.setMask(shown.translated(-box.topLeft()))
        self._ring.raise_()


class _Ring(QWidget):
    """The ring itself: lets the pointer through and never takes the keyboard."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(tokens_now().brass), FOCUS_LINE))
        half = FOCUS_LINE // 2
        around = self.rect().adjusted(half, half, -half, -half)
        painter.drawRoundedRect(around, RADIUS + 2, RADIUS + 2)


def _wants_ring(widget: QWidget) -> bool:
    return widget.property("focusRing") != NONE and not widget.isWindow()


def _chain(widget: QWidget) -> list[QWidget]:
    """Return the widget and all that it stands in, up to its window."""
    chain = [widget]
    while not chain[-1].isWindow():
        above = chain[-1].parentWidget()
        if above is None:
            break
        chain.append(above)
    return chain


def _box_in(widget: QWidget, window: QWidget) -> QRect:
    return QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())


def _visible_part(box: QRect, chain: list[QWidget]) -> QRect:
    """Cut the ring off where a scrolled area above the widget ends."""
    window = chain[-1]
    for above in chain[1:]:
        holder = above.parentWidget()
        if isinstance(holder, QAbstractScrollArea) and holder.viewport() is above:
            box = box.intersected(_box_in(above, window))
    return box
