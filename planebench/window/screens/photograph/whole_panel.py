"""The surface over all its photographs: its share, and what of it no photograph measured."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.window.pieces.side_panel import margin_free_column
from planebench.window.pieces.text import ElidedLabel, Label, small_label


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeSaid:
    """What is said of a surface; `share` in words, empty where this outline is all there is."""

    title: str
    share: str
    words: str


class WholePanel(QWidget):
    """The share over several photographs in a line, and beneath it what it covers."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = ElidedLabel(strong=True)
        self._share = Label(strong=True)
        self._words = small_label().wrapped()
        column = margin_free_column(self, 2)
        self._line = QWidget()
        row = QHBoxLayout(self._line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self._title, 1)
        row.addWidget(self._share)
        column.addWidget(self._line)
        column.addWidget(self._words)

    def show_said(self, said: WholeSaid | None) -> None:
        """Say this of the surface, or nothing."""
        self.setVisible(said is not None)
        if said is not None:
            self._title.setText(said.title)
            self._share.setText(said.share)
            self._line.setVisible(bool(said.share))
            self._words.setText(said.words)
