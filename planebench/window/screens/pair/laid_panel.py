"""How well the two photographs lie on each other, in words and figures."""

from __future__ import annotations

from PySide6.QtWidgets import QGridLayout, QWidget

from planebench.catalog.values import Photograph
from planebench.photo.align import AlignmentQuality
from planebench.window.pair_alignment import PairAlignment
from planebench.window.pieces.side_panel import margin_free_column
from planebench.window.pieces.text import Ink, Label, small_label

_TELLS = {
    AlignmentQuality.GOOD: "Trust: good. Handle, knob and cutter stand above the bed, so they lie beside "
    "themselves; what is carried over is bent to fit them.",
    AlignmentQuality.WEAK: "Trust: weak. Look at what was carried over before using it; nudge what is off.",
    AlignmentQuality.NONE: "Trust: none. These may be two different planes, or two different views. They are "
    "shown as they are, and nothing is carried over.",
}


class LaidPanel(QWidget):
    """The fit of the two."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._values = [Label() for _ in range(3)]
        self._names = [
            Label(text, ink=Ink.MUTED)
            for text in ("points that agree", "typical miss", "nudged by")
        ]
        self._told = small_label().wrapped()
        column = margin_free_column(self, 4)
        column.addWidget(Label("How well the two lie on each other", strong=True))
        grid = QGridLayout()
        grid.setVerticalSpacing(4)
        grid.setHorizontalSpacing(16)
        grid.setColumnStretch(1, 1)
        for row, (name, value) in enumerate(zip(self._names, self._values, strict=True)):
            grid.addWidget(name, row, 0)
            grid.addWidget(value, row, 1)
        column.addLayout(grid)
        column.addWidget(self._told)
        self.show_waiting()

    def show_waiting(self) -> None:
        """Say that it is being reckoned."""
        for part in (*self._names, *self._values):
            part.hide()
        self._told.setText("Being laid on each other …")

    def show_trouble(self, words: str) -> None:
        """Say why they could not be laid on each other."""
        self.show_waiting()
        self._told.setText(words)

    def show_laid(self, laid: PairAlignment, after: Photograph) -> None:
        """Show the figures of a fit."""
        miss = f"{laid.median_error_px:.1f} px"
        each = (after.scale or {}).get("mm_per_px")
        if isinstance(each, int | float):
            miss += f" ({laid.median_error_px * each:.1f} mm)"
        x, y = laid.nudge
        texts = (
            f"{laid.inliers} of {laid.looked_for}",
            miss if laid.trust is not AlignmentQuality.NONE else "not told",
            f"{x:.0f} px across, {y:.0f} px down",
        )
        for value, text in zip(self._values, texts, strict=True):
            value.setText(text)
        for number, (name, value) in enumerate(zip(self._names, self._values, strict=True)):
            shown = number < 2 or laid.nudge != (0.0, 0.0)  # noqa: PLR2004 (the nudge comes third)
            name.setVisible(shown)
            value.setVisible(shown)
        self._told.setText(_TELLS[laid.trust])
