"""One photograph large: pins, outlines, what is kept and lost, scale and lengths."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSizeF
from PySide6.QtGui import QHideEvent, QImage, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout
from typing_extensions import override

from planebench.catalog.changes import Changes
from planebench.catalog.ids import OutlineId, PhotographId, ToolId
from planebench.catalog.measuring import RUST
from planebench.catalog.photographs import PhotographFields
from planebench.catalog.values import Photograph
from planebench.trade.terms import Stage
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import LatestRead
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.photo_canvas import VIEW_KEYS
from planebench.window.pieces.picture import Picture
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.side_panel import NARROW, WIDE
from planebench.window.screens.photograph.carry_outlines import OutlineTransfer
from planebench.window.screens.photograph.measure_controller import (
    MeasureController,
    MeasurePanels,
    PointTools,
)
from planebench.window.screens.photograph.measurement_text import describe_scale
from planebench.window.screens.photograph.outline_controller import OutlineController
from planebench.window.screens.photograph.outline_tool import RingDrawing
from planebench.window.screens.photograph.photograph_model import (
    LoadedPhotograph,
    PhotographModel,
    Rgb,
    load_photograph,
    other_stage,
    quick_picture,
    small_picture,
    whole_picture,
)
from planebench.window.screens.photograph.photograph_panel import PhotographPanel
from planebench.window.screens.photograph.photograph_workspace import (
    CANVAS_TOOLS,
    CanvasTools,
    PhotographWorkspace,
)
from planebench.window.screens.photograph.pin_controller import PinController

_NARROW_UNDER = 1400


class PhotographScreen(Screen):
    """The work on one photograph."""

    def __init__(self, given: ScreenContext, photograph: PhotographId) -> None:
        super().__init__()
        self._given = given
        self._id = photograph
        self._shown: PhotographModel | None = None
        self._loaded: LoadedPhotograph | None = None
        self._lifted = False
        self.bench = PhotographWorkspace()
        self.beside = PhotographPanel()
        self.view = self.bench.view
        self.outlines = OutlineController(given, self.beside.reading, self)
        self.pins = PinController(given, self.view, self.beside.pins, self)
        drawer = RingDrawing(self.view, given.jobs, self._pixels, self)
        self.hand = CanvasTools(self.view, self.outlines, drawer, self)
        panels = MeasurePanels(measure=self.beside.measure, scale=self.beside.scale)
        means = PointTools(ruler=self.hand.ruler, scaler=self.hand.scaler)
        self.measures = MeasureController(given, panels, means, self)
        self.carrying = OutlineTransfer(given, self)
        self._reading = LatestRead(given.jobs, self)
        self._take_back = ActionButton("Take back the stroke", icon="take-back")
        self._before = ActionButton("Photograph before")
        self._after = ActionButton("Photograph after")
        self._lay_out()
        self._connect()
        given.edits.happened.connect(self._look_again)
        self._ask()

    @property
    def photograph(self) -> PhotographId:
        """The photograph shown."""
        return self._id

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The tool that it shows, for the menus."""
        tool = None if self._shown is None else self._shown.tool
        return () if tool is None else (tool.id,)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.beside.setFixedWidth(NARROW if self.width() < _NARROW_UNDER else WIDE)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        # Gone to another place: what was read is written down. A window that closes is not one.
        if not event.spontaneous() and self.window().isVisible():
            self.hand.lay_down()
            self.outlines.write_down()

    def arrive(self, outline: OutlineId | None, said: str) -> None:
        """Choose an outline as soon as it is known; what is `said` stands beside it."""
        self.outlines.expect(outline)
        self.beside.outlines.show_said(said)

    def take(self, code: str) -> None:
        """Take a means in hand by its code; the one in hand is laid down when named again."""
        wanted = "" if code == self.hand.code else code
        if wanted == "pin" and not self.pins.ready():
            self._given.notices.advise(
                "There is nothing to pin yet.",
                remedy="Write a defect or a sign of date down in the tool’s record first.",
            )
            wanted = ""
        refused = self.hand.take(wanted)
        if refused:
            self._given.notices.advise(refused, remedy="Choose or draw an outline first.")
        self._show_hand()
        self.view.setFocus()

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.bench, 1)
        row.addWidget(self.beside)
        self.view.add_layer(self.outlines.layers)
        self.set_regions(self.view, self.beside)
        self.set_title_buttons(self._take_back, self._before, self._after)
        self._take_back.hide()
        letters = tuple((letter, words) for letter, (_, words, _) in CANVAS_TOOLS.items())
        self.set_keys(
            *letters,
            ("[ ]", "narrower, wider stroke"),
            ("G", "next kind of line"),
            ("Enter", "close the ring, write the reading down"),
            ("Backspace", "take the last piece of the line back"),
            ("Ctrl arrows", "move the whole outline, while outline is in hand"),
            ("Delete", "take off the chosen point or pin"),
            ("U", "lift shadows; the photograph itself stays as it is"),
            ("R", "turn the view by a quarter"),
            *VIEW_KEYS,
        )

    def _connect(self) -> None:
        self.bench.means_taken.connect(self.take)
        self.bench.act_done.connect(self._act)
        self.view.letter.connect(self._letter)
        self.view.laid_down.connect(lambda: self.take(""))
        self.view.entered.connect(self.outlines.write_down)
        self.hand.pinner.placed.connect(self._place_pin)
        self.hand.refused.connect(self.beside.draw.show_refusal)
        self.outlines.ring_refused.connect(self.beside.draw.show_refusal)
        self.hand.drawn_on.connect(lambda: self.beside.draw.show_refusal(""))
        self.hand.drawn.connect(self._draw)
        self.pins.set_wanted.connect(self._take_pin)
        self.outlines.changed.connect(self._show_outlines)
        self.outlines.repaint.connect(self.view.update)
        self._take_back.clicked.connect(self._take_stroke_off)
        self._before.clicked.connect(lambda: self._step(-1))
        self._after.clicked.connect(lambda: self._step(1))
        self._connect_beside()

    def _connect_beside(self) -> None:
        beside = self.beside
        beside.about.view_chosen.connect(lambda view: self._change(view=view))
        beside.about.stage_chosen.connect(lambda stage: self._change(stage=Stage(stage)))
        beside.about.caption_kept.connect(lambda text: self._change(caption=text))
        beside.pins.record_wanted.connect(lambda: self._record(4))
        beside.outlines.chosen.connect(self._choose_outline)
        beside.outlines.bin_wanted.connect(lambda key: self.outlines.bin(OutlineId(key)))
        beside.draw.line_chosen.connect(self.hand.set_line)
        beside.write_wanted.connect(self.outlines.write_down)
        beside.pair_wanted.connect(self._pair)
        beside.carry_wanted.connect(self._carry)
        self.carrying.arrived.connect(self.go)

    def _ask(self) -> None:
        photograph, catalog = self._id, self._given.catalog
        self._reading.ask(lambda _job: load_photograph(catalog, photograph), done=self._show)

    def _show(self, shown: PhotographModel) -> None:
        first, self._shown = self._shown is None, shown
        up = "the photographs" if shown.tool is None else shown.tool.line.stock_number
        up = up if shown.tool is None else f"{up} {shown.tool.line.title}"
        place = shown.place
        remark = f"photograph {place + 1} of {len(shown.siblings)}" if place >= 0 else "not filed"
        self.set_title(shown.title, up=up, remark=remark)
        self._before.set_disabled_reason("" if place > 0 else "This is the first one")
        last = place + 1 >= len(shown.siblings)
        self._after.set_disabled_reason("This is the last one" if last else "")
        self.beside.about.show_photograph(shown.photograph)
        self.beside.show_partner(shown, other_stage(shown))
        self.bench.show_scale(describe_scale(shown.photograph))
        self.pins.show(shown)
        self.outlines.show(shown)
        self.measures.show(shown)
        self.beside.offer_surfaces(shown)
        self._show_hand()
        if first:
            self._fetch(shown.photograph)

    def _fetch(self, photograph: Photograph) -> None:
        """Show the small copy at once, then one that fills the window, then the whole."""
        catalog, jobs = self._given.catalog, self._given.jobs

        def show_small(image: QImage) -> None:
            self._show_quick(image)
            jobs.read(
                lambda _job: quick_picture(catalog, photograph), done=self._show_quick, owner=self
            )

        jobs.read(lambda _job: small_picture(catalog, photograph), done=show_small, owner=self)
        jobs.read(
            lambda _job: whole_picture(catalog, photograph),
            done=self._show_whole,
            owner=self,
            text="Opening the photograph",
        )

    def _show_quick(self, image: QImage) -> None:
        if self._loaded is None and self._shown is not None and not image.isNull():
            photograph = self._shown.photograph
            size = QSizeF(photograph.width, photograph.height)
            seen = self.view.sight
            keep = self.view.has_picture and not seen.fitted
            self.view.show_picture(Picture((image,), full=size), keep_sight=keep)

    def _show_whole(self, loaded: LoadedPhotograph) -> None:
        seen = self.view.sight
        self._loaded = loaded
        self.view.show_picture(loaded.picture, keep_sight=not seen.fitted)
        self.outlines.show_pixels(loaded)

    def _pixels(self) -> Rgb | None:
        return None if self._loaded is None else self._loaded.rgb

    def _letter(self, letter: str) -> None:
        if letter in CANVAS_TOOLS:
            # Pressed again it stays in hand: one presses K before each stroke without looking.
            if CANVAS_TOOLS[letter][0] != self.hand.code:
                self.take(CANVAS_TOOLS[letter][0])
        elif letter in "[]":
            self.hand.brush.grow(1 if letter == "]" else -1)
            self.view.update()
        elif letter == "G" and self.hand.code in {"outline", "hole"}:
            self.beside.draw.next_line()
        else:
            self._act({"U": "lift", "R": "turn"}.get(letter, ""))

    def _act(self, code: str) -> None:
        if code == "lift":
            self._lifted = not self._lifted
            self.bench.show_lift(lifted=self._lifted)
        elif code == "turn":
            self.view.sight.turn(1)
            self.view.view_changed.emit()
            self.view.update()
        elif code == "whole":
            self.view.fit()
        elif code == "one_to_one":
            self.view.one_to_one()

    def _take_stroke_off(self) -> None:
        self.outlines.take_stroke_off()

    def _take_pin(self) -> None:
        if self.hand.code != "pin":
            self.take("pin")

    def _place_pin(self, spot: QPointF) -> None:
        self.pins.place(spot)
        self.take("")

    def _draw(self, ring: tuple[tuple[float, float], ...]) -> None:
        wanted = self.beside.draw.wanted
        if wanted is None:
            self._given.notices.advise(
                "The tool has no surface to outline.",
                remedy="Add a surface with its finish in the tool’s record.",
            )
            return
        self.outlines.draw(ring, wanted)

    def _choose_outline(self, key: str) -> None:
        if not key:
            self.take("")
        self.outlines.choose(OutlineId(key) if key else None)

    def _show_outlines(self) -> None:
        work = self.outlines
        self.beside.outlines.show_lines(work.lines(), work.chosen)
        strokes = len(work.strokes)
        self._take_back.set_words(f"Take back stroke {strokes}")
        self._take_back.setVisible(strokes > 0)
        self.beside.show_can_write(can=work.can_write, written=work.is_written)
        self.hand.show_outline()
        self._show_hand()

    def _show_hand(self) -> None:
        code = self.hand.code
        chosen = self.outlines.chosen is not None
        self.bench.tray.take(code)
        self.pins.hide_pins(hidden=code not in {"", "pin"} or chosen)
        outline = self.outlines.outline
        rust = outline is not None and outline.finish == RUST
        self.bench.show_key(shown=chosen and self.outlines.can_write, rust=rust)
        self.beside.show_panels(code, chosen=chosen)

    def _step(self, by: int) -> None:
        if self._shown is None:
            return
        place = self._shown.place + by
        if 0 <= place < len(self._shown.siblings):
            wanted = self._shown.siblings[place].id
            self.go.emit(routes.PhotographRoute(photograph=wanted, replaces=True))

    def _change(self, **fields: object) -> None:
        photograph, catalog = self._id, self._given.catalog
        given: PhotographFields = fields  # type: ignore[assignment]  # named by the callers above
        self._given.jobs.edit(
            lambda _job: catalog.photographs.change((photograph,), **given),
            done=self._given.edits.happened.emit,
        )

    def _record(self, section: int) -> None:
        if self._shown is not None and self._shown.tool is not None:
            self.go.emit(routes.ToolRoute(tool=self._shown.tool.id, section=section))

    def _pair(self) -> None:
        if self._shown is not None and self._shown.tool is not None:
            pairs = self._shown.tool.pairs
            pair = next((p for p in pairs if self._id in {p.before, p.after}), None)
            tool = self._shown.tool.id
            self.go.emit(routes.PairRoute(tool=tool, pair=None if pair is None else pair.id))

    def _carry(self) -> None:
        if self._shown is not None:
            self.outlines.write_down()
            self.carrying.carry(self._shown, other_stage(self._shown), self.outlines.outline)

    def _look_again(self, changes: Changes) -> None:
        tool = self._shown.tool if self._shown else None
        of_tool = tool is not None and tool.id in changes.tools
        if of_tool or self._id in changes.photographs or changes.catalog_wide:
            self._ask()
