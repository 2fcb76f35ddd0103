"""The keys of the current screen, listed by F1."""

from __future__ import annotations

from math import ceil

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from planebench.window.fonts import text_font, title_font
from planebench.window.pieces.buttons import key_width, paint_key
from planebench.window.tokens import SECTION, tokens_now

EVERYWHERE = (
    ("F6", "next region: title, work, status bar"),
    ("Alt", "open a menu by its underlined letter"),
    ("Esc", "one level up"),
    ("Ctrl+F", "find"),
    ("Ctrl+Z", "undo"),
    ("Ctrl+Shift+Z", "redo"),
    ("F1", "show or hide these keys"),
)
_ROW, _SIDE, _KEYS, _TOP = 28, 24, 140, 64
_WIDE, _EDGE = 560, 40


class KeyList(QWidget):
    """A page over the middle of the window; Esc, F1 or a click hides it."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._keys: tuple[tuple[str, str], ...] = ()
        self._rows = 1
        self._wide = _WIDE
        self.hide()

    def show_keys(self, keys: tuple[tuple[str, str], ...]) -> None:
        """Show the keys of a screen and those that work everywhere; hide if already shown."""
        if self.isVisible():
            self.hide()
            return
        self._keys = (*keys, *EVERYWHERE)
        self.setAccessibleName("Keys: " + "; ".join(f"{key}: {what}" for key, what in self._keys))
        self._rows = self._rows_that_fit()
        columns = -(-len(self._keys) // self._rows)
        self._wide = self._width_that_fits(columns)
        self.resize(self._wide * columns, _TOP + _ROW * self._rows + _SIDE)
        middle = self._window.rect().center()
        self.move(middle.x() - self.width() // 2, max(_EDGE, middle.y() - self.height() // 2))
        self.raise_()
        self.show()

    def _rows_that_fit(self) -> int:
        """Return how many rows a column has: all of them, or half where the window is low."""
        all_rows = len(self._keys)
        room = self._window.height() - 2 * _EDGE - _TOP - _SIDE
        return all_rows if _ROW * all_rows <= room else -(-all_rows // 2)

    def _width_that_fits(self, columns: int) -> int:
        """Return how wide a column is: as its longest line asks, as far as the window has room."""
        metrics = QFontMetricsF(text_font())
        longest = max(metrics.horizontalAdvance(what) for _, what in self._keys)
        asked = max(_WIDE, _KEYS + 2 * _SIDE + ceil(longest))
        return max(_WIDE, min(asked, (self._window.width() - 2 * _EDGE) // columns))

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.hide()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.ground))
        painter.setPen(QColor(tokens.edge))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.setFont(title_font(SECTION))
        painter.setPen(QColor(tokens.ink))
        painter.drawText(
            QRectF(_SIDE, 16, 400, 32), Qt.AlignmentFlag.AlignVCenter, "Keys on this screen"
        )
        for number, (key, what) in enumerate(self._keys):
            column, row = divmod(number, self._rows)
            left, top = _SIDE + column * self._wide, _TOP + row * _ROW
            wide = key_width(key)
            paint_key(painter, QRectF(left, top, wide, _ROW), key)
            painter.setFont(text_font())
            painter.setPen(QColor(tokens.ink))
            room = QRectF(left + _KEYS, top, self._wide - _SIDE * 2 - _KEYS, _ROW)
            said = QFontMetricsF(text_font()).elidedText(
                what, Qt.TextElideMode.ElideRight, room.width()
            )
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, said)
