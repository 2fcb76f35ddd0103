"""A drawing of a plane labeled with what the program records."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from planebench.window.fonts import text_font
from planebench.window.pieces.hatching import Hatch, hatch_brush
from planebench.window.tokens import TEXT, tokens_now

# Drawing units, 1 px at full size, y down.
_ROOM = QRectF(120, 165, 720, 490)
_MOVE, _LINE, _CURVE = "M", "L", "C"
_Step = tuple[str, tuple[float, ...]]

_BODY: tuple[_Step, ...] = (
    ("M", (123, 551)),
    ("L", (123, 517)),
    ("C", (205, 512, 250, 470, 320, 453)),
    ("C", (352, 445, 402, 445, 432, 453)),
    ("C", (490, 468, 510, 498, 600, 508)),
    ("C", (650, 513, 700, 515, 745, 517)),
    ("L", (745, 551)),
    ("L", (123, 551)),
)
_HANDLE: tuple[_Step, ...] = (
    ("M", (179, 506)),
    ("C", (186, 480, 180, 452, 160, 412)),
    ("C", (146, 382, 156, 346, 188, 337)),
    ("C", (208, 332, 228, 340, 240, 345)),
    ("C", (251, 350, 248, 362, 240, 367)),
    ("C", (227, 378, 231, 396, 241, 416)),
    ("C", (251, 436, 261, 452, 270, 467)),
    ("L", (276, 480)),
    ("L", (179, 516)),
    ("L", (179, 506)),
)
_KNOB: tuple[_Step, ...] = (
    ("M", (583, 506)),
    ("L", (583, 490)),
    ("C", (592, 484, 592, 474, 584, 468)),
    ("C", (542, 446, 552, 378, 609, 378)),
    ("C", (668, 378, 676, 446, 635, 468)),
    ("C", (627, 474, 627, 484, 636, 490)),
    ("L", (636, 511)),
)
_FROG: tuple[_Step, ...] = (("M", (339, 365)), ("L", (356, 448)), ("L", (436, 455)))
_CUTTER: tuple[_Step, ...] = (
    ("M", (443, 457)),
    ("L", (273, 299)),
    ("L", (284, 288)),
    ("L", (486, 474)),
)
_LEVER_CAP: tuple[_Step, ...] = (
    ("M", (332, 330)),
    ("L", (340, 315)),
    ("C", (345, 304, 358, 304, 366, 313)),
    ("C", (375, 323, 377, 333, 384, 342)),
    ("L", (474, 453)),
    ("L", (481, 468)),
    ("L", (332, 330)),
)
_SCREW: tuple[_Step, ...] = (
    ("M", (402, 361)),
    ("L", (410, 353)),
    ("C", (424, 353, 434, 363, 435, 379)),
    ("L", (424, 388)),
    ("L", (402, 361)),
)
# Start and corner of each leader line, and its label.
_LEADERS: tuple[tuple[tuple[float, float], tuple[float, float], str], ...] = (
    ((191, 376), (135, 260), "handle"),
    ((293, 306), (327, 182), "cutter: original to it?"),
    ((361, 323), (434, 240), "lever cap: how much nickel is left"),
    ((614, 415), (648, 318), "knob: dates it"),
    ((502, 546), (541, 634), "mouth: chips"),
)
_DESCRIPTION = "A plane with its parts named: " + "; ".join(text for _, _, text in _LEADERS)


class LabeledPlane(QWidget):
    """A line drawing of a plane with labels and dimensions."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(_DESCRIPTION)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(QSize(400, 280))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lead = _fit_into(QRectF(self.rect()).adjusted(48, 24, -48, -24))
        _paint_dimensions(painter, lead)
        _paint_plane(painter, lead)
        _paint_leaders(painter, lead)


def _fit_into(box: QRectF) -> QTransform:
    """Return the transform that fills the box, at most a third above full size."""
    zoom = min(box.width() / _ROOM.width(), box.height() / _ROOM.height(), 4 / 3)
    at = box.center() - _ROOM.center() * zoom
    return QTransform(zoom, 0, 0, zoom, at.x(), at.y())


