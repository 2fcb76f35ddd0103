"""What changed: each surface as found and finished, and what a buyer must be told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from planebench.catalog.reference import open_list
from planebench.trade.shares import Share, format_interval, format_percent
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.hatching import AreaBar, AreaPart, Hatch
from planebench.window.pieces.lines import MessageNote
from planebench.window.pieces.share_scale import ShareScale, reading_of
from planebench.window.pieces.side_panel import add_and_show, clear_layout, margin_free_column
from planebench.window.pieces.text import Ink, Label, heading, small_label
from planebench.window.screens.pair.pair_model import SurfaceChange

_TOLD_FROM = 0.005
_HOW_TO_READ = (
    "Upper line: as found. Lower line: finished. Solid lines are measured, with their 90% "
    "interval; dashed lines are by eye."
)
_NONE_READ = (
    "No finish has been measured yet. Outline a surface on either photograph, or record an "
    "estimate in the tool’s record."
)


class ChangedPanel(QWidget):
    """A figure of two lines for each surface.

    Signals: `new_finish_wanted(SurfaceChange)` to record the gain as new finish.
    """

    new_finish_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._wide = 320
        self._changes: tuple[SurfaceChange, ...] = ()
        self._about = Label(ink=Ink.MUTED).wrapped()
        self._rows = QVBoxLayout()
        self._rows.setSpacing(12)
        column = margin_free_column(self)
        column.addWidget(heading("What changed"))
        column.addWidget(self._about)
        column.addSpacing(4)
        column.addLayout(self._rows)

    def show_changes(self, changes: Sequence[SurfaceChange]) -> None:
        """Show these surfaces."""
        if tuple(changes) == self._changes and self._rows.count():
            return
        self._changes = tuple(changes)
        clear_layout(self._rows)
        self._about.setText(_HOW_TO_READ if changes else _NONE_READ)
        for change in changes:
            add_and_show(self._rows, self._figure(change))
        for gain in self._gains(changes):
            add_and_show(self._rows, gain)
        for change in changes:
            if change.new_finish is not None:
                add_and_show(self._rows, _area(change, change.new_finish))

    def set_wide(self, wide: int) -> None:
        """Set the width of the figures in pixels."""
        if wide != self._wide:
            self._wide = wide
            changes, self._changes = self._changes, ()
            self.show_changes(changes)

    def _figure(self, change: SurfaceChange) -> QWidget:
        row = QWidget()
        column = margin_free_column(row, 0)
        title = QHBoxLayout()
        title.setSpacing(6)
        title.addWidget(Label(change.name, strong=True))
        title.addStretch(1)
        found, finished = _percent(change.found), _percent(change.finished)
        title.addWidget(Label(f"{found} →", ink=Ink.MUTED))
        title.addWidget(Label(finished, strong=True))
        column.addLayout(title)
        figure = ShareScale(change.name, width=self._wide)
        readings = []
        if change.found is not None:
            readings.append(reading_of(change.found.share, faint=True))
        if change.finished is not None:
            readings.append(reading_of(change.finished.share))
        figure.show_readings(*readings)
        column.addWidget(figure)
        column.addWidget(small_label(_remark(change)).wrapped())
        return row

    def _gains(self, changes: Sequence[SurfaceChange]) -> Iterator[MessageNote]:
        """Yield a note for each surface that gained: new finish, or a question about it."""
        for change in changes:
            if change.new_finish is not None:
                yield _told(change, change.new_finish)
            elif change.grew:
                yield self._asked(change)

    def _asked(self, change: SurfaceChange) -> MessageNote:
        """Return a note that asks where a gain comes from, since a finish does not grow back."""
        gained = change.gained
        asked = MessageNote(
            f"{_percent_of(gained)} more of the surface is covered than before the work, and "
            "a finish does not grow back. If new finish was applied, record it: the buyer "
            "must be told.",
            f"{change.name}: where does the gain come from?",
            trouble=True,
        )
        act = ActionButton("New finish was applied")
        act.clicked.connect(lambda: self.new_finish_wanted.emit(change))
        asked.add_below(act)
        return asked


def _told(change: SurfaceChange, new: Share) -> MessageNote:
    return MessageNote(
        f"{_new_name(change)} covers losses on {_percent_of(new)} of the surface. The sheet "
        "says so near the top.",
        "The buyer must be told",
        trouble=True,
    )


def _area(change: SurfaceChange, new: Share) -> QWidget:
    box = QWidget()
    column = margin_free_column(box, 4)
    column.addWidget(Label(f"{change.name}, finished", strong=True))
    bar = AreaBar(change.name)
    whole = 0.0 if change.finished is None else float(change.finished.share.value)
    first = max(0.0, whole - float(new.value))
    parts = (
        AreaPart(hatch=Hatch.KEPT, share=first, word="first finish"),
        AreaPart(hatch=Hatch.NEW_FINISH, share=min(whole, float(new.value)), word="new"),
        AreaPart(hatch=Hatch.LOST, share=1 - whole, word="lost"),
    )
    bar.show_parts(tuple(part for part in parts if part.share >= _TOLD_FROM))
    column.addWidget(bar)
    return box


def _remark(change: SurfaceChange) -> str:
    """Return in a few words what the two lines mean."""
    if change.found is None:
        return "not measured as found"
    if change.finished is None:
        return "not measured as finished yet"
    if change.rust:
        return "share of the bare metal that is rusted"
    return _remark_on_both(change)


def _remark_on_both(change: SurfaceChange) -> str:
    if not change.unlike:
        return "the two readings agree within their intervals"
    if change.new_finish is not None:
        return "gained by new finish, not by cleaning"
    return "more than was found" if change.grew else "less is left than was found"


def _new_name(change: SurfaceChange) -> str:
    row = open_list("finishes").get(change.surface.finish)
    name = "new finish" if row is None else str(row.more.get("name_new") or "new finish")
    return name[:1].upper() + name[1:]


def _percent(reading: object) -> str:
    share = getattr(reading, "share", None)
    return format_percent(share) if isinstance(share, Share) else "not measured"


def _percent_of(share: Share) -> str:
    about = "about " if share.is_approximate else ""
    return f"{about}{format_percent(share)} {format_interval(share)}"
