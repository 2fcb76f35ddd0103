"""A column of fixed width in the middle of a page."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget


def center_on_page(page: QWidget, box: QWidget, width: int) -> None:
    """Lay a box on a page, a little above its middle.

    Stretches stand around it rather than an alignment: with that, words over several lines would
    be given the height of one.
    """
    box.setFixedWidth(width)
    row = QHBoxLayout()
    row.addStretch(1)
    row.addWidget(box)
    row.addStretch(1)
    whole = QVBoxLayout(page)
    whole.addStretch(2)
    whole.addLayout(row)
    whole.addStretch(3)
