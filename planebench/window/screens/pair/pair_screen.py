"""Before and after: a pair of photographs aligned, and what changed between them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QSizeF
from PySide6.QtGui import QImage, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedLayout, QWidget
from typing_extensions import override

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PairId, PhotographId, ToolId
from planebench.catalog.pair_alignment import PairAlignment
from planebench.catalog.values import Tool
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces import photo_comparison
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.photo_canvas import VIEW_KEYS
from planebench.window.pieces.photo_comparison import ComparisonMode
from planebench.window.pieces.photo_layers import MaskLayer
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.side_panel import NARROW, WIDE
from planebench.window.screens.pair.matching_points import MatchingPoints
from planebench.window.screens.pair.pair_chooser import PairChooser
from planebench.window.screens.pair.pair_controller import AlignmentController
from planebench.window.screens.pair.pair_model import (
    PairModel,
    PairPictures,
    after_to_before,
    label_of,
    load_pair,
    load_pictures,
    pins_of,
    surface_changes,
)
from planebench.window.screens.pair.pair_panel import PairPanel
from planebench.window.screens.pair.pair_workspace import PairWorkspace

_NARROW_UNDER = 1400
# The margins of the column and its scroll bar, in pixels.
_EDGES = 48 + 14
_BENCH, _CHOOSING = 0, 1


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """What the catalog answers: the tool, and the pair if one is chosen and exists."""

    tool: Tool
    model: PairModel | None


class PairScreen(Screen):
    """A pair of a tool; without a pair, the page to choose one."""

    def __init__(self, context: ScreenContext, tool: ToolId, pair: PairId | None) -> None:
        super().__init__()
        self._context = context
        self._tool = tool
        self._pair = pair
        self._model: PairModel | None = None
        self._pictures: PairPictures | None = None
        self._nudging = False
        self._points: MatchingPoints | None = None
        self._pins_seen = True
        self.workspace = PairWorkspace()
        self.view = self.workspace.view
        self.panel = PairPanel()
        self.choosing = PairChooser(context)
        self._reading = LatestRead(context.jobs, self)
        self.work = AlignmentController(context, self)
        self._pages = QStackedLayout(self)
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._look_again)
        self._ask()

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The tool whose pair is shown, for the menus."""
        return (self._tool,)

    @property
    def alignment(self) -> PairAlignment | None:
        """The alignment, once it is known."""
        return self.work.alignment

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = NARROW if self.width() < _NARROW_UNDER else WIDE
        self.panel.setFixedWidth(wide)
        self.panel.changed.set_wide(wide - _EDGES - 1)

    def choose_another(self) -> None:
        """Show the page to choose a pair."""
        self._pair = None
        self._forget()
        self._ask()

    def nudge(self, *, on: bool) -> None:
        """Start or stop nudging one photograph over the other."""
        on = on and self.work.alignment is not None
        self.work.settle()
        self._nudging = on
        self.view.set_nudging(nudging=on)
        self._show_switches()
        self.view.setFocus()

    def set_points(self, *, on: bool) -> None:
        """Start or stop setting matching points."""
        if on:
            self.nudge(on=False)
        self._points = MatchingPoints() if on else None
        self.view.set_points(self._points)
        self._show_alignment(whole=True)
        self.view.setFocus()

    def _lay_out(self) -> None:
        page = QWidget()
        row = QHBoxLayout(page)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.workspace, 1)
        row.addWidget(self.panel)
        self._pages.addWidget(page)
        self._pages.addWidget(self.choosing)
        self._another = ActionButton("Choose another pair")
        self._another.clicked.connect(self.choose_another)
        self.set_title_buttons(self._another)
        self.set_regions(self.view, self.panel)
        self.set_keys(
            ("D B C", "divider, side by side, changes"),
            ("Left, Right", "move the divider; Shift for small steps"),
            ("Space", "switch between before and after, with changes shown"),
            ("P", "show or hide the pins"),
            ("arrows, Enter", "set matching points by keyboard, while aligning by points"),
            ("N", "nudge: arrows move the second photograph, Enter ends it"),
            *VIEW_KEYS,
        )

    def _connect(self) -> None:
        self.workspace.command_chosen.connect(self._act)
        view = self.view
        view.mode_changed.connect(lambda _mode: self._compare())
        view.nudged.connect(self.work.nudge)
        self.work.changed.connect(self._alignment_changed)
        self.work.compared.connect(self._show_changed)
        self.work.failed.connect(self._not_aligned)
        view.points_changed.connect(self._show_points)
        view.points_done.connect(self._align_by_points)
        view.points_over.connect(lambda: self.set_points(on=False))
        view.nudge_over.connect(lambda: self.nudge(on=False))
        view.nudge_wanted.connect(lambda: self._act("nudge"))
        view.pins_wanted.connect(lambda: self._act("pins"))
        self._connect_beside()

    def _connect_beside(self) -> None:
        panel = self.panel
        panel.nudge_wanted.connect(lambda: self._act("nudge"))
        panel.carry_pins_wanted.connect(lambda: self.work.carry(pins=True))
        panel.carry_outlines_wanted.connect(lambda: self.work.carry(pins=False))
        panel.alignment.points_wanted.connect(lambda: self.set_points(on=True))
        panel.alignment.align_wanted.connect(self._align_by_points)
        panel.alignment.points_over.connect(lambda: self.set_points(on=False))
        panel.alignment.reset_wanted.connect(self.work.reset)
        panel.on_sheet_wanted.connect(self._put_on_sheet)
        panel.photograph_wanted.connect(self._open_photograph)
        panel.changed.new_finish_wanted.connect(self.work.write_new_finish)
        choosing = self.choosing
        choosing.opened.connect(self._open)
        choosing.linked.connect(self._link)
        choosing.unlinked.connect(self._unlink)
        choosing.photographs_wanted.connect(self._photographs_in)

    def _ask(self) -> None:
        tool, pair, catalog = self._tool, self._pair, self._context.catalog
        self._reading.ask(lambda _job: _found(catalog, tool, pair), done=self._show)

    def _show(self, found: _Found) -> None:
        line = found.tool.line
        up = f"{line.stock_number} {line.title}"
        if found.model is None:
            self._forget()
            self.set_title("Before and after", up=up)
            self.set_regions(self.choosing)
            self._another.hide()
            self.choosing.show_tool(found.tool)
            self._pages.setCurrentIndex(_CHOOSING)
            return
        first, self._model = self._model is None, found.model
        model = found.model
        remark = f"pair {model.place} of {len(model.tool.pairs)}"
        self.set_title(model.title, up=up, remark=remark)
        self.set_regions(self.view, self.panel)
        self._another.show()
        self._pages.setCurrentIndex(_BENCH)
        if first:
            self.panel.alignment.show_waiting()
        self.work.show(model)
        self.panel.show_pair(model)
        self.panel.changed.show_changes(surface_changes(model.tool))
        self._show_alignment()
        if first:
            self._fetch(model)

    def _fetch(self, model: PairModel) -> None:
        catalog, pair = self._context.catalog, model.pair
        self._context.jobs.read(
            lambda job: load_pictures(catalog, model, job),
            done=lambda pictures: self._show_pictures(pair.id, pictures),
            owner=self,
            text="Opening the two photographs",
        )

    def _show_pictures(self, pair: PairId, pictures: PairPictures) -> None:
        if pair != self._pair:
            return
        self._pictures = pictures
        self._show_alignment(whole=True)
        self._compare()

    def _show_alignment(self, *, whole: bool = False) -> None:
        """Show the two with the present alignment; `whole` also fits them."""
        model, pictures = self._model, self._pictures
        if model is None:
            return
        self._show_switches()
        if self.work.alignment is not None:
            stored = model.pair.alignment is not None
            self.panel.alignment.show_alignment(self.work.alignment, model.after, stored=stored)
        self._show_points()
        aligned = self.work.trusted or self.work.alignment is None
        self.panel.show_alignment_first(first=not aligned, alone=self._points is not None)
        # Matching points are set on the photographs as they are.
        alignment = self.work.alignment if self._points is None else None
        mapping = after_to_before(model, alignment)
        before, after = pins_of(model, mapping) if self._pins_seen else ([], [])
        self.view.set_pins(before, after)
        if pictures is None:
            return
        pair = photo_comparison.ComparedPhotographs(
            before=pictures.before,
            after=pictures.after,
            after_to_before=mapping,
            before_label=label_of(model.before),
            after_label=label_of(model.after),
        )
        self.view.show_pair(pair, keep_view=not whole)

    def _show_switches(self) -> None:
        self.workspace.show_switches(nudging=self._nudging, pins=self._pins_seen)
        work = self.work
        alignment = work.alignment is not None
        self.panel.show_can(nudging=self._nudging, alignment=alignment, trusted=work.trusted)

    def _alignment_changed(self) -> None:
        self.view.set_changed(())
        if not self.work.trusted:
            self.view.set_mode(ComparisonMode.SIDE_BY_SIDE)
        self._show_alignment()
        self._compare()

    def _not_aligned(self, reason: str) -> None:
        """Show why the two could not be aligned, and both side by side."""
        self.panel.alignment.show_trouble(reason)
        self.panel.show_alignment_first(first=True, alone=False)
        self.view.set_mode(ComparisonMode.SIDE_BY_SIDE)

    def _show_points(self) -> None:
        if self._points is not None:
            self.panel.alignment.show_points(self._points)

    def _align_by_points(self) -> None:
        points = self._points
        if points is not None and points.is_complete:
            self.set_points(on=False)
            self.work.align_by_points(*points.arrays())

    def _compare(self) -> None:
        """Compute what changed when that is shown."""
        if self.view.mode is ComparisonMode.CHANGES:
            self.work.compare(self._pictures)

    def _show_changed(self, mask: NDArray[np.uint8]) -> None:
        if self._model is None:
            return
        high, wide = mask.shape
        data: Any = np.ascontiguousarray(mask).data  # its type differs between releases
        image = QImage(data, wide, high, wide, QImage.Format.Format_Grayscale8).copy()
        whole = QSizeF(self._model.before.width, self._model.before.height)
        self.view.set_changed((MaskLayer(image, Hatch.NEW_FINISH, whole),))

    def _act(self, code: str) -> None:
        if code == "pins":
            self._pins_seen = not self._pins_seen
            self._show_alignment()
        elif code == "nudge":
            self.nudge(on=not self._nudging)
        elif code == "fit":
            self.view.fit()
        elif code == "one_to_one":
            self.view.one_to_one()

    def _put_on_sheet(self) -> None:
        if self._model is not None:
            pair, catalog = self._model.pair, self._context.catalog
            self._context.jobs.edit(
                lambda _job: catalog.pairs.set_on_sheet(pair.id, on_sheet=not pair.on_sheet),
                done=self._context.edits.happened.emit,
            )

    def _open_photograph(self, photograph: str) -> None:
        self.go.emit(routes.PhotographRoute(photograph=PhotographId(photograph)))

    def _photographs_in(self) -> None:
        self.go.emit(routes.ImportRoute(tool=self._tool))

    def _open(self, pair: str) -> None:
        self._forget()
        self._pair = PairId(pair)
        self._ask()

    def _link(self, before: str, after: str) -> None:
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.pairs.add(PhotographId(before), PhotographId(after)),
            done=lambda added: self._linked(added.id, added.changes),
            owner=self,
        )

    def _linked(self, pair: PairId, changes: Changes) -> None:
        self._forget()
        self._pair = pair
        self._context.edits.happened.emit(changes)

    def _unlink(self, pair: str) -> None:
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.pairs.bin(PairId(pair)), done=self._context.edits.happened.emit
        )

    def _forget(self) -> None:
        """Forget the pair that was shown."""
        self.work.forget()
        self._model, self._pictures, self._nudging, self._points = None, None, False, None
        self.view.set_points(None)
        self.view.set_nudging(nudging=False)
        self.view.set_changed(())
        self.view.show_pair(None)

    def _look_again(self, changes: Changes) -> None:
        if self._tool in changes.tools or changes.catalog_wide:
            self._ask()


def _found(catalog: Catalog, tool: ToolId, pair: PairId | None) -> _Found:
    model = None if pair is None else load_pair(catalog, tool, pair)
    return _Found(tool=catalog.tools.one(tool) if model is None else model.tool, model=model)