def _path(steps: tuple[_Step, ...]) -> QPainterPath:
    path = QPainterPath()
    for kind, at in steps:
        points = [QPointF(x, y) for x, y in zip(at[::2], at[1::2], strict=True)]
        if kind == _MOVE:
            path.moveTo(points[0])
        elif kind == _LINE:
            path.lineTo(points[0])
        else:
            path.cubicTo(points[0], points[1], points[2])
    return path


def _paint_plane(painter: QPainter, lead: QTransform) -> None:
    tokens = tokens_now()
    pen = QPen(QColor(tokens.ink), 2)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    ground = QColor(tokens.ground)
    wheel = QPainterPath()
    wheel.addEllipse(QPointF(329, 429), 24.5, 24.5)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    for path, hatched in (
        (wheel, False),
        (_path(_FROG), False),
        (_path(_HANDLE), True),
        (_path(_KNOB), True),
        (_path(_CUTTER), False),
        (_path(_LEVER_CAP), False),
        (_path(_SCREW), False),
        (_path(_BODY), False),
    ):
        shown = lead.map(path)
        painter.fillPath(shown, ground)
        if hatched:
            painter.fillPath(shown, hatch_brush(Hatch.KEPT, tokens.edge))
        painter.strokePath(shown, pen)
    dashed = QPen(QColor(tokens.ink), 2)
    dashed.setDashPattern([3, 2])
    painter.setPen(dashed)
    for start, end in (((476, 525), (493, 551)), ((512, 535), (512, 551))):
        painter.drawLine(lead.map(QPointF(*start)), lead.map(QPointF(*end)))


def _paint_dimensions(painter: QPainter, lead: QTransform) -> None:
    tokens = tokens_now()
    painter.setPen(QPen(QColor(tokens.line), 1))
    for start, end in (
        ((123, 558), (123, 606)),
        ((745, 558), (745, 606)),
        ((378, 447), (800, 447)),
        ((752, 551), (800, 551)),
    ):
        painter.drawLine(lead.map(QPointF(*start)), lead.map(QPointF(*end)))
    painter.setPen(QPen(QColor(tokens.edge), 1))
    _paint_arrow(painter, lead.map(QPointF(123, 593)), lead.map(QPointF(745, 593)))
    _paint_arrow(painter, lead.map(QPointF(787, 447)), lead.map(QPointF(787, 551)))
    painter.setFont(text_font(TEXT))
    painter.setPen(QColor(tokens.muted))
    sole = lead.map(QPointF(330, 591))  # left of the leader to the mouth
    box = QRectF(sole.x() - 150, sole.y() - 24, 300, 22)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, "sole, measured on a photograph")
    cheek = lead.map(QPointF(797, 499))
    box = QRectF(cheek.x(), cheek.y() - 11, 100, 22)
    painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, "cheek")


def _paint_arrow(painter: QPainter, start: QPointF, end: QPointF) -> None:
    painter.drawLine(start, end)
    along = QPointF(8, 0) if start.y() == end.y() else QPointF(0, 8)
    across = QPointF(along.y(), along.x()) / 2
    for tip, back in ((start, along), (end, -along)):
        painter.drawPolyline(QPolygonF([tip + back + across, tip, tip + back - across]))
        painter.drawLine(tip - across, tip + across)


def _paint_leaders(painter: QPainter, lead: QTransform) -> None:
    tokens = tokens_now()
    painter.setFont(text_font(TEXT))
    for spot, corner, text in _LEADERS:
        at, bend = lead.map(QPointF(*spot)), lead.map(QPointF(*corner))
        end = bend + QPointF(24, 0)
        painter.setPen(QPen(QColor(tokens.edge), 1))
        painter.drawPolyline(QPolygonF([at, bend, end]))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(tokens.ink))
        painter.drawEllipse(at, 3, 3)
        painter.setPen(QColor(tokens.ink))
        box = QRectF(end.x() + 7, end.y() - 11, 300, 20)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)
