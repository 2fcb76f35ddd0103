"""The side drawing of a plane: a part is inked when seen, hatched if not original, else dashed."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from planebench.trade.terms import PartStatus
from planebench.window.pieces.hatching import Hatch, hatch_brush
from planebench.window.resources import resource_folder
from planebench.window.tokens import tokens_now

USUAL = "other"


class PartSeen(Enum):
    """What is known of a part."""

    SEEN = "seen"
    NOT_ORIGINAL = "not original to it"
    NOT_SEEN = "not seen"
    UNASKED = "not expected on this kind"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A part's outline: (x, y) with x to the toe and y downward, in units of the drawing."""

    part: str
    ring: tuple[tuple[float, float], ...]

    @property
    def path(self) -> QPainterPath:
        """The outline as a closed path."""
        path = QPainterPath()
        path.addPolygon(QPolygonF([QPointF(*point) for point in self.ring]))
        path.closeSubpath()
        return path


@cache
def shapes_of(drawing: str) -> tuple[Shape, ...]:
    """Return the shapes of a drawing that comes with the program, the general one if unknown."""
    file = resource_folder("drawings") / f"{drawing}.toml"
    if not file.is_file():
        file = resource_folder("drawings") / f"{USUAL}.toml"
    rows = tomllib.loads(file.read_text(encoding="utf-8"))["shapes"]
    return tuple(
        Shape(part=row["part"], ring=tuple((x, y) for x, y in row["ring"])) for row in rows
    )


def seen_of(status: PartStatus, *, unasked: bool = False) -> PartSeen:
    """Return how a part is drawn from what is known of it; a missing part is an empty outline.

    A part that is `unasked`, for not every model had it, is not drawn.
    """
    if unasked:
        return PartSeen.UNASKED
    if status == PartStatus.PRESENT:
        return PartSeen.SEEN
    if status in {PartStatus.NOT_ORIGINAL, PartStatus.REPLACED}:
        return PartSeen.NOT_ORIGINAL
    return PartSeen.NOT_SEEN


class PlaneDrawing(QWidget):
    """A plane's side drawing, its parts drawn by what is known of each."""

    spoken_role = QAccessible.Role.Graphic

    def __init__(
        self, drawing: str = USUAL, parent: QWidget | None = None, *, size: QSize | None = None
    ) -> None:
        super().__init__(parent)
        self._shapes = shapes_of(drawing)
        self._seen: dict[str, PartSeen] = {}
        if size is not None:
            self.setFixedSize(size)
        else:
            self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.show_parts({})

    def show_drawing(self, drawing: str) -> None:
        """Change to another kind of plane."""
        self._shapes = shapes_of(drawing)
        self.update()

    def show_parts(
        self, seen: Mapping[str, PartSeen], names: Mapping[str, str] | None = None
    ) -> None:
        """Show each part by its code; a part not named counts as seen. `names` are read aloud."""
        self._seen = dict(seen)
        told = names or {}
        rest = [
            f"{told.get(code, code.replace('_', ' '))} {state.value}"
            for code, state in seen.items()
            if state not in {PartSeen.SEEN, PartSeen.UNASKED}
        ]
        self.setAccessibleName("side drawing: " + (", ".join(rest) or "all parts seen"))
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(336, 150)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        paint_plane(QPainter(self), QRectF(self.rect()), self._shapes, self._seen)


def paint_plane(
    painter: QPainter, box: QRectF, shapes: Sequence[Shape], seen: Mapping[str, PartSeen]
) -> None:
    """Paint a plane's parts into a box, as large as they go."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    lead = fit_into(shapes, box.adjusted(2, 2, -2, -2))
    for shape in shapes:
        state = seen.get(shape.part, PartSeen.SEEN)
        if state is not PartSeen.UNASKED:
            _paint_part(painter, lead.map(shape.path), state, box)
    painter.restore()


def fit_into(shapes: Sequence[Shape], box: QRectF) -> QTransform:
    """Return the way from the drawing's units into a box, in the middle and undistorted."""
    whole = QRectF()
    for shape in shapes:
        whole = whole.united(shape.path.boundingRect())
    zoom = min(box.width() / whole.width(), box.height() / whole.height())
    at = box.center() - whole.center() * zoom
    return QTransform(zoom, 0, 0, zoom, at.x(), at.y())


def _paint_part(painter: QPainter, path: QPainterPath, state: PartSeen, box: QRectF) -> None:
    tokens = tokens_now()
    small = box.width() < _SMALL
    # A line of the ground parts each piece from the one behind it.
    gap = QPen(QColor(tokens.ground), 2 if small else 5)
    gap.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.strokePath(path, gap)
    painter.fillPath(path, QColor(tokens.ground))
    if state is PartSeen.SEEN:
        painter.fillPath(path, QColor(tokens.ink))
        return
    pen = QPen(QColor(tokens.muted if state is PartSeen.NOT_SEEN else tokens.ink))
    pen.setWidthF(1.2 if small else 2.0)
    if state is PartSeen.NOT_SEEN:
        pen.setDashPattern([3, 2])
    else:
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillPath(path, hatch_brush(Hatch.NOT_ORIGINAL))
    painter.setClipPath(path)
    # Half of the line falls outside of the part and is cut off: drawn twice as wide.
    pen.setWidthF(pen.widthF() * 2)
    painter.strokePath(path, pen)
    painter.setClipping(False)


_SMALL = 200
