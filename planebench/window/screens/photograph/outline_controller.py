"""The chosen outline: its ring, its strokes, its reading, and what is recorded of it."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, QTimer, Signal

from planebench.catalog.changes import Changes
from planebench.catalog.ids import OutlineId
from planebench.catalog.values import Outline
from planebench.errors import PlanebenchError
from planebench.photo import outline as shapes
from planebench.trade.shares import format_percent
from planebench.window.context import ScreenContext
from planebench.window.screens.photograph.judging import (
    JudgingDesk,
    JudgingRequest,
    JudgingResult,
    SecondLight,
    open_judging,
)
from planebench.window.screens.photograph.outline_panels import OutlineSubject, OutlineSummary
from planebench.window.screens.photograph.outline_reading import (
    ReadingDetails,
    is_recorded,
    new_reading,
    reading_details,
    recorded_share,
    share_of,
)
from planebench.window.screens.photograph.outline_rings import EditableOutline, ring_error
from planebench.window.screens.photograph.photograph_model import (
    LoadedPhotograph,
    PhotographModel,
    other_lights,
)
from planebench.window.screens.photograph.photograph_overlay import PhotographOverlay
from planebench.window.screens.photograph.reading_panel import ReadingPanel
from planebench.window.screens.photograph.stroke_tool import (
    OutlineStroke,
    outline_under,
    stroke_overlaps,
    strokes_from_json,
    strokes_to_json,
)

# The reading is shown first and the stroke then saved, but no later than this.
_WRITTEN_WITHIN_S = 1.0


class OutlineController(QObject):
    """Holds the selected outline; fills `layers` and the reading panel.

    Signals: `changed()` when the lists beside the photograph need refreshing, `repaint()`,
    `ring_refused(str, str)` with why a ring encloses nothing and what to do.
    """

    changed = Signal()
    repaint = Signal()
    ring_refused = Signal(str, str)

    def __init__(self, context: ScreenContext, panel: ReadingPanel, parent: QObject) -> None:
        super().__init__(parent)
        self.layers = PhotographOverlay()
        self.chosen: OutlineId | None = None
        self.strokes: tuple[OutlineStroke, ...] = ()
        self.second_light = self.whole = ""
        self._context = context
        self._panel = panel
        self._model: PhotographModel | None = None
        self._loaded: LoadedPhotograph | None = None
        self._shape = shapes.PixelOutline(polygons=())
        self._finish = ""
        self._judged: JudgingResult | None = None
        self._writing = 0
        self._answered = Event()
        self._answered.set()
        self._drawn_now: OutlineId | None = None
        self._desk = JudgingDesk(context.jobs, open_judging, self)
        self._desk.judged.connect(self._show_judged)
        self._desk.failed.connect(self._show_refusal)
        panel.stroke_off_wanted.connect(self.remove_stroke)
        panel.second_light_chosen.connect(self.use_second_light)
        panel.whole_chosen.connect(self.set_whole)

    @property
    def outline(self) -> Outline | None:
        """The chosen outline as the catalog has it."""
        outlines = () if self._model is None else self._model.outlines
        return next((one for one in outlines if one.id == self.chosen), None)

    def show(self, model: PhotographModel) -> None:
        """Show what the catalog has; an edit still being saved here is newer and stays."""
        was, self._model = self._model, model
        drawn, self._drawn_now = self._drawn_now, None
        if drawn is not None and any(one.id == drawn for one in model.outlines):
            self.choose(drawn)
        if not self._writing:
            self._follow_chosen()
        rescaled = was is not None and was.photograph.scale != model.photograph.scale
        if rescaled and self._judged is not None:
            self._panel.show_judged(self._judged, self._details())
        self._show_others()
        self.changed.emit()

    def expect(self, outline: OutlineId | None) -> None:
        """Choose this outline once the catalog shows it."""
        self._drawn_now = outline

    def show_pixels(self, loaded: LoadedPhotograph) -> None:
        """Take the full-size photograph and judge what waits for it."""
        self._loaded = loaded
        self._ask()

    def choose(self, outline: OutlineId | None) -> None:
        """Select an outline, or none; the reading of the one left is recorded."""
        if outline == self.chosen:
            return
        self.record_reading()
        self.chosen = outline
        self._judged = None
        self._shape = shapes.PixelOutline(polygons=())
        self.strokes, self.second_light, self.whole = (), "", ""
        self.layers.chosen = None
        self._show_layers(None)
        if self.outline is not None:
            self._take_over(self.outline)
        self._show_others()
        self.changed.emit()

    def lines(self) -> tuple[OutlineSummary, ...]:
        """Return a summary of each outline on the photograph."""
        if self._model is None:
            return ()
        return tuple(self._line(self._model, one) for one in self._model.outlines)

    def accepts(self, ring: tuple[tuple[float, float], ...]) -> bool:
        """Return whether a ring encloses anything; if not, emit why."""
        if self._model is None:
            return False
        photograph = self._model.photograph
        error = ring_error(ring, (photograph.width, photograph.height))
        if error is not None:
            self.ring_refused.emit(error.happened, error.remedy)
        return error is None

    def draw(self, ring: tuple[tuple[float, float], ...], wanted: OutlineSubject) -> None:
        """Add an outline of a surface and of the finish it is judged for."""
        if self._model is None:
            return
        shape = shapes.PixelOutline(polygons=(shapes.Polygon(outer=ring),))
        photograph, catalog = self._model.photograph, self._context.catalog
        polygons = shapes.outline_to_json(shape)
        surface, finish = wanted
        self._context.jobs.edit(
            lambda _job: catalog.outlines.add(
                photograph.id, surface, finish=finish, polygons=polygons
            ),
            done=lambda added: self._drawn(added.id, added.changes),
            owner=self,
        )

    def alter(self, shape: shapes.PixelOutline) -> None:
        """Save a changed shape of the selected outline."""
        if self.chosen is None or shape == self._shape:
            return
        self._shape = shape
        outline, catalog = self.chosen, self._context.catalog
        polygons = shapes.outline_to_json(shape)
        self._ask()
        self._write(lambda: catalog.outlines.change(outline, polygons=polygons))

    def stroke(self, stroke: OutlineStroke) -> None:
        """Add a stroke to the selected outline; one inside another outline selects that."""
        if not stroke_overlaps(stroke, self._shape):
            other = outline_under(stroke, () if self._model is None else self._model.outlines)
            if other is None:
                self._context.notices.advise(
                    "The stroke is outside every outline.",
                    remedy="Draw it inside the outline you want to correct.",
                )
                return
            self.choose(other)
        self._set_strokes((*self.strokes, stroke))

    def remove_stroke(self, number: int = -1) -> None:
        """Remove a stroke, counted from 0; the last one by default."""
        if self.strokes:
            at = number % len(self.strokes)
            self._set_strokes(self.strokes[:at] + self.strokes[at + 1 :])

    def use_second_light(self, photograph: str) -> None:
        """Judge together with another photograph of the view; an empty id judges this one alone."""
        self.second_light = photograph
        self._set_strokes(self.strokes)

    def set_whole(self, kind: str) -> None:
        """Say what all of the selected outline is, save its strokes; said again it is dropped."""
        self.whole = "" if kind == self.whole else kind
        self._set_strokes(self.strokes)

    def set_surface(self, subject: OutlineSubject) -> None:
        """Say that the selected outline goes around another surface or finish."""
        outline, catalog = self.outline, self._context.catalog
        if outline is None or (outline.surface, outline.finish) == subject:
            return
        surface, finish = subject
        self._judged = None
        self._context.jobs.edit(
            lambda _job: catalog.outlines.set_surface(outline.id, surface, finish=finish),
            done=self._context.edits.happened.emit,
        )

    def bin(self, outline: OutlineId) -> None:
        """Delete an outline (into the bin)."""
        if outline == self.chosen:
            self._judged = None
            self.choose(None)
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.outlines.bin(outline), done=self._context.edits.happened.emit
        )

    def record_reading(self) -> None:
        """Record the reading, unless nothing is judged or the same is recorded already."""
        judged, outline, model = self._judged, self.outline, self._model
        if judged is None or outline is None or model is None:
            return
        request, verdict = judged.request, judged.verdict
        same = (request.strokes, request.outline, request.whole)
        if same != (self.strokes, self._shape, self.whole) or verdict.asks_whole:
            return
        if is_recorded(model, outline, judged.verdict):
            return
        new = new_reading(model, outline, judged.verdict, strokes=len(self.strokes))
        if new is None:
            return
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.readings.add(new),
            done=lambda added: self._context.edits.happened.emit(added.changes),
        )

    @property
    def can_record(self) -> bool:
        """Whether there is a reading that could be recorded."""
        verdict = None if self._judged is None else self._judged.verdict
        return verdict is not None and verdict.share is not None and not verdict.asks_whole

    @property
    def is_recorded_now(self) -> bool:
        """Whether the reading shown is recorded already."""
        judged, outline, model = self._judged, self.outline, self._model
        if judged is None or outline is None or model is None:
            return False
        return is_recorded(model, outline, judged.verdict)

    def _drawn(self, outline: OutlineId, changes: Changes) -> None:
        self._drawn_now = outline
        self._context.edits.happened.emit(changes)

    def _set_strokes(self, strokes: tuple[OutlineStroke, ...]) -> None:
        if self.chosen is None:
            return
        self.strokes = strokes
        self.layers.strokes.strokes = strokes
        outline, catalog = self.chosen, self._context.catalog
        written = strokes_to_json(strokes, second_light=self.second_light, whole=self.whole)
        self._ask()
        self._write(lambda: catalog.outlines.change(outline, strokes=written))
        self.repaint.emit()
        self.changed.emit()

    def _write(self, verb: Callable[[], Changes]) -> None:
        """Save edits in order, each after the reading it changes is shown."""
        answered = self._answered

        def write() -> Changes:
            answered.wait(_WRITTEN_WITHIN_S)
            return verb()

        self._writing += 1
        self._context.jobs.edit(
            lambda _job: write(), done=self._written, failed=self._not_written, owner=self
        )

    def _written(self, changes: Changes) -> None:
        self._writing -= 1
        self._context.edits.happened.emit(changes)

    def _not_written(self, error: Exception) -> None:
        self._writing -= 1
        self._context.notices.trouble(error)

    def _follow_chosen(self) -> None:
        """Refresh the selected outline; deselect it when it is gone."""
        if self.outline is not None:
            self._take_over(self.outline)
        elif self.chosen is not None:
            self.choose(None)

    def _take_over(self, outline: Outline) -> None:
        """Take the selected outline from the catalog, as after undo."""
        shape = shapes.outline_from_json(outline.polygons)
        strokes = strokes_from_json(outline.strokes)
        second = str(outline.strokes.get("second_light") or "")
        whole = str(outline.strokes.get("whole") or "")
        if self._model is not None:
            self._panel.offer_lights(other_lights(self._model), second)
        now = (shape, strokes, second, whole, outline.finish)
        if now == (self._shape, self.strokes, self.second_light, self.whole, self._finish):
            return
        self._shape, self.strokes, self.second_light, self.whole, self._finish = now
        self.layers.chosen = EditableOutline.of(shape)
        self.layers.strokes.strokes = strokes
        self._ask()
        self.repaint.emit()

    def _ask(self) -> None:
        outline, loaded = self.outline, self._loaded
        if outline is None or loaded is None:
            return
        if self._judged is None:
            self._panel.show_waiting("Judging…")
        self._answered.clear()
        self._desk.ask(
            JudgingRequest(
                key=outline.id,
                rgb=loaded.rgb,
                outline=self._shape,
                finish=outline.finish,
                strokes=self.strokes,
                second=self._second(),
                whole=self.whole,
            )
        )

    def _second(self) -> SecondLight | None:
        siblings = () if self._model is None else self._model.siblings
        other = next((one for one in siblings if one.id == self.second_light), None)
        if other is None:
            return None
        pictures = self._context.catalog.pictures
        return SecondLight(photograph=other.id, pixels=lambda: pictures.full(other))

    def _show_judged(self, judged: JudgingResult) -> None:
        QTimer.singleShot(0, self._answered.set)
        if judged.request.key != self.chosen:
            return
        self._judged = judged
        self._show_layers(judged)
        self._panel.show_judged(judged, self._details())
        self.changed.emit()

    def _show_refusal(self, error: Exception) -> None:
        self._answered.set()
        self._judged = None
        self._show_layers(None)
        if isinstance(error, PlanebenchError):
            self._panel.show_refusal(error.happened, error.remedy, self._details())
        else:
            self._context.notices.trouble(error)
        self.changed.emit()

    def _show_layers(self, judged: JudgingResult | None) -> None:
        self.layers.show_judged(judged)
        if judged is None:
            self.layers.strokes.strokes = self.strokes
        self.repaint.emit()

    def _show_others(self) -> None:
        outlines = () if self._model is None else self._model.outlines
        self.layers.others = [
            EditableOutline.of(shapes.outline_from_json(one.polygons))
            for one in outlines
            if one.id != self.chosen
        ]
        self.repaint.emit()

    def _line(self, model: PhotographModel, outline: Outline) -> OutlineSummary:
        share = recorded_share(model.tool, outline)
        judged = self._judged
        if judged is not None and judged.request.key == outline.id:
            share = share_of(judged.verdict) or share
        told = "" if share is None else format_percent(share)
        return OutlineSummary(outline=outline.id, words=model.outline_words(outline), share=told)

    def _details(self) -> ReadingDetails:
        verdict = None if self._judged is None else self._judged.verdict
        return reading_details(self._model, self.outline, self._shape, verdict)
