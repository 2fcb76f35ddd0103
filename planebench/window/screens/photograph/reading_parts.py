"""Parts of the reading panel: the surface over all photographs, the strokes, all of it is."""

from __future__ import annotations

from math import isnan

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.side_panel import add_and_show, clear_layout, margin_free_column
from planebench.window.pieces.side_panel_row import SidePanelRow, hatch_mark
from planebench.window.pieces.text import ElidedLabel, Ink, Label, small_label
from planebench.window.screens.photograph.judging import JudgingResult
from planebench.window.screens.photograph.outline_reading import (
    SurfaceSummary,
)
from planebench.window.screens.photograph.stroke_tool import HATCHES, area_word


class SurfaceSummaryPanel(QWidget):
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

    def show_said(self, said: SurfaceSummary | None) -> None:
        """Show a surface summary, or hide it."""
        self.setVisible(said is not None)
        if said is not None:
            self._title.setText(said.title)
            self._share.setText(said.share)
            self._line.setVisible(bool(said.share))
            self._words.setText(said.words)


class StrokesPanel(QWidget):
    """The strokes of the selected outline, newest first.

    Signals: `removed(int)` with a stroke's number from 0, -1 for the last.
    """

    removed = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._remark = ElidedLabel(ink=Ink.MUTED)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self.remove_last = ActionButton("Remove the last stroke")
        self.remove_last.clicked.connect(lambda: self.removed.emit(-1))
        self.remove_last.hide()
        column = margin_free_column(self)
        title, foot = QHBoxLayout(), QHBoxLayout()
        title.setSpacing(8)
        title.addWidget(Label("Strokes", strong=True))
        title.addWidget(self._remark, 1)
        foot.addWidget(self.remove_last)
        foot.addStretch(1)
        column.addLayout(title)
        column.addLayout(self._rows)
        column.addLayout(foot)

    def show_strokes(self, judged: JudgingResult, *, rust: bool) -> None:
        """Show the strokes, newest first, each with what it did to the share."""
        clear_layout(self._rows)
        strokes = judged.request.strokes
        self.remove_last.setVisible(bool(strokes))
        self._remark.setText(
            f"{len(strokes)}; each updates the whole outline"
            if strokes
            else f"none yet; {'J, K, L' if rust else 'K, L'} and T correct the map"
        )
        for number in reversed(range(len(strokes))):
            did = _did(judged.shares[number], judged.shares[number + 1])
            hatch = HATCHES[strokes[number].kind]
            word = area_word(hatch, rust=rust)
            row = SidePanelRow(f"{number + 1}  {word}", did, hatch_mark(hatch))
            row.setCheckable(False)
            row.delete_wanted.connect(lambda at=number: self.removed.emit(at))
            add_and_show(self._rows, row)


class WholePanel(QWidget):
    """Says what all of the outline is; the judge asks for it on one even surface.

    Signals: `chosen(str)` one of the kinds of strokes.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.question = MessageNote()
        self._title = Label("All of it is", ink=Ink.MUTED)
        self.buttons: dict[str, ActionButton] = {}
        row = QHBoxLayout()
        row.setSpacing(8)
        for kind, letter in (("kept", "K"), ("patina", "J"), ("lost", "L")):
            button = ActionButton("", key=f"Shift+{letter}")
            button.setCheckable(True)
            button.clicked.connect(lambda _on=False, kind=kind: self.chosen.emit(kind))
            row.addWidget(button)
            self.buttons[kind] = button
        row.addStretch(1)
        column = margin_free_column(self)
        column.addWidget(self.question)
        column.addWidget(self._title)
        column.addLayout(row)

    def show_choice(self, judged: JudgingResult, *, rust: bool) -> None:
        """Show what was said of the whole outline, and the question if there is one."""
        asks = judged.verdict.asks_whole
        self.question.show_message("Press a key, or draw a stroke.", judged.verdict.advice)
        self.question.setVisible(asks)
        for kind, button in self.buttons.items():
            button.set_words(area_word(HATCHES[kind], rust=rust))
            button.setChecked(kind == judged.request.whole)
            button.setVisible(rust or kind != "patina")
        self.show()


def _did(before: float | None, after: float | None) -> str:
    """Return what a stroke did to the share: "78 → 83%"."""
    if after is None:
        return "can’t tell"
    if isnan(after):
        return "…"
    was = "" if before is None or isnan(before) else f"{100 * before:.0f} → "
    return f"{was}{100 * after:.0f}%"
