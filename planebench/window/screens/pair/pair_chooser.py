"""Choosing a pair: those that are linked, and two photographs to link."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from planebench.catalog.ids import PhotographId
from planebench.catalog.values import Pair, Photograph, Tool
from planebench.trade.terms import Stage
from planebench.window.context import ScreenContext
from planebench.window.photograph_names import title_of
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import MessageNote, SectionHeading
from planebench.window.pieces.photo_slot import PhotoSlot
from planebench.window.pieces.side_panel import clear_layout, margin_free_column
from planebench.window.pieces.text import Ink, Label, small_label
from planebench.window.thumbnails import Thumbnails

_PLACE = QSize(168, 112)
_EACH_ROW = 3


class PairChooser(QWidget):
    """The pairs of a tool, and its photographs to choose two from.

    Signals: `opened(str)` a pair's id; `linked(str, str)` ids of before and after;
    `photographs_wanted()`; `unlinked(str)` a pair's id.
    """

    opened = Signal(str)
    linked = Signal(str, str)
    unlinked = Signal(str)
    photographs_wanted = Signal()

    def __init__(self, context: ScreenContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._thumbnails = Thumbnails(context, self)
        self._thumbnails.ready.connect(self._ready)
        self._waiting: dict[str, list[PhotoSlot]] = {}
        self._before: dict[PhotographId, PhotoSlot] = {}
        self._after: dict[PhotographId, PhotoSlot] = {}
        self._tool: Tool | None = None
        self._column = QVBoxLayout()
        self._link = ActionButton("Align the two", weight=ButtonWeight.MAIN)
        self._link.clicked.connect(self._linked)
        self._lay_out()

    @property
    def before(self) -> dict[PhotographId, PhotoSlot]:
        """The slots of the photographs that can be the one before."""
        return self._before

    @property
    def after(self) -> dict[PhotographId, PhotoSlot]:
        """The slots of the photographs that can be the one after."""
        return self._after

    @property
    def link(self) -> ActionButton:
        """The button that links the two selected."""
        return self._link

    def show_tool(self, tool: Tool) -> None:
        """Show the pairs of a tool and its photographs."""
        self._tool = tool
        self._waiting, self._before, self._after = {}, {}, {}
        self._link.setParent(self)
        clear_layout(self._column)
        if tool.pairs:
            self._column.addWidget(SectionHeading("Pairs of this tool", ruled=False))
            for pair in tool.pairs:
                self._column.addWidget(self._pair_row(tool, pair))
        self._column.addWidget(SectionHeading("Link two photographs", ruled=bool(tool.pairs)))
        self._offer_two(tool)

    def _offer_two(self, tool: Tool) -> None:
        """Show the photographs of both sides, or say which side is missing."""
        before = [one for one in tool.photographs if one.stage is not Stage.FINISHED]
        after = [one for one in tool.photographs if one.stage is not Stage.AS_FOUND]
        if not before or not after:
            self._column.addWidget(self._wanting(before))
            return
        self._column.addWidget(self._sides(before, after))
        self._column.addWidget(self._foot())
        self._suggest(tool)

    def _foot(self) -> QWidget:
        foot = QWidget()
        line = QHBoxLayout(foot)
        line.setContentsMargins(0, 8, 0, 0)
        line.addWidget(self._link)
        line.addStretch(1)
        self._link.show()
        return foot

    def _sides(self, before: Sequence[Photograph], after: Sequence[Photograph]) -> QWidget:
        sides = QWidget()
        row = QHBoxLayout(sides)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(32)
        row.addWidget(self._side("Before", before, self._before), 1, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._side("After", after, self._after), 1, Qt.AlignmentFlag.AlignTop)
        return sides

    def _lay_out(self) -> None:
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inside = QWidget()
        column = margin_free_column(inside, 0)
        column.setContentsMargins(24, 16, 24, 24)
        self._column.setSpacing(12)
        column.addLayout(self._column)
        column.addStretch(1)
        area.setWidget(inside)
        outer = margin_free_column(self, 0)
        outer.addWidget(area)

    def _pair_row(self, tool: Tool, pair: Pair) -> QWidget:
        photographs = {one.id: one for one in tool.photographs}
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        for wanted in (pair.before, pair.after):
            if wanted in photographs:
                place = self._place(photographs[wanted])
                place.setCheckable(False)
                place.clicked.connect(lambda _on=False, key=pair.id: self.opened.emit(key))
                row.addWidget(place)
        holder = QWidget()
        words = margin_free_column(holder, 4)
        for wanted in (pair.before, pair.after):
            if wanted in photographs:
                words.addWidget(Label(title_of(photographs[wanted])))
        words.addWidget(small_label("on the sheet" if pair.on_sheet else "not on the sheet"))
        acts = QHBoxLayout()
        acts.setSpacing(8)
        for text, signal in (("Open", self.opened), ("Unlink", self.unlinked)):
            act = ActionButton(text)
            act.clicked.connect(lambda _on=False, s=signal, key=pair.id: s.emit(key))
            acts.addWidget(act)
        acts.addStretch(1)
        words.addLayout(acts)
        row.addWidget(holder, 1)
        return box

    def _side(
        self, name: str, photographs: Sequence[Photograph], places: dict[PhotographId, PhotoSlot]
    ) -> QWidget:
        box = QWidget()
        column = margin_free_column(box)
        column.addWidget(Label(name, strong=True))
        grid = QGridLayout()
        grid.setSpacing(12)
        for number, one in enumerate(photographs):
            cell = QWidget()
            inside = margin_free_column(cell, 2)
            place = self._place(one)
            place.clicked.connect(lambda _on=False, key=one.id, of=places: self._choose(of, key))
            inside.addWidget(place)
            inside.addWidget(_caption(one))
            grid.addWidget(cell, number // _EACH_ROW, number % _EACH_ROW, _TOP_LEFT)
            places[one.id] = place
        grid.setColumnStretch(_EACH_ROW, 1)
        column.addLayout(grid)
        return box

    def _place(self, photograph: Photograph) -> PhotoSlot:
        place = PhotoSlot(title_of(photograph), photograph.view, size=_PLACE)
        self._waiting.setdefault(photograph.id, []).append(place)
        self._show(photograph.id)
        return place

    def _wanting(self, before: Sequence[Photograph]) -> MessageNote:
        side = "finished" if before else "as found"
        wanting = MessageNote(
            f"Add a photograph of the same view, {side}, or change the stage of one you have.",
            f"No photograph {side} yet",
        )
        act = ActionButton("Add photographs", icon="photographs")
        act.clicked.connect(self.photographs_wanted)
        wanting.add_below(act)
        return wanting

    def _suggest(self, tool: Tool) -> None:
        """Select the first two of one view that are not a pair yet."""
        views = {one.id: one.view for one in tool.photographs}
        linked = {(pair.before, pair.after) for pair in tool.pairs}
        for first, second in product(self._before, self._after):
            alike = views[first] and views[first] == views[second]
            if first != second and alike and (first, second) not in linked:
                self._before[first].setChecked(True)
                self._after[second].setChecked(True)
                break
        self._show_can_link()

    def _choose(self, places: dict[PhotographId, PhotoSlot], key: PhotographId) -> None:
        for other, place in places.items():
            place.setChecked(other == key)
        self._show_can_link()

    def _chosen(self, places: dict[PhotographId, PhotoSlot]) -> PhotographId | None:
        return next((key for key, place in places.items() if place.isChecked()), None)

    def _show_can_link(self) -> None:
        before, after = self._chosen(self._before), self._chosen(self._after)
        reason = "" if before and after else "Choose one photograph before the work and one after"
        if before is not None and before == after:
            reason = "These are the same photograph"
        self._link.set_disabled_reason(reason)

    def _linked(self) -> None:
        before, after = self._chosen(self._before), self._chosen(self._after)
        if before is None or after is None or self._tool is None:
            return
        there = [p for p in self._tool.pairs if (p.before, p.after) == (before, after)]
        if there:
            self.opened.emit(there[0].id)
        else:
            self.linked.emit(before, after)

    def _ready(self, photograph: str) -> None:
        self._show(PhotographId(photograph))

    def _show(self, photograph: PhotographId) -> None:
        pixmap = self._thumbnails.of(photograph)
        if pixmap is None or pixmap.isNull():
            return
        image: QImage = pixmap.toImage()
        for place in self._waiting.get(photograph, ()):
            place.show_image(image)


_TOP_LEFT = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft


def _caption(photograph: Photograph) -> QWidget:
    words = Label(title_of(photograph), ink=Ink.MUTED).wrapped()
    words.setFixedWidth(_PLACE.width())
    return words
