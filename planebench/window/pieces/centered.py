"""A column of fixed width in the middle of a page."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.window.pieces.scroll_area import scroll_area


def center_on_page(page: QWidget, box: QWidget, width: int) -> None:
    """Lay a box on a page, a little above its middle; a low page scrolls.

    Stretches stand around it rather than an alignment: with that, text over several lines would
    be given the height of one.
    """
    box.setFixedWidth(width)
    inside = QWidget()
    row = QHBoxLayout()
    row.addStretch(1)
    row.addWidget(box)
    row.addStretch(1)
    column = QVBoxLayout(inside)
    column.addStretch(2)
    column.addLayout(row)
    column.addStretch(3)
    whole = QVBoxLayout(page)
    whole.setContentsMargins(0, 0, 0, 0)
    whole.addWidget(scroll_area(inside))
