"""The reading of the chosen outline: share, interval, causes, area, standards’ grades, strokes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from PySide6.QtCore import QRectF, QSize, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.measuring import RUST
from planebench.catalog.rating_tables import load_rating_tables
from planebench.catalog.reference import resources_folder
from planebench.trade.ratings import RatingTables, rate_share
from planebench.trade.shares import Share, format_interval, format_percent
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import LabeledControl
from planebench.window.pieces.hatching import AreaBar, AreaPart, Hatch
from planebench.window.pieces.lines import BasisMark, MessageNote
from planebench.window.pieces.share_scale import ShareScale, reading_of
from planebench.window.pieces.side_panel import add_and_show, clear_layout, margin_free_column
from planebench.window.pieces.text import Ink, Label, heading, small_label
from planebench.window.screens.photograph.judging import Cause, JudgingResult, Verdict
from planebench.window.screens.photograph.outline_reading import (
    ReadingDetails,
    share_of,
)
from planebench.window.screens.photograph.reading_parts import (
    StrokesPanel,
    SurfaceSummaryPanel,
    WholePanel,
)
from planebench.window.screens.photograph.stroke_tool import area_word
from planebench.window.tokens import tokens_now


def format_ratings(finish: str, share: Share) -> str:
    """Return the standards' grades for a finish: "ISO 10289: 5/- (7/- to 4/-)"; empty if none fits.

    `share` is the share kept, or with finish "rust" the share rusted. Raises FileError for a
    damaged table.
    """
    lost = share if finish == RUST else share.rest
    said = [
        f"{one.at.standard}: {one.said}" + (" (table from memory)" if one.at.from_memory else "")
        for one in rate_share(finish, lost, _tables())
    ]
    return f"By the standards: {'; '.join(said)}." if said else ""


@cache
def _tables() -> RatingTables:
    return load_rating_tables(resources_folder() / "ratings")


_BIG = 24
_WIDEST = 0.01
_TOLD_FROM = 0.005


class ReadingPanel(QWidget):
    """The reading of one outline.

    Signals: `stroke_off_wanted(int)` with a stroke's number from 0, -1 for the last;
    `second_light_chosen(str)` with the id of a photograph, empty for none; `whole_chosen(str)`
    with what all of the outline is, one of the kinds of strokes.
    """

    stroke_off_wanted = Signal(int)
    second_light_chosen = Signal(str)
    whole_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._big = heading("", size=_BIG)
        self._interval = heading("")
        self._interval.set_ink(Ink.MUTED)
        self._basis = BasisMark()
        self._scale = ShareScale("Finish left", large=True)
        self._dashed = small_label().wrapped()
        self._why = MessageNote()
        self._causes = QWidget()
        self._cause_rows = QVBoxLayout()
        self._advice = MessageNote()
        self._whole = SurfaceSummaryPanel()
        self._area = AreaBar("The outline’s area")
        self._area_title = Label("The outline’s area", strong=True)
        self._area_words = small_label().wrapped()
        self._ratings = small_label().wrapped()
        self.strokes = StrokesPanel()
        self.whole = WholePanel()
        self._iron = Label().wrapped()
        self._lights = DropDown("Second light")
        self._second = LabeledControl("Second photograph under another light", self._lights)
        self._connect()
        self._lay_out()
        self.show_waiting("Judging")

    def _connect(self) -> None:
        self.strokes.removed.connect(self.stroke_off_wanted)
        self.whole.chosen.connect(self.whole_chosen)
        self._lights.chosen.connect(self.second_light_chosen)
        self._second.hide()

    def offer_lights(self, others: Sequence[tuple[str, str]], held: str) -> None:
        """Offer photographs of the same view under another light; none hides the choice."""
        self._lights.offer([("", "none"), *others], holds=held)
        self._second.setVisible(bool(others))

    def show_waiting(self, words: str) -> None:
        """Show why there is no reading yet."""
        self._big.setText(words)
        self._interval.setText("")
        self._basis.show_basis("")
        self._scale.show_readings()
        for part in (self._why, self._causes, self._advice, self._area, self._area_title):
            part.hide()
        self._iron.hide()
        self.whole.hide()
        self._area_words.hide()
        self._ratings.hide()
        self._dashed.hide()
        self._whole.hide()

    def show_refusal(self, happened: str, remedy: str, details: ReadingDetails) -> None:
        """Show that the outline was not judged and why; the estimate stays visible."""
        self.show_waiting("Not measured")
        self._why.show_message(remedy, happened)
        self._why.show()
        self._show_by_eye(details, ())

    def show_judged(self, judged: JudgingResult, details: ReadingDetails) -> None:
        """Show a verdict."""
        verdict = judged.verdict
        share = share_of(verdict)
        self._show_share(judged, details)
        self._whole.show_said(details.whole)
        self._show_by_eye(details, () if share is None else (share,))
        self._iron.setText(_iron_words(verdict))
        self._iron.setVisible(bool(self._iron.text()))
        self.whole.show_choice(judged, rust=details.rust)
        self._show_causes(() if verdict.asks_whole else verdict.causes)
        self._advice.show_message(verdict.advice)
        asked = verdict.asks_whole or share is None
        self._advice.setVisible(bool(verdict.advice) and not asked)
        self._show_area(judged, details)
        self.strokes.show_strokes(judged, rust=details.rust)

    def _show_share(self, judged: JudgingResult, details: ReadingDetails) -> None:
        share = share_of(judged.verdict)
        self._why.setVisible(share is None)
        self._ratings.setText("")
        if share is None:
            self._big.setText("Cannot be measured here")
            self._interval.setText("")
            self._basis.show_basis("")
            self._why.show_message(judged.verdict.why_not)
        else:
            kept = "rust" if details.rust else "kept"
            self._big.setText(f"{format_percent(share)} {kept}")
            self._interval.setText(format_interval(share).strip("()"))
            self._ratings.setText(format_ratings(judged.request.finish, share))
            self._basis.show_basis("measured", "90% interval")
            self._basis.setAccessibleName("basis: measured, 90% interval")
        self._ratings.setVisible(bool(self._ratings.text()))

    def _lay_out(self) -> None:
        column = margin_free_column(self)
        column.addLayout(self._top())
        column.addWidget(self._scale)
        column.addWidget(self._iron)
        column.addWidget(self._dashed)
        column.addWidget(self.whole)
        column.addWidget(self._why)
        inside = margin_free_column(self._causes, 2)
        inside.addWidget(Label("What makes up the interval", strong=True))
        inside.addLayout(self._cause_rows)
        self._cause_rows.setSpacing(0)
        column.addSpacing(4)
        column.addWidget(self._causes)
        column.addWidget(self._advice)
        column.addWidget(self._second)
        column.addWidget(self._whole)
        for part in (self._area_title, self._area, self._area_words, self._ratings):
            column.addWidget(part)
        column.addSpacing(4)
        column.addWidget(self.strokes)

    def _top(self) -> QHBoxLayout:
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(self._big)
        top.addWidget(self._interval)
        top.addStretch(1)
        # In a narrow column the words are elided, never the figures.
        self._basis.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        top.addWidget(self._basis)
        return top

    def _show_by_eye(self, details: ReadingDetails, above: Sequence[Share]) -> None:
        below = () if details.by_eye is None else (reading_of(details.by_eye),)
        self._scale.show_readings(*(reading_of(share) for share in above), below=below)
        self._dashed.setText(details.by_eye_words)
        self._dashed.setVisible(bool(details.by_eye_words))

    def _show_causes(self, causes: Sequence[Cause]) -> None:
        clear_layout(self._cause_rows)
        widest = max([_WIDEST, *(cause.plus_minus for cause in causes)])
        for cause in causes:
            add_and_show(self._cause_rows, _CauseRow(cause, widest))
        self._causes.setVisible(bool(causes))

    def _show_area(self, judged: JudgingResult, details: ReadingDetails) -> None:
        verdict = judged.verdict
        whole = max(1, verdict.all_px)
        counted = (
            (Hatch.KEPT, verdict.kept_px),
            (Hatch.PATINA, verdict.patina_px),
            (Hatch.CANNOT_TELL, verdict.cannot_tell_px),
            (Hatch.LOST, verdict.lost_px),
        )
        parts = (
            AreaPart(hatch=hatch, share=px / whole, word=area_word(hatch, rust=details.rust))
            for hatch, px in counted
        )
        self._area.show_parts(tuple(part for part in parts if part.share >= _TOLD_FROM))
        self._area_words.setText(details.area_text)
        for part in (self._area, self._area_title):
            part.show()
        self._area_words.setVisible(bool(details.area_text))


def _iron_words(verdict: Verdict) -> str:
    """Return the other two shares of bare iron: "bright 12% (5 to 20), patina 40% (30 to 55)"."""
    spans = (("bright", verdict.bright), ("patina", verdict.patina))
    return ", ".join(
        f"{word} {100 * span.share:.0f}% ({100 * span.low:.0f} to {100 * span.high:.0f})"
        for word, span in spans
        if span is not None
    )


class _CauseRow(QWidget):
    """One cause of doubt, drawn to the same scale as the others."""

    def __init__(self, cause: Cause, widest: float) -> None:
        super().__init__()
        self._half = cause.plus_minus / widest
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(Label(cause.words))
        row.addStretch(1)
        told = Label(f"±{100 * cause.plus_minus:.1f}")
        row.addWidget(told)
        self.setFixedHeight(24)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(f"{cause.words}: plus or minus {100 * cause.plus_minus:.1f} points")

    @override
    def sizeHint(self) -> QSize:
        return QSize(240, 24)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect())
        middle, reach, y = box.width() * 0.66, box.width() * 0.115, box.center().y()
        painter.setPen(QPen(QColor(tokens_now().edge), 1))
        painter.drawLine(round(middle), round(y) - 6, round(middle), round(y) + 6)
        painter.setPen(QPen(QColor(tokens_now().ink), 1.5))
        left, right = middle - reach * self._half, middle + reach * self._half
        painter.drawLine(
            QRectF(left, y, right - left, 0).topLeft(), QRectF(right, y, 0, 0).topLeft()
        )
        for x in (left, right):
            painter.drawLine(QRectF(x, y - 4, 0, 0).topLeft(), QRectF(x, y + 4, 0, 0).topLeft())
