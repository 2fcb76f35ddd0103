"""The dating chart: scale of years, rows of evidence, and the result."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.ids import EvidenceId
from planebench.window.fonts import text_font
from planebench.window.pieces.hatching import Hatch, hatch_brush
from planebench.window.pieces.text import Ink, Label, heading, small_label
from planebench.window.screens.dating.dating_model import ChartColumns, DatingModel, DatingSummary
from planebench.window.screens.dating.evidence_rows import EvidenceList
from planebench.window.screens.dating.year_scale import (
    LEFT,
    ChartLayout,
    ChartScale,
    YearAxis,
    paint_numbers,
)
from planebench.window.tokens import NOTE, TITLE, tokens_now

_LEAST_HIGH, _MOST_HIGH = 190, 340
_FOOT = 28
_OVER = 70  # px above the tallest column, for the range and its words
_RANGE_AT = 26
_ODD_SHARE = 0.58


class ResultPanel(QWidget):
    """The date in large words at the left, year columns at the right."""

    def __init__(self, scale: ChartScale, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scale = scale
        self._columns: Sequence[ChartColumns] = ()
        self._made = heading(size=TITLE)
        self._of = Label().wrapped()
        self._hard = Label(ink=Ink.MUTED).wrapped()
        self._odd = Label(ink=Ink.RUST).wrapped()
        self._change = small_label().wrapped()
        self._words = QWidget(self)
        column = QVBoxLayout(self._words)
        column.setContentsMargins(0, 12, 0, 0)
        column.setSpacing(4)
        for part in (self._made, self._of, self._hard, self._odd, self._change):
            column.addWidget(part)
        column.addStretch(1)
        self.setMinimumHeight(_LEAST_HIGH)
        self.setMaximumHeight(_MOST_HIGH)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @property
    def said(self) -> str:
        """All texts shown, for tests and screen readers."""
        parts = (self._made, self._of, self._hard, self._odd, self._change)
        return "\n".join(part.text() for part in parts if part.text())

    def show_result(self, shown: DatingModel, change: str) -> None:
        """Show the date; `change` says how the last edit changed it, empty for no change."""
        self._columns = shown.columns
        self._say(shown.result, change)
        self.setAccessibleName(f"Made {self.said}")
        self.update()

    def place_words(self) -> None:
        """Fit the texts to their column after the width of the chart changed."""
        wide = round(self._scale.across.words_width)
        self._words.setGeometry(LEFT, 0, wide, self.height())
        self.update()

    def _say(self, result: DatingSummary, change: str) -> None:
        self._made.setText(result.made)
        self._of.setText(result.of)
        self._hard.setText(result.hard)
        self._hard.set_ink(Ink.MUTED if result.hard_agrees else Ink.RUST)
        self._odd.setText("\n".join(result.odd))
        self._change.setText(change)
        for part in (self._of, self._hard, self._odd, self._change):
            part.setVisible(bool(part.text()))

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.place_words()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        tokens, across = tokens_now(), self._scale.across
        base = self.height() - _FOOT
        self._scale.paint_ground(painter, base)
        painter.fillRect(QRectF(LEFT, 0, across.end - LEFT, 1), QColor(tokens.edge))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for columns in self._columns:
            self._paint_columns(painter, columns, base)
        painter.fillRect(
            QRectF(across.start, base, across.end - across.start, 1), QColor(tokens.edge)
        )
        paint_numbers(painter, across, QRectF(0, base + 4, self.width(), 20), across.steps())
        self._paint_range(painter)

    def _paint_columns(self, painter: QPainter, columns: ChartColumns, base: float) -> None:
        tokens, across = tokens_now(), self._scale.across
        tallest = (base - _OVER) * (1 if columns.agrees else _ODD_SHARE)
        gap = 1.0 if across.year_width > 3 else 0.0  # noqa: PLR2004 -- pixels
        for at, height in enumerate(columns.heights):
            year = columns.first + at
            if not across.first <= year < across.last:
                continue
            high = max(1.0, height * tallest)
            left, right = across.x(year) + gap / 2, across.x(year + 1) - gap / 2
            box = QRectF(left, base - high, right - left, high)
            if columns.agrees:
                painter.fillRect(box, QColor(tokens.verdigris))
                continue
            painter.fillRect(box, hatch_brush(Hatch.LOST, tokens.rust))
            painter.setPen(QPen(QColor(tokens.rust), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(box.adjusted(0.5, 0.5, -0.5, 0))
        if not columns.agrees:
            self._name(painter, columns, base - tallest - 8)

    def _name(self, painter: QPainter, columns: ChartColumns, y: float) -> None:
        """Paint the name of the columns above their middle."""
        across = self._scale.across
        first, last = max(columns.first, across.first), columns.first + len(columns.heights)
        middle = (across.within(first) + across.within(last)) / 2
        painter.setFont(text_font(NOTE))
        painter.setPen(QColor(tokens_now().rust))
        wide = QFontMetricsF(text_font(NOTE)).horizontalAdvance(columns.words)
        left = min(max(middle - wide / 2, across.start), across.end + 24 - wide)
        painter.drawText(QPointF(left, y), columns.words)

    def _paint_range(self, painter: QPainter) -> None:
        bands, across = self._scale.bands, self._scale.across
        agreed = next((one for one in self._columns if one.agrees), None)
        if not bands or agreed is None:
            return
        tokens = tokens_now()
        ends = [(across.within(first), across.within(last + 1)) for first, last in bands]
        painter.setPen(QPen(QColor(tokens.ink), 2))
        for start, end in ends:
            _bracket(painter, start, end)
        left, right = ends[0][0], ends[-1][1]
        painter.setFont(text_font(NOTE))
        wide = QFontMetricsF(text_font(NOTE)).horizontalAdvance(agreed.words)
        fits = right + 10 + wide < self.width()
        at = QPointF(right + 10 if fits else left - 10 - wide, _RANGE_AT + 4)
        painter.drawText(at, agreed.words)


def _bracket(painter: QPainter, start: float, end: float) -> None:
    painter.drawLine(QPointF(start, _RANGE_AT), QPointF(end, _RANGE_AT))
    for x in (start, end):
        painter.drawLine(QPointF(x, _RANGE_AT - 5), QPointF(x, _RANGE_AT + 5))


_LIST_STRETCH, _RESULT_STRETCH = 1000, 30


class DatingChart(QWidget):
    """Evidence over one scale of years.

    Signals: `moved()` to other evidence; `toggled(EvidenceId)` to count or leave out;
    `opened()` by Enter or a double click.
    """

    moved = Signal()
    toggled = Signal(str)
    opened = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scale = ChartScale(across=ChartLayout(width=800, first=1850, last=1950))
        self.list = EvidenceList(self._scale)
        self.result = ResultPanel(self._scale)
        self._axis = YearAxis(self._scale)
        self._empty = heading("No evidence of its date yet")
        self._empty_help = Label(
            "Press N or choose Add evidence: a number, a date, the shape of a part, a document, or "
            "what someone remembers. Or compare the tool with a type study.",
            ink=Ink.MUTED,
        ).wrapped()
        self._lay_out()
        self.list.moved.connect(self.moved)
        self.list.toggled.connect(self.toggled)
        self.list.activated.connect(lambda _index: self.opened.emit())

    @property
    def current(self) -> EvidenceId | None:
        """The selected evidence."""
        return self.list.current

    def show_model(
        self, shown: DatingModel, *, choose: EvidenceId | None = None, change: str = ""
    ) -> None:
        """Show the evidence and date of a tool."""
        across = self._scale.across
        self._scale.across = replace(across, first=shown.first, last=shown.last)
        self._scale.bands = shown.bands
        self.list.show_lines(shown.lines, choose)
        self.result.show_result(shown, change)
        nothing = not shown.lines
        for part in (self._empty, self._empty_help):
            part.setVisible(nothing)
        for shown_part in (self._axis, self.list, self.result):
            shown_part.setVisible(not nothing)
        self._repaint()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._scale.across = replace(self._scale.across, width=self.width())
        self._repaint()

    def _repaint(self) -> None:
        self.result.place_words()
        self._axis.update()
        self.list.viewport().update()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(0)
        for words_ in (self._empty, self._empty_help):
            words_.setContentsMargins(24, 16, 24, 0)
            words_.hide()
            column.addWidget(words_)
        column.addWidget(self._axis)
        column.addWidget(self.list, _LIST_STRETCH)
        column.addWidget(self.result, _RESULT_STRETCH)
        column.addStretch(1)
