"""The icons: drawn in one line, colored when they are painted."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from planebench.window.resources import resource_folder
from planebench.window.tokens import tokens_now

BOX = 20


def paint_icon(painter: QPainter, name: str, box: QRectF, color: str) -> None:
    """Paint the icon `name` (a file of resources/icons) into `box` in a color #RRGGBB."""
    _drawing(name, color).render(painter, box)


def icon_pixmap(name: str, color: str, *, size: int = BOX, ratio: float = 1.0) -> QPixmap:
    """Return the icon as a picture of `size` pixels for a screen with `ratio` dots a pixel."""
    picture = QPixmap(QSize(size, size) * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    paint_icon(painter, name, QRectF(0, 0, size, size), color)
    painter.end()
    return picture


def icon(name: str) -> QIcon:
    """Return the icon in the ink of the theme in force, for menus."""
    tokens = tokens_now()
    made = QIcon(icon_pixmap(name, tokens.ink, ratio=2.0))
    made.addPixmap(icon_pixmap(name, tokens.muted, ratio=2.0), QIcon.Mode.Disabled)
    return made


@cache
def _drawing(name: str, color: str) -> QSvgRenderer:
    source = (resource_folder("icons") / f"{name}.svg").read_text(encoding="utf-8")
    return QSvgRenderer(QByteArray(source.replace("currentColor", color).encode()))
