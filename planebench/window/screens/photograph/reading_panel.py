"""The reading of the chosen outline: share, interval, causes, area, standards’ grades, strokes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from math import isnan

from PySide6.QtCore import QRectF, QSize, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.measuring import RUST
from planebench.catalog.rating_tables import load_rating_tables
from planebench.catalog.reference import resources_folder
from planebench.trade.ratings import RatingTables, rate_share
from planebench.trade.shares import Share, format_interval, format_percent
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import LabeledControl
from planebench.window.pieces.hatching import AreaBar, AreaPart, Hatch
from planebench.window.pieces.lines import BasisMark, MessageNote
from planebench.window.pieces.share_scale import ShareScale, reading_of
from planebench.window.pieces.side_panel import add_and_show, clear_layout, margin_free_column
from planebench.window.pieces.side_panel_row import SidePanelRow, hatch_mark
from planebench.window.pieces.text import ElidedLabel, Ink, Label, heading, small_label
from planebench.window.screens.photograph.judging import Cause, JudgingResult
from planebench.window.screens.photograph.outline_reading import (
    ReadingDetails,
    SurfaceSummary,
    share_of,
)
from planebench.window.screens.photograph.stroke_tool import HATCHES, area_word
from planebench.window.tokens import tokens_now


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
            else "none yet; K, L and T correct the map"
        )
        for number in reversed(range(len(strokes))):
            did = _did(judged.shares[number], judged.shares[number + 1])
            hatch = HATCHES[strokes[number].kind]
            word = area_word(hatch, rust=rust)
            row = SidePanelRow(f"{number + 1}  {word}", did, hatch_mark(hatch))
            row.setCheckable(False)
            row.delete_wanted.connect(lambda at=number: self.removed.emit(at))
            add_and_show(self._rows, row)


class ReadingPanel(QWidget):
    """The reading of one outline.

    Signals: `stroke_off_wanted(int)` with a stroke's number from 0, -1 for the last;
    `second_light_chosen(str)` with the id of a photograph, empty for none.
    """

    stroke_off_wanted = Signal(int)
    second_light_chosen = Signal(str)

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
        self.strokes.removed.connect(self.stroke_off_wanted)
        self._lights = DropDown("Second light")
        self._lights.chosen.connect(self.second_light_chosen)
        self._second = LabeledControl("Second photograph under another light", self._lights)
        self._lay_out()
        self._second.hide()
        self.show_waiting("Judging")

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
        self._why.setVisible(share is None)
        if share is None:
            self._big.setText("Cannot be measured here")
            self._interval.setText("")
            self._basis.show_basis("")
            self._why.show_message(verdict.why_not)
        else:
            kept = "rusted" if details.rust else "kept"
            self._big.setText(f"{format_percent(share)} {kept}")
            self._interval.setText(format_interval(share).strip("()"))
            self._ratings.setText(format_ratings(judged.request.finish, share))
            self._basis.show_basis("measured", "90% interval")
            self._basis.setAccessibleName("basis: measured, 90% interval")
        self._ratings.setVisible(share is not None and bool(self._ratings.text()))
        self._whole.show_said(details.whole)
        self._show_by_eye(details, () if share is None else (share,))
        self._show_causes(verdict.causes)
        self._advice.show_message(verdict.advice)
        self._advice.setVisible(bool(verdict.advice) and share is not None)
        self._show_area(judged, details)
        self.strokes.show_strokes(judged, rust=details.rust)

    def _lay_out(self) -> None:
        column = margin_free_column(self)
        column.addLayout(self._top())
        column.addWidget(self._scale)
        column.addWidget(self._dashed)
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


def _did(before: float | None, after: float | None) -> str:
    """Return what a stroke did to the share: "78 → 83%"."""
    if after is None:
        return "can’t tell"
    if isnan(after):
        return "…"
    was = "" if before is None or isnan(before) else f"{100 * before:.0f} → "
    return f"{was}{100 * after:.0f}%"
