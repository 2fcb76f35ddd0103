"""Pages as they will be printed: side by side where there is room, else one at a time."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from PySide6.QtCore import QEvent, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QFrame, QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.pieces.focus_ring import ring_inside
from planebench.window.tokens import tokens_now

_ROUND, _BETWEEN = 16, 24
# In pixels: two Letter pages of 6 pt text are readable from here on, one fills the view below.
_SIDE_BY_SIDE_FROM = 960
_POINTS_PER_INCH = 72
# Dots per inch: few steps, so that a small change of zoom does not draw all pages anew.
_DOTS_STEP, _FEWEST_DOTS, _MOST_DOTS = 12, 36, 288
_STEPS = (0.5, 0.67, 0.8, 1.0, 1.25, 1.5, 2.0, 3.0)
_NEXT = 1.02
"""A step nearer than this, as a ratio, counts as the present zoom."""
_NOTCH = 120
PAGES_KEYS = (
    ("Page Up, Page Down", "previous or next page"),
    ("+ -", "zoom in, zoom out"),
    ("0", "fit the page"),
    ("1", "actual size"),
    ("arrow keys", "scroll"),
)


class PagesView(QAbstractScrollArea):
    """Shows pages until others replace them.

    Signals: `moved()` when other pages or another size are shown; `dots_wanted(int)` when pages
    at that many dots per inch would look sharp; `beyond(int)` -1 or 1 when
    someone turns past an end.
    """

    spoken_role = QAccessible.Role.Document

    moved = Signal()
    dots_wanted = Signal(int)
    beyond = Signal(int)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        ring_inside(self)
        self._pages: tuple[QImage, ...] = ()
        self._points = QSizeF(612, 792)
        self._first = 0
        self._zoom = 0.0
        self._waiting = "Preparing pages…"
        self._dots = 0

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    @property
    def points(self) -> QSizeF:
        """The size of the paper in points."""
        return self._points

    @property
    def shown(self) -> range:
        """The pages that are shown, counted from 0."""
        return range(self._first, min(self._first + self._abreast(), self.count))

    @property
    def scale(self) -> float:
        """The zoom: 1 is as large as on paper, as far as the screen reports its own size."""
        return self._pixels_per_point() * _POINTS_PER_INCH / self.logicalDpiX()

    @property
    def dots(self) -> int:
        """The dots per inch that look sharp at this size."""
        wanted = self._pixels_per_point() * _POINTS_PER_INCH * self.devicePixelRatioF()
        stepped = ceil(wanted / _DOTS_STEP) * _DOTS_STEP
        return min(max(stepped, _FEWEST_DOTS), _MOST_DOTS)

    def show_pages(self, pages: Sequence[QImage], points: QSizeF) -> None:
        """Show pages of a paper size in points; stay at the same page where there is one."""
        self._pages = tuple(pages)
        self._points = points
        self._first = min(self._first, max(0, self.count - 1))
        self._first -= self._first % self._abreast()
        self._settle()

    def set_placeholder(self, text: str) -> None:
        """Set the text shown while there are no pages."""
        self._waiting = text
        self.viewport().update()

    def turn(self, step: int) -> None:
        """Go to the previous (-1) or next (1) pages."""
        to = self._first + step * self._abreast()
        if not 0 <= to < self.count:
            self.beyond.emit(step)
            return
        self.turn_to(to)

    def turn_to(self, page: int) -> None:
        """Go to a page, counted from 0; -1 is the last."""
        page = self.count - 1 if page < 0 else page
        self._first = max(0, page - page % self._abreast())
        self.verticalScrollBar().setValue(0)
        self._settle()

    def fit_pages(self) -> None:
        """Fit whole pages into the view."""
        self._zoom_to(0.0)

    def actual_size(self) -> None:
        """Show pages as large as on paper."""
        self._zoom_to(1.0)

    def zoom(self, step: int) -> None:
        """Zoom in a step (1) or out (-1), no further out than whole pages."""
        if step > 0:
            self._zoom_in()
        elif step < 0:
            self._zoom_out()

    def _zoom_in(self) -> None:
        larger = next((one for one in _STEPS if one > self.scale * _NEXT), None)
        if larger is not None:
            self._zoom_to(larger)

    def _zoom_out(self) -> None:
        smaller = max((one for one in _STEPS if one < self.scale / _NEXT), default=0.0)
        whole = self._whole() * _POINTS_PER_INCH / self.logicalDpiX()
        self._zoom_to(smaller if smaller > whole else 0.0)

    def _zoom_to(self, zoom: float) -> None:
        self._zoom = zoom
        self._settle()

    def _abreast(self) -> int:
        return 2 if self.viewport().width() >= _SIDE_BY_SIDE_FROM else 1

    def _columns(self) -> int:
        return max(1, min(self._abreast(), self.count))

    def _whole(self) -> float:
        """Return the pixels per point at which the pages fit."""
        room, across = self.maximumViewportSize(), self._columns()
        wide = room.width() - 2 * _ROUND - (across - 1) * _BETWEEN
        high = room.height() - 2 * _ROUND
        fits = min(wide / (across * self._points.width()), high / self._points.height())
        return max(fits, 0.1)

    def _pixels_per_point(self) -> float:
        if not self._zoom:
            return self._whole()
        return self._zoom * self.logicalDpiX() / _POINTS_PER_INCH

    def _ground(self) -> QSizeF:
        """Return the size in pixels of all that is shown, with its margin."""
        scale, across = self._pixels_per_point(), self._columns()
        wide = across * self._points.width() * scale + (across - 1) * _BETWEEN
        return QSizeF(wide + 2 * _ROUND, self._points.height() * scale + 2 * _ROUND)

    def _settle(self) -> None:
        ground, room = self._ground(), self.viewport().size()
        for bar, whole, part in (
            (self.horizontalScrollBar(), ground.width(), room.width()),
            (self.verticalScrollBar(), ground.height(), room.height()),
        ):
            bar.setPageStep(part)
            bar.setSingleStep(32)
            bar.setRange(0, max(0, round(whole - part)) if self._zoom else 0)
        self.viewport().update()
        self.moved.emit()
        if self.dots != self._dots:
            self._dots = self.dots
            self.dots_wanted.emit(self._dots)

    def _boxes(self) -> list[tuple[int, QRectF]]:
        scale, ground, room = self._pixels_per_point(), self._ground(), self.viewport().size()
        left = max(0.0, (room.width() - ground.width()) / 2) + _ROUND
        top = max(0.0, (room.height() - ground.height()) / 2) + _ROUND
        left -= self.horizontalScrollBar().value()
        top -= self.verticalScrollBar().value()
        size = self._points * scale
        step = size.width() + _BETWEEN
        return [
            (page, QRectF(round(left + place * step), round(top), size.width(), size.height()))
            for place, page in enumerate(self.shown)
        ]

    @override
    def sizeHint(self) -> QSize:
        return QSize(640, 480)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._first -= self._first % self._abreast()
        self._settle()

    @override
    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.DevicePixelRatioChange:
            self._settle()
        return super().viewportEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.viewport().rect(), QColor(tokens.panel))
        for page, box in self._boxes():
            painter.drawImage(box, self._pages[page])
            painter.setPen(QColor(tokens.edge))
            painter.drawRect(box.adjusted(-0.5, -0.5, 0.5, 0.5))
        if not self._pages:
            painter.setFont(text_font())
            painter.setPen(QColor(tokens.muted))
            painter.drawText(self.viewport().rect(), Qt.AlignmentFlag.AlignCenter, self._waiting)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        actions = {
            Qt.Key.Key_PageDown: lambda: self.turn(1),
            Qt.Key.Key_PageUp: lambda: self.turn(-1),
            Qt.Key.Key_Home: lambda: self.turn_to(0),
            Qt.Key.Key_End: lambda: self.turn_to(-1),
            Qt.Key.Key_Plus: lambda: self.zoom(1),
            Qt.Key.Key_Equal: lambda: self.zoom(1),
            Qt.Key.Key_Minus: lambda: self.zoom(-1),
            Qt.Key.Key_0: self.fit_pages,
            Qt.Key.Key_1: self.actual_size,
        }
        action = actions.get(Qt.Key(event.key()))
        plain = not event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if action is not None and plain:
            action()
        else:
            super().keyPressEvent(event)

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        turned = event.angleDelta().y()
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.zoom(1 if turned > 0 else -1)
        elif not self.verticalScrollBar().maximum() and abs(turned) >= _NOTCH:
            self.turn(-1 if turned > 0 else 1)
        else:
            super().wheelEvent(event)
