"""The column beside the photograph: what concerns what one does is shown, the rest is not."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLayout, QScrollArea, QVBoxLayout, QWidget

from planebench.window.pieces.background import Background

WIDE, NARROW = 432, 368
_EDGE, _BETWEEN = 24, 16


class SidePanel(Background):
    """Panels one under the other, scrolled if need be, with acts that stay at the foot."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__("ground", parent, ruled=Qt.Edge.LeftEdge)
        self.setAccessibleName(name)
        self._area = QScrollArea()
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setWidgetResizable(True)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inside = QWidget()
        self.panels = QVBoxLayout(inside)
        self.panels.setContentsMargins(_EDGE, _EDGE - 8, _EDGE, _EDGE)
        self.panels.setSpacing(_BETWEEN)
        self._area.setWidget(inside)
        self.foot = QVBoxLayout()
        self.foot.setContentsMargins(_EDGE, 12, _EDGE, 16)
        self.foot.setSpacing(8)
        column = QVBoxLayout(self)
        column.setContentsMargins(1, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._area, 1)
        column.addLayout(self.foot)


def panel() -> tuple[QWidget, QVBoxLayout]:
    """Make a panel and the column in which its parts are laid."""
    made = QWidget()
    return made, margin_free_column(made)


def margin_free_column(widget: QWidget, spacing: int = 8) -> QVBoxLayout:
    """Lay a column without edges into a widget."""
    column = QVBoxLayout(widget)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(spacing)
    return column


def add_and_show(layout: QVBoxLayout, widget: QWidget) -> None:
    """Add a widget and show it at once; left to itself it is seen a moment later only."""
    layout.addWidget(widget)
    widget.show()


def clear_layout(layout: QLayout) -> None:
    """Take everything out of a layout."""
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
