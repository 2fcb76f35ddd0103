"""Hatching: what an area is, shown by lines and not by color alone."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QAccessible,
    QBrush,
    QColor,
    QImage,
    QPainter,
    QPaintEvent,
    QPen,
    QTransform,
)
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.pieces.text import Label
from planebench.window.tokens import NOTE, ON_PHOTOGRAPH, Tokens, tokens_now


class Hatch(Enum):
    """What an area is; the value is the word shown for it."""

    KEPT = "kept"
    LOST = "lost"
    CANNOT_TELL = "can’t tell"
    PATINA = "patina"
    NEW_FINISH = "new finish over a loss"
    NOT_ORIGINAL = "not original to it"
    NOT_SEEN = "not seen"
    MISSING = "missing"
    SEEN = "seen"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pattern:
    """Lines or dots: `step` and `line` in screen pixels, `angle` in degrees against level."""

    step: int
    angle: float
    line: float
    crossed: bool = False
    dots: bool = False


_PATTERNS = {
    Hatch.KEPT: _Pattern(step=6, angle=-45, line=1.5),
    Hatch.LOST: _Pattern(step=6, angle=-45, line=1.5, crossed=True),
    Hatch.CANNOT_TELL: _Pattern(step=6, angle=0, line=1.7, dots=True),
    Hatch.PATINA: _Pattern(step=5, angle=90, line=1.5),
    Hatch.NEW_FINISH: _Pattern(step=3, angle=0, line=1.4),
    Hatch.NOT_ORIGINAL: _Pattern(step=4, angle=-60, line=1.2),
}
# On a photograph the lines for kept finish are farther apart, so that the finish shows through.
_ON_PHOTOGRAPH = {
    Hatch.KEPT: _Pattern(step=9, angle=-45, line=1.5),
    Hatch.LOST: _Pattern(step=6, angle=-45, line=1.2, crossed=True),
    Hatch.CANNOT_TELL: _Pattern(step=6, angle=0, line=2.4, dots=True),
    Hatch.PATINA: _Pattern(step=7, angle=90, line=1.5),
    Hatch.NEW_FINISH: _Pattern(step=6, angle=0, line=1.5),
}
# Tiles are drawn larger and shrunk, so that they stay sharp where a pixel has several dots.
_FINE = 4


def hatch_color(hatch: Hatch, tokens: Tokens) -> str:
    """Return the color of a hatch's lines in a theme."""
    return {
        Hatch.KEPT: tokens.verdigris,
        Hatch.LOST: tokens.rust,
        Hatch.CANNOT_TELL: tokens.muted,
        Hatch.PATINA: tokens.brass,
        Hatch.NEW_FINISH: tokens.brass,
    }.get(hatch, tokens.ink)


def hatch_brush(hatch: Hatch, color: str = "", *, zoom: float = 1.0) -> QBrush:
    """Return the brush for an area in the theme in force.

    `zoom` is how much the painter enlarges: the hatching keeps its step on the screen.
    """
    if hatch in {Hatch.NOT_SEEN, Hatch.MISSING}:
        return QBrush(Qt.BrushStyle.NoBrush)
    shown = color or hatch_color(hatch, tokens_now())
    if hatch is Hatch.SEEN:
        return QBrush(QColor(shown))
    return _brush(_PATTERNS[hatch], shown, zoom)


def photo_brushes(hatch: Hatch, *, zoom: float = 1.0) -> tuple[QBrush, ...]:
    """Return the brushes to paint one over another on a photograph, the same in both themes."""
    lines = {
        Hatch.KEPT: ON_PHOTOGRAPH.kept,
        Hatch.LOST: ON_PHOTOGRAPH.lost,
        Hatch.CANNOT_TELL: ON_PHOTOGRAPH.cannot_tell,
        Hatch.PATINA: ON_PHOTOGRAPH.outline,
        Hatch.NEW_FINISH: ON_PHOTOGRAPH.outline,
    }
    grounds = {
        Hatch.LOST: (ON_PHOTOGRAPH.lost_ground, 0.72),
        Hatch.CANNOT_TELL: (ON_PHOTOGRAPH.shade, 0.35),
        Hatch.PATINA: (ON_PHOTOGRAPH.shade, 0.35),
        Hatch.NEW_FINISH: (ON_PHOTOGRAPH.shade, 0.35),
    }
    brushes: list[QBrush] = []
    if hatch in grounds:
        color, share = grounds[hatch]
        ground = QColor(color)
        ground.setAlphaF(share)
        brushes.append(QBrush(ground))
    brushes.append(_brush(_ON_PHOTOGRAPH[hatch], lines[hatch], zoom))
    return tuple(brushes)


