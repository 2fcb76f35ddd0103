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
from planebench.window.screens.photograph.outline_panels import outline_subjects
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

    def __init__(self, context: ScreenContext, photograph: PhotographId) -> None:
        super().__init__()
        self._context = context
        self._id = photograph
        self._model: PhotographModel | None = None
        self._loaded: LoadedPhotograph | None = None
        self._measure = False
        self._brightened = False
        self.workspace = PhotographWorkspace()
        self.panel = PhotographPanel()
        self.view = self.workspace.view
        self.outlines = OutlineController(context, self.panel.reading, self)
        self.pins = PinController(context, self.view, self.panel.pins, self)
        drawing = RingDrawing(self.view, context.jobs, self._pixels, self)
        self.tools = CanvasTools(self.view, self.outlines, drawing, self)
        panels = MeasurePanels(measure=self.panel.measure, scale=self.panel.scale)
        point_tools = PointTools(ruler=self.tools.ruler, scaler=self.tools.scaler)
        self.measures = MeasureController(context, panels, point_tools, self)
        self.carrying = OutlineTransfer(context, self)
        self._reading = LatestRead(context.jobs, self)
        self._previous = ActionButton("Previous")
        self._next = ActionButton("Next")
        self._lay_out()
        self._connect()
        context.edits.happened.connect(self._look_again)
        self._ask()

    @property
    def photograph(self) -> PhotographId:
        """The photograph shown."""
        return self._id

    @property
    @override
    def selected_tools(self) -> tuple[ToolId, ...]:
        """The tool that it shows, for the menus."""
        tool = None if self._model is None else self._model.tool
        return () if tool is None else (tool.id,)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.panel.setFixedWidth(NARROW if self.width() < _NARROW_UNDER else WIDE)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        # Left for another screen: record the reading. Closing the window does not count as leaving.
        if not event.spontaneous() and self.window().isVisible():
            self.tools.deactivate()
            self.outlines.record_reading()

    def arrive(self, outline: OutlineId | None, said: str) -> None:
        """Select an outline once it is loaded, and show a message beside it."""
        self.outlines.expect(outline)
        self.panel.outlines.show_said(said)

    def measure(self) -> None:
        """Make the outline tool active once the photograph is loaded."""
        self._measure = True

    def take(self, code: str) -> None:
        """Activate a tool by its code; naming the active one deactivates it."""
        wanted = "" if code == self.tools.code else code
        if wanted == "pin" and not self.pins.ready():
            self._context.notices.advise(
                "There is nothing to pin yet.",
                remedy="Add a defect or evidence of date in the tool’s record first.",
            )
            wanted = ""
        refused = self.tools.activate(wanted)
        if refused:
            self._context.notices.advise(refused, remedy="Select or draw an outline first.")
        self._show_hand()
        self.view.setFocus()

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.workspace, 1)
        row.addWidget(self.panel)
        self.view.add_layer(self.outlines.layers)
        self.set_regions(self.view, self.panel)
        self.set_title_buttons(self._previous, self._next)
        letters = tuple((letter, words) for letter, (_, words, _) in CANVAS_TOOLS.items())
        self.set_keys(
            *letters,
            ("Shift+J K L", "all of the outline is patina, kept or bright, lost or rust"),
            (", .", "narrower, wider stroke"),
            ("G", "next kind of line"),
            ("Enter", "close the outline; record the reading"),
            ("Backspace", "remove the last piece of the line"),
            ("Ctrl+arrows", "move the whole outline, with the outline tool"),
            ("Delete", "remove the selected point or pin"),
            ("B", "brighten shadows on the screen; the file stays as it is"),
            ("R", "turn the view a quarter"),
            *VIEW_KEYS,
        )

    def _connect(self) -> None:
        self.workspace.tool_chosen.connect(self.take)
        self.workspace.command_chosen.connect(self._act)
        self.view.letter.connect(self._letter)
        self.view.shift_letter.connect(self._say_whole)
        self.view.deactivated.connect(lambda: self.take(""))
        self.view.entered.connect(self.outlines.record_reading)
        self.tools.pinner.placed.connect(self._place_pin)
        self.tools.refused.connect(self.panel.draw.show_refusal)
        self.outlines.ring_refused.connect(self.panel.draw.show_refusal)
        self.tools.drawn_on.connect(lambda: self.panel.draw.show_refusal(""))
        self.tools.drawn.connect(self._draw)
        self.pins.set_wanted.connect(self._take_pin)
        self.outlines.changed.connect(self._show_outlines)
        self.outlines.repaint.connect(self.view.update)
        self._previous.clicked.connect(lambda: self._step(-1))
        self._next.clicked.connect(lambda: self._step(1))
        self._connect_beside()

    def _connect_beside(self) -> None:
        panel = self.panel
        panel.about.view_chosen.connect(lambda view: self._change(view=view))
        panel.about.stage_chosen.connect(lambda stage: self._change(stage=Stage(stage)))
        panel.about.caption_kept.connect(lambda text: self._change(caption=text))
        panel.pins.record_wanted.connect(lambda: self._record(4))
        panel.outlines.chosen.connect(self._choose_outline)
        panel.outlines.surface_chosen.connect(self._set_surface)
        panel.outlines.bin_wanted.connect(lambda key: self.outlines.bin(OutlineId(key)))
        panel.draw.line_chosen.connect(self.tools.set_line)
        panel.record_reading_wanted.connect(self.outlines.record_reading)
        panel.pair_wanted.connect(self._pair)
        panel.carry_wanted.connect(self._carry)
        self.carrying.arrived.connect(self.go)

    def _ask(self) -> None:
        photograph, catalog = self._id, self._context.catalog
        self._reading.ask(lambda _job: load_photograph(catalog, photograph), done=self._show)

    def _show(self, model: PhotographModel) -> None:
        first, self._model = self._model is None, model
        self._show_place(model)
        self.panel.about.show_photograph(model.photograph)
        self.panel.show_partner(model, other_stage(model))
        self.workspace.show_scale(describe_scale(model.photograph))
        self.pins.show(model)
        self.outlines.show(model)
        self.measures.show(model)
        self.panel.offer_surfaces(model)
        self._show_outlines()
        self._show_hand()
        if first and self._measure and model.tool is not None:
            self.take("outline")
        if first:
            self._fetch(model.photograph)

    def _show_place(self, model: PhotographModel) -> None:
        """Show the title, and which photographs of the tool come before and after this one."""
        up = "the photographs"
        if model.tool is not None:
            up = f"{model.tool.line.stock_number} {model.tool.line.title}"
        place, count = model.place, len(model.siblings)
        remark = f"photograph {place + 1} of {count}" if place >= 0 else "not filed"
        self.set_title(model.title, up=up, remark=remark)
        self._previous.set_disabled_reason("" if place > 0 else "This is the first photograph")
        last = place + 1 >= count
        self._next.set_disabled_reason("This is the last photograph" if last else "")

    def _fetch(self, photograph: Photograph) -> None:
        """Show the small copy at once, then one that fills the window, then the whole."""
        catalog, jobs = self._context.catalog, self._context.jobs

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
        if self._loaded is None and self._model is not None and not image.isNull():
            photograph = self._model.photograph
            size = QSizeF(photograph.width, photograph.height)
            seen = self.view.viewport
            keep = self.view.has_picture and not seen.fitted
            self.view.show_picture(Picture((image,), full=size), keep_view=keep)

    def _show_whole(self, loaded: LoadedPhotograph) -> None:
        seen = self.view.viewport
        self._loaded = loaded
        self.view.show_picture(loaded.picture, keep_view=not seen.fitted)
        self.outlines.show_pixels(loaded)

    def _pixels(self) -> Rgb | None:
        return None if self._loaded is None else self._loaded.rgb

    def _say_whole(self, letter: str) -> None:
        """Say what all of the selected outline is: bright or kept, patina, rust or lost."""
        outline, code = self.outlines.outline, CANVAS_TOOLS[letter][0]
        if outline is not None and (code != "patina" or outline.finish == RUST):
            self.outlines.set_whole(code)

    def _letter(self, letter: str) -> None:
        if letter in CANVAS_TOOLS:
            # Pressed again the tool stays active: one presses K before each stroke.
            if CANVAS_TOOLS[letter][0] != self.tools.code:
                self.take(CANVAS_TOOLS[letter][0])
        elif letter in ",.":
            self.tools.brush.grow(1 if letter == "." else -1)
            self.view.update()
        elif letter == "G" and self.tools.code in {"outline", "hole"}:
            self.panel.draw.next_line()
        else:
            self._act({"B": "brighten", "R": "turn"}.get(letter, ""))

    def _act(self, code: str) -> None:
        if code == "brighten":
            self._brightened = not self._brightened
            self.workspace.show_brightened(brightened=self._brightened)
        elif code == "turn":
            self.view.viewport.turn(1)
            self.view.view_changed.emit()
            self.view.update()
        elif code == "fit":
            self.view.fit()
        elif code == "one_to_one":
            self.view.one_to_one()

    def _take_pin(self) -> None:
        if self.tools.code != "pin":
            self.take("pin")

    def _place_pin(self, spot: QPointF) -> None:
        self.pins.place(spot)
        self.take("")

    def _draw(self, ring: tuple[tuple[float, float], ...]) -> None:
        wanted = self.panel.draw.wanted
        if wanted is None:
            self._context.notices.advise(
                "The tool has no surface to outline.",
                remedy="Add a surface with its finish in the tool’s record.",
            )
            return
        self.outlines.draw(ring, wanted)

    def _choose_outline(self, key: str) -> None:
        if not key:
            self.take("")
        self.outlines.choose(OutlineId(key) if key else None)

    def _set_surface(self, key: str) -> None:
        subjects = {} if self._model is None else outline_subjects(self._model)
        if key in subjects:
            self.outlines.set_surface(subjects[key].subject)

    def _show_outlines(self) -> None:
        work = self.outlines
        self.panel.outlines.show_lines(work.lines(), work.chosen)
        if self._model is not None:
            self.panel.outlines.show_surface(outline_subjects(self._model), work.outline)
        self.panel.show_can_record(can=work.can_record, written=work.is_recorded_now)
        self.tools.show_outline()
        self._show_hand()

    def _show_hand(self) -> None:
        code = self.tools.code
        chosen = self.outlines.chosen is not None
        self.workspace.tool_box.select(code)
        self.pins.hide_pins(hidden=code not in {"", "pin"} or chosen)
        outline = self.outlines.outline
        rust = outline is not None and outline.finish == RUST
        self.workspace.show_legend(shown=chosen and self.outlines.can_record, rust=rust)
        self.panel.show_panels(code, chosen=chosen)

    def _step(self, by: int) -> None:
        if self._model is None:
            return
        place = self._model.place + by
        if 0 <= place < len(self._model.siblings):
            wanted = self._model.siblings[place].id
            self.go.emit(routes.PhotographRoute(photograph=wanted, replaces=True))

    def _change(self, **fields: object) -> None:
        photograph, catalog = self._id, self._context.catalog
        typed_fields: PhotographFields = fields  # type: ignore[assignment]  # named by the callers above
        self._context.jobs.edit(
            lambda _job: catalog.photographs.change((photograph,), **typed_fields),
            done=self._context.edits.happened.emit,
        )

    def _record(self, section: int) -> None:
        if self._model is not None and self._model.tool is not None:
            self.go.emit(routes.ToolRoute(tool=self._model.tool.id, section=section))

    def _pair(self) -> None:
        if self._model is not None and self._model.tool is not None:
            pairs = self._model.tool.pairs
            pair = next((p for p in pairs if self._id in {p.before, p.after}), None)
            tool = self._model.tool.id
            self.go.emit(routes.PairRoute(tool=tool, pair=None if pair is None else pair.id))

    def _carry(self) -> None:
        if self._model is not None:
            self.outlines.record_reading()
            self.carrying.carry(self._model, other_stage(self._model), self.outlines.outline)

    def _look_again(self, changes: Changes) -> None:
        tool = self._model.tool if self._model else None
        of_tool = tool is not None and tool.id in changes.tools
        if of_tool or self._id in changes.photographs or changes.catalog_wide:
            self._ask()
