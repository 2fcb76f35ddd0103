"""Slots for photographs, filled or still empty."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QImage,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.icons import BOX, paint_icon
from planebench.window.tokens import FOCUS_LINE, tokens_now

SIZE = QSize(72, 48)
# Outlines of the views in a box of 48 by 28, by the code of the view.
_SIDE = ((0, 22), (0, 18), (8, 16), (18, 10), (24, 9), (31, 12), (38, 17), (48, 18), (48, 22))
_VIEWS: dict[str, tuple[tuple[tuple[float, float], ...], ...]] = {
    "left_side": (_SIDE,),
    "right_side": (tuple((48 - x, y) for x, y in _SIDE),),
    "top": (((0, 6), (48, 6), (48, 22), (0, 22)), ((29, 8), (32, 8), (32, 20), (29, 20))),
    "sole": (((0, 6), (48, 6), (48, 22), (0, 22)), ((29, 6), (32, 6), (32, 22), (29, 22))),
    "front": (((14, 22), (14, 17), (18, 12), (24, 10), (30, 12), (34, 17), (34, 22)),),
    "back": (((14, 22), (14, 16), (19, 9), (22, 5), (26, 5), (29, 9), (34, 16), (34, 22)),),
}


class PhotoSlot(QAbstractButton):
    """A slot for one photograph: dashed with a silhouette while it is empty.

    Checkable: the selected slot has a brass edge. Signals: those of a button.
    """

    def __init__(
        self, name: str, view: str = "", parent: QWidget | None = None, *, size: QSize = SIZE
    ) -> None:
        """`view` is the code of a view, for the silhouette; another one shows an icon."""
        super().__init__(parent)
        self._name = name
        self._view = view
        self._image: QImage | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCheckable(True)
        self.setFixedSize(size)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.show_image(None)

    @property
    def is_empty(self) -> bool:
        """True while there is no photograph."""
        return self._image is None

    def show_image(self, image: QImage | None, told: str = "") -> None:
        """Show a small picture, cut to the place's shape; None empties the place."""
        self._image = image
        rest = told or ("not photographed yet" if image is None else "photograph")
        self.setAccessibleName(f"{self._name}, {rest}")
        self.setToolTip(f"{self._name}, {rest}")
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return self.size()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_now()
        painter = QPainter(self)
        box = QRectF(self.rect())
        if self.underMouse():
            painter.fillRect(box, QColor(tokens.chosen))
        if self._image is None:
            self._paint_empty(painter, box)
        else:
            paint_cut(painter, box, self._image)
        if self.isChecked():
            pen = QPen(QColor(tokens.brass), FOCUS_LINE)
            pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            painter.setPen(pen)
            painter.drawRect(box.adjusted(1, 1, -1, -1))

    def _paint_empty(self, painter: QPainter, box: QRectF) -> None:
        tokens = tokens_now()
        pen = QPen(QColor(tokens.edge), 1)
        pen.setDashPattern([3, 3])
        painter.setPen(pen)
        painter.drawRect(box.adjusted(0, 0, -1, -1))
        if self._view not in _VIEWS:
            middle = box.center() - QPointF(BOX / 2, BOX / 2)
            place = QRectF(middle.x(), middle.y(), BOX, BOX)
            paint_icon(painter, "photographs", place, tokens.muted)
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        pen.setDashPattern([2, 2])
        painter.setPen(pen)
        painter.translate(box.center().x() - 24.5, box.center().y() - 14.5)
        for ring in _VIEWS[self._view]:
            path = QPainterPath(QPointF(*ring[0]))
            for point in ring[1:]:
                path.lineTo(QPointF(*point))
            path.closeSubpath()
            painter.drawPath(path)
        painter.resetTransform()


def paint_cut(painter: QPainter, box: QRectF, image: QImage) -> None:
    """Paint a picture so that it fills a box, cut where it is longer, with its edge."""
    zoom = max(box.width() / image.width(), box.height() / image.height())
    wide, high = box.width() / zoom, box.height() / zoom
    part = QRectF((image.width() - wide) / 2, (image.height() - high) / 2, wide, high)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.drawImage(box, image, part)
    painter.setPen(QColor(tokens_now().edge))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box.adjusted(0, 0, -1, -1))
    painter.restore()