def paint_hatched(painter: QPainter, box: QRectF, hatch: Hatch, *, edge: str = "") -> None:
    """Paint a hatched box with its edge: dashed for what was not seen, crossed for what is gone."""
    tokens = tokens_now()
    dashed = hatch is Hatch.NOT_SEEN
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.setBrushOrigin(box.topLeft())
    painter.fillRect(box, hatch_brush(hatch))
    open_box = hatch in {Hatch.NOT_SEEN, Hatch.MISSING}
    pen = QPen(QColor(edge or (tokens.ink if open_box else tokens.edge)), 1)
    if dashed:
        pen.setDashPattern([3, 3])
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # noqa: FBT003 (Qt's own call)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box.adjusted(0, 0, -1, -1))
    if hatch is Hatch.MISSING:
        painter.drawLine(box.topLeft(), box.bottomRight() - QPointF(1, 1))
        painter.drawLine(box.bottomLeft() - QPointF(0, 1), box.topRight() - QPointF(1, 0))
    painter.restore()


class HatchSwatch(QWidget):
    """A small hatched box, to stand before the word that it explains."""

    def __init__(
        self, hatch: Hatch, parent: QWidget | None = None, *, size: QSize | None = None
    ) -> None:
        super().__init__(parent)
        self._hatch = hatch
        self.setFixedSize(size or QSize(20, 12))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        paint_hatched(QPainter(self), QRectF(self.rect()), self._hatch)


_ALL = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaPart:
    """A part of an area: `share` 0 to 1 and the word beneath it."""

    hatch: Hatch
    share: float
    word: str


class AreaBar(QWidget):
    """A whole area as one bar, each part hatched, with its word and share beneath."""

    spoken_role = QAccessible.Role.Graphic

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._parts: tuple[AreaPart, ...] = ()
        self.setFixedHeight(40)
        self.show_parts(())

    def show_parts(self, parts: tuple[AreaPart, ...]) -> None:
        """Show the parts from left to right; their shares sum to 1 at most."""
        self._parts = parts
        told = ", ".join(_told(part) for part in parts) or "not measured"
        self.setAccessibleName(f"{self._name}: {told}")
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        tokens = tokens_now()
        whole = QRectF(0, 0, self.width(), 18)
        left, text_end = 0.0, 0.0
        measure = self.fontMetrics()
        painter.setPen(QColor(tokens.ink))
        right_room = sum(measure.horizontalAdvance(_told(part)) + 12 for part in self._parts)
        for part in self._parts:
            wide = whole.width() * part.share
            paint_hatched(painter, QRectF(left, 0, wide, 18), part.hatch)
            text_wide = measure.horizontalAdvance(_told(part)) + 12
            start = min(max(left, text_end), self.width() - right_room + 12)
            painter.setPen(QColor(tokens.ink))
            painter.drawText(QPointF(start, 34), _told(part))
            right_room -= text_wide
            text_end = start + text_wide
            left += wide
        painter.setPen(QColor(tokens.edge))
        painter.drawRect(whole.adjusted(0, 0, -1, -1))


class HatchKey(QWidget):
    """The meaning of a hatch: its swatch and its word, for legends."""

    def __init__(
        self, hatch: Hatch, word: str = "", parent: QWidget | None = None, *, size: int = NOTE
    ) -> None:
        super().__init__(parent)
        swatch = HatchSwatch(hatch, self)
        label = Label(word or hatch.value, self, size=size)
        swatch.move(0, (20 - swatch.height()) // 2)
        label.adjustSize()
        label.move(swatch.width() + 8, (20 - label.height()) // 2)
        self.setFixedSize(swatch.width() + 8 + label.sizeHint().width(), 20)


def _told(part: AreaPart) -> str:
    """Return a part in whole percent; only all of the area is 100%."""
    percent = round(part.share * 100)
    return f"{part.word} {'over 99' if percent == _ALL and part.share < 1 else percent}%"


@cache
def _tile(pattern: _Pattern, color: str) -> QImage:
    size = pattern.step * _FINE
    tile = QImage(size, size, QImage.Format.Format_ARGB32_Premultiplied)
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(color))
    thick, middle = pattern.line * _FINE, size / 2
    if pattern.dots:
        spots = [(middle, middle), (0, 0), (size, 0), (0, size), (size, size)]
        for x, y in spots:
            painter.drawEllipse(QPointF(x, y), thick / 2, thick / 2)
    else:
        painter.drawRect(QRectF(0, middle - thick / 2, size, thick))
        if pattern.crossed:
            painter.drawRect(QRectF(middle - thick / 2, 0, thick, size))
    painter.end()
    return tile


def _brush(pattern: _Pattern, color: str, zoom: float) -> QBrush:
    brush = QBrush(_shrunk(pattern, color))
    brush.setTransform(
        QTransform().rotate(pattern.angle).scale(1 / (_BESIDE * zoom), 1 / (_BESIDE * zoom))
    )
    return brush


# Twice the pixels of a plain screen: sharp enough for two dots a pixel, smooth for one.
_BESIDE = 2


@cache
def _shrunk(pattern: _Pattern, color: str) -> QImage:
    size = pattern.step * _BESIDE
    return _tile(pattern, color).scaled(
        size,
        size,
        Qt.AspectRatioMode.IgnoreAspectRatio,
        Qt.TransformationMode.SmoothTransformation,
    )
