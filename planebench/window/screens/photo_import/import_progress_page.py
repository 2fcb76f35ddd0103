"""The page of an import under way and at its end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.continuous_import import FolderReport
from planebench.catalog.import_types import FileOutcome, Progress
from planebench.catalog.reference import Kind
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import MessageNote, Rule
from planebench.window.pieces.photo_label import Tag
from planebench.window.pieces.progress_bar import ProgressBar
from planebench.window.pieces.text import Ink, Label, LinkButton, heading, page_title, small_label
from planebench.window.screens.photo_import.import_counts import (
    ToolCount,
    ToolList,
    describe_filing,
    isolate_direction,
)
from planebench.window.screens.photo_import.import_notes import RefusedFiles, UnknownStockNumbers
from planebench.window.screens.photo_import.import_summary import ImportSummary
from planebench.window.screens.photo_import.unfiled_page import paint_whole
from planebench.window.thumbnails import Thumbnails

_GO_ON = "You can keep working; progress shows at the bottom of the window."
_COME_BACK = "To come back here, choose Import new files from a folder in the Photograph menu."
_MINUTE, _ABOUT_NOW = 60, 10


class LastPhotograph(QWidget):
    """The photograph added last, with what filed it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pixmap: QPixmap | None = None
        self._tag = Tag("", self)
        self._tag.hide()
        self.setMinimumSize(320, 160)
        self.setAccessibleName("The photograph added last")

    def show_photograph(self, pixmap: QPixmap | None, told: str) -> None:
        """Show a photograph and its outcome."""
        self._pixmap = pixmap
        self._tag.setText(told)
        self._tag.adjustSize()
        self._tag.setVisible(bool(told))
        self._place_tag()
        self.update()

    @override
    def resizeEvent(self, event: object) -> None:
        self._place_tag()

    @override
    def sizeHint(self) -> QSize:
        return QSize(800, 520)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        paint_whole(QPainter(self), QRectF(self.rect()), self._pixmap)

    def _place_tag(self) -> None:
        self._tag.move(16, self.height() - self._tag.height() - 16)


