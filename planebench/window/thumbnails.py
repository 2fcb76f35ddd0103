"""Small photographs for rows, read off the window's thread and cached."""

from __future__ import annotations

from collections import OrderedDict

from PySide6.QtCore import QObject, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPixmap

from planebench.catalog.ids import PhotographId
from planebench.window.context import ScreenContext
from planebench.window.tokens import tokens_now

# At 320 pixels a copy takes about 0.3 MB, so the cache stays under 150 MB.
_MOST_CACHED = 400


class Thumbnails(QObject):
    """Returns the small copy of a photograph, or None while it is being read.

    Signals: `ready(PhotographId)` when one has been read.
    """

    ready = Signal(str)

    def __init__(self, given: ScreenContext, parent: QObject, *, edge: int = 320) -> None:
        super().__init__(parent)
        self._given = given
        self._edge = edge
        self._cache: OrderedDict[str, QPixmap] = OrderedDict()
        self._asked: set[str] = set()

    def of(self, photograph: PhotographId) -> QPixmap | None:
        """Return the small copy if it is cached; else ask for it and return None."""
        if photograph in self._cache:
            self._cache.move_to_end(photograph)
            return self._cache[photograph]
        if photograph not in self._asked:
            self._asked.add(photograph)
            self._given.jobs.read(
                lambda _job: self._fetch(photograph),
                done=self._store,
                failed=lambda _error: self._store((photograph, b"")),
                owner=self,
            )
        return None

    def _fetch(self, photograph: PhotographId) -> tuple[PhotographId, bytes]:
        catalog = self._given.catalog
        value = catalog.photographs.one(photograph)
        return photograph, catalog.pictures.thumbnail(value, self._edge)

    def _store(self, answer: tuple[PhotographId, bytes]) -> None:
        photograph, data = answer
        self._asked.discard(photograph)
        pixmap = QPixmap()
        pixmap.loadFromData(data)
        self._cache[photograph] = pixmap
        if len(self._cache) > _MOST_CACHED:
            self._cache.popitem(last=False)
        self.ready.emit(photograph)


def paint_cover(painter: QPainter, box: QRectF, pixmap: QPixmap | None) -> None:
    """Paint a photograph so that it fills a box, cropped evenly.

    Without a photograph the box is a dashed frame.
    """
    tokens = tokens_now()
    painter.save()
    if pixmap is None or pixmap.isNull():
        pen = painter.pen()
        pen.setColor(QColor(tokens.edge))
        pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
    else:
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawPixmap(box, pixmap, _cut(pixmap, box))
        painter.setPen(QColor(tokens.edge))
        painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
    painter.restore()


def paint_whole(painter: QPainter, box: QRectF, pixmap: QPixmap | None) -> None:
    """Paint a whole photograph as large as it goes into a box, on the ground of panels.

    Without a photograph the box is a dashed frame.
    """
    if pixmap is None or pixmap.isNull():
        paint_cover(painter, box, None)
        return
    fitted = QSizeF(pixmap.size()).scaled(box.size(), Qt.AspectRatioMode.KeepAspectRatio)
    shown = QRectF(box.topLeft(), fitted)
    shown.moveCenter(box.center())
    painter.fillRect(box, QColor(tokens_now().panel))
    paint_cover(painter, shown, pixmap)


def _cut(pixmap: QPixmap, box: QRectF) -> QRectF:
    wide, high = float(pixmap.width()), float(pixmap.height())
    shape = box.width() / box.height()
    if wide / high > shape:
        kept = high * shape
        return QRectF((wide - kept) / 2, 0, kept, high)
    kept = wide / shape
    return QRectF(0, (high - kept) / 2, wide, kept)