class ImportProgressPage(QWidget):
    """The page of an import under way and at its end.

    Signals: `stop_wanted()`, `filing_wanted()`, `back_wanted()`, `more_wanted()`,
    `reasons_wanted()` to see what filed each photograph.
    """

    stop_wanted = Signal()
    filing_wanted = Signal()
    back_wanted = Signal()
    more_wanted = Signal()
    reasons_wanted = Signal()

    def __init__(
        self,
        thumbnails: Thumbnails,
        large: Thumbnails,
        kinds: Mapping[str, Kind],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails
        self._large = large
        self.unknown = UnknownStockNumbers(kinds)
        self._latest: FileOutcome | None = None
        self.last = LastPhotograph()
        self._count = page_title("Looking for photographs…")
        self._left = small_label()
        self._bar = ProgressBar("Photographs added")
        self._sentence = Label(ink=Ink.MUTED).wrapped()
        self._stop = ActionButton("Stop", icon="stop")
        self._stop.clicked.connect(self.stop_wanted)
        self._refusals = RefusedFiles()
        self._away = MessageNote(trouble=True)
        self._watched = ""
        self._coming = self._over = False
        self._tools = ToolList(thumbnails)
        self._after = Label(ink=Ink.MUTED).wrapped()
        self.reasons = LinkButton("Why each photograph was filed there")
        self.reasons.clicked.connect(self.reasons_wanted)
        self._make_acts()
        for copies in (thumbnails, large):
            copies.ready.connect(self._picture_came)
        self._lay_out()
        self.begin()

    def _make_acts(self) -> None:
        self.file_photographs = ActionButton("Choose their tool", weight=ButtonWeight.MAIN)
        self.file_photographs.clicked.connect(self.filing_wanted)
        self.back = ActionButton("Undo this import", icon="undo")
        self.back.clicked.connect(self.back_wanted)
        self.more = ActionButton("Add more")
        self.more.clicked.connect(self.more_wanted)

    def begin(self, watched: Path | None = None) -> None:
        """Show an import that has just begun; `watched` is the folder watched for new files."""
        self._watched = "" if watched is None else watched.name or str(watched)
        self._coming, self._over = watched is None, False
        self._latest = None
        self.last.show_photograph(None, "")
        self._refusals.show_outcomes(())
        self._away.hide()
        self._bar.show_count(0, 0)
        self._count.setToolTip("" if watched is None else str(watched))
        self._stop.show()
        self.more.set_words("Add others meanwhile")
        for part in (self.file_photographs, self.back, self.reasons, self.unknown):
            part.hide()
        self._left.setText("")
        if watched is None:
            self._count.setText("Looking for photographs…")
            self._after.setText(_GO_ON)
        else:
            self._rest()
            self._sentence.setText("Files already there are added now, then each new one.")
            self._after.setText(f"{_GO_ON} {_COME_BACK}")

    def show_progress(self, progress: Progress) -> None:
        """Show the progress."""
        self._coming = True
        total = progress.total
        of = f"{progress.done} of {total}" if total is not None else f"{progress.done}"
        self._count.setText(f"{of} photographs")
        self._bar.show()
        self._bar.show_count(progress.done, total or 0)
        self._left.setText(f"{_speed(progress.per_second)}, {_time_left(progress.seconds_left)}")
        counts = (progress.new, progress.already_in_catalog, progress.refused)
        self._sentence.setText(f"{_counted(counts)} If you stop, these stay.")
        latest = progress.latest
        if latest.photograph is not None:
            self._latest = latest
            self._show_latest()

    def look(self, sight: FolderReport) -> None:
        """Show the state of the watched folder."""
        for error in sight.away[:1]:
            self._away.show_message(
                f"{error.happened} Checked again every few seconds; photographs already added "
                "stay.",
                f"{Path(error.subject).name or error.subject} cannot be read",
                trouble=True,
            )
        self._away.setVisible(bool(sight.away))
        self._left.setText(_arriving(sight.arriving))

    def refuse(self, outcomes: Sequence[FileOutcome]) -> None:
        """Add files that could not be imported, each with the reason."""
        self._refusals.add(outcomes)

    def show_tools(self, counts: Sequence[ToolCount]) -> None:
        """Show the photographs by tool, newest first."""
        self._tools.show_counts(counts)

    def show_summary(self, summary: ImportSummary) -> None:
        """Show what is imported after a batch of files, and what can be done next."""
        self._coming = False
        self._refusals.show_outcomes(summary.refused)
        self._bar.show_count(0, 0)
        if self._watched:
            self._rest()
        self.refresh(summary)
        self.reasons.show()

    def refresh(self, summary: ImportSummary) -> None:
        """Show what is imported as the catalog has it now."""
        if not self._coming:
            passed = summary.skipped if self._over else 0
            self._sentence.setText(_counted(summary.counts) + _beside(summary.gone, passed))
        several = len(summary.runs) > 1
        self.back.set_words("Undo all of it" if several else "Undo this import")
        self.back.setVisible(self._over and summary.counts[0] > 0)
        self.show_filing(summary)

    def end(self, summary: ImportSummary) -> None:
        """Show the import at its end."""
        self._over = True
        self.show_summary(summary)
        self._stop.hide()
        self._away.hide()
        self._bar.show()
        self._left.setText("stopped" if summary.stopped or self._watched else "done")
        total = sum(summary.counts)
        plural = "photograph" if total == 1 else "photographs"
        self._count.setText(f"{total} {plural} checked" if total else "No photographs found")
        self._bar.show_count(total, total)
        self.more.set_words("Add more")
        self.reasons.setVisible(total > 0)

    def show_filing(self, summary: ImportSummary) -> None:
        """Show what filed the photographs, what looks alike, how many are not filed."""
        waiting = summary.waiting
        plural = "photograph" if waiting == 1 else "photographs"
        self.unknown.show_numbers(summary.unknown, written=summary.written, aliases=summary.aliases)
        self.file_photographs.set_words(f"Choose the tool for {waiting} {plural}")
        self.file_photographs.setVisible(waiting > 0)
        watching = _COME_BACK if self._watched and not self._over else ""
        self._after.setText(f"{describe_filing(summary)} {watching}".strip())
        self._look_at_latest_again(summary)

    def _look_at_latest_again(self, summary: ImportSummary) -> None:
        """Show where the last photograph is filed by now; nothing if it was undone."""
        latest = self._latest.photograph if self._latest is not None else None
        if latest in summary.photographs:
            now = [outcome for outcome in summary.outcomes if outcome.photograph == latest]
            self._latest = now[-1] if now else None
        if self._latest is None:
            self.last.show_photograph(None, "")
        self._show_latest()

    def _rest(self) -> None:
        """Show that the folder is being watched, with nothing coming in."""
        self._count.setText(f"Waiting for new files in {isolate_direction(self._watched)}")
        self._bar.hide()
        self._left.setText("")

    def _picture_came(self, photograph: str) -> None:
        if self._latest is not None and self._latest.photograph == photograph:
            self._show_latest()

    def _show_latest(self) -> None:
        latest = self._latest
        if latest is not None and latest.photograph is not None:
            # While others are imported the small copy has to do: it exists already.
            large = None if self._coming else self._large.of(latest.photograph)
            pixmap = large or self._thumbnails.of(latest.photograph)
            if pixmap is not None:
                self.last.show_photograph(pixmap, _told(latest))

    def _lay_out(self) -> None:
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(self._left_column(), 53)
        whole.addWidget(Rule(upright=True))
        whole.addLayout(self._right_column(), 47)

    def _left_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(24, 24, 24, 12)
        column.setSpacing(8)
        column.addWidget(self.last, 1)
        line = QHBoxLayout()
        line.addWidget(self._count, 1, Qt.AlignmentFlag.AlignBaseline)
        line.addWidget(self._left, 0, Qt.AlignmentFlag.AlignBaseline)
        column.addLayout(line)
        column.addWidget(self._bar)
        below = QHBoxLayout()
        below.addWidget(self._sentence, 1)
        below.addWidget(self._stop)
        column.addLayout(below)
        column.addWidget(self._away)
        column.addWidget(self._refusals)
        return column

    def _right_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(16, 16, 24, 12)
        column.setSpacing(12)
        column.addWidget(heading("By tool, newest first"))
        column.addWidget(self._tools, 1)
        column.addWidget(self.unknown)
        column.addWidget(self._after)
        column.addWidget(self.reasons, 0, Qt.AlignmentFlag.AlignLeft)
        acts = QHBoxLayout()
        acts.setSpacing(8)
        for act in (self.file_photographs, self.back, self.more):
            acts.addWidget(act)
        acts.addStretch(1)
        column.addLayout(acts)
        return column


def _arriving(files: int) -> str:
    if not files:
        return ""
    return f"{files} {'file' if files == 1 else 'files'} arriving"


def _told(outcome: FileOutcome) -> str:
    name = isolate_direction(Path(outcome.file).name)
    if outcome.stock:
        how = {"card": ", by its card", "followed": ", after that card"}
        return f"{name} → {outcome.stock}{how.get(outcome.rule, '')}"
    return f"{name}, not filed yet"


def _counted(counts: tuple[int, int, int]) -> str:
    new, here, refused = counts
    words = [f"{new} new"]
    if here:
        words.append(f"{here} already here, not stored twice")
    if refused:
        words.append(f"{refused} could not be read")
    return ", ".join(words) + "."


def _beside(gone: int, passed: int) -> str:
    """Return words for photographs undone since and for files skipped."""
    words = []
    if gone:
        words.append(f" {gone} undone or deleted since.")
    if passed:
        words.append(f" {passed} other {'file' if passed == 1 else 'files'} skipped.")
    return "".join(words)


def _speed(per_second: float) -> str:
    if per_second >= 1:
        return f"{per_second:.0f} per second"
    return f"{max(1, 60 * per_second):.0f} per minute"


def _time_left(seconds: float | None) -> str:
    if seconds is None:
        return "counting"
    if seconds < _ABOUT_NOW:
        return "a few seconds left"
    if seconds < _MINUTE:
        return f"about {round(seconds, -1):.0f} seconds left"
    minutes = max(1, round(seconds / _MINUTE))
    return f"about {minutes} {'minute' if minutes == 1 else 'minutes'} left"
