"""From points set on the photograph to its scale and to measured lengths."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from PySide6.QtCore import QObject

from planebench.catalog.changes import Changes
from planebench.catalog.ids import DefectId
from planebench.catalog.import_reader import CardSeen, card_on
from planebench.catalog.photo_scales import KnownScale, misses_of, scale_json, scale_of
from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Photograph, Tool
from planebench.errors import InputError
from planebench.trade.geometry import Points
from planebench.trade.photo_measurement import (
    HeightAboveCard,
    MeasuredValue,
    measure_angle,
    measure_diameter,
    measure_length,
)
from planebench.trade.photo_scale import PhotoScale
from planebench.trade.terms import Basis
from planebench.window.context import ScreenContext
from planebench.window.photograph_names import capital
from planebench.window.screens.photograph.measure_panels import MeasurePanel, ScalePanel
from planebench.window.screens.photograph.measurement_text import (
    decimal_of,
    describe_fit,
    describe_scale,
    format_measured,
    is_doubtful,
)
from planebench.window.screens.photograph.photograph_model import PhotographModel
from planebench.window.screens.photograph.point_tools import ANGLE, CIRCLE, MARKS, PointsTool


class CardReader(QObject):
    """Looks for a scale card when the panel asks for it, and saves its scale."""

    def __init__(self, context: ScreenContext, panel: ScalePanel, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._panel = panel
        self._model: PhotographModel | None = None
        panel.card_wanted.connect(self._search)

    def show(self, model: PhotographModel) -> None:
        """Show what the catalog has."""
        self._model = model

    def _search(self) -> None:
        if self._model is None:
            return
        photograph, originals = self._model.photograph, self._context.catalog.originals
        self._panel.card.set_busy("Looking")
        self._context.jobs.read(
            lambda _job: card_on(originals, photograph),
            done=lambda seen: self._found(photograph, seen),
            failed=self._failed,
            owner=self,
            text="Looking for a scale card",
        )

    def _found(self, photograph: Photograph, seen: CardSeen | None) -> None:
        self._panel.card.set_busy("")
        if seen is None:
            self._context.notices.advise(
                "No scale card was found in this photograph.",
                remedy="Set the scale by two points, a ruler’s marks or a rectangle.",
            )
            return
        self._tell_doubts(seen)
        catalog = self._context.catalog
        self._context.jobs.edit(
            lambda _job: catalog.photographs.set_scale(photograph.id, seen.scale),
            done=self._context.edits.happened.emit,
        )

    def _tell_doubts(self, seen: CardSeen) -> None:
        tool = None if self._model is None else self._model.tool
        if tool is not None and seen.stock and seen.stock != tool.line.stock_number:
            self._context.notices.advise(
                f"The card in this photograph says {seen.stock}, not {tool.line.stock_number}.",
                remedy="Its scale is used. Check that the photograph is filed under the "
                "right tool.",
            )
        elif seen.warnings:
            self._context.notices.advise(" ".join(seen.warnings))

    def _failed(self, error: Exception) -> None:
        self._panel.card.set_busy("")
        self._context.notices.trouble(error)


_DEFECT, _LENGTH = "defect|", "length|"
# With three marks a projection always fits exactly, so only four say anything.
_TELLING_MARKS = 4


class MeasurePanels(NamedTuple):
    """The two panels beside the photograph."""

    measure: MeasurePanel
    scale: ScalePanel


class PointTools(NamedTuple):
    """The two canvas tools that set points: one for lengths and angles, one for the scale."""

    ruler: PointsTool
    scaler: PointsTool


class MeasureController(QObject):
    """Turns points set on the photograph into lengths, angles and a scale."""

    def __init__(
        self, context: ScreenContext, panels: MeasurePanels, tools: PointTools, parent: QObject
    ) -> None:
        super().__init__(parent)
        self.ruler, self.scaler = tools
        self._context = context
        self._panel, self._scale_panel = panels
        self._card = CardReader(context, panels.scale, self)
        self._model: PhotographModel | None = None
        self._measured: MeasuredValue | None = None
        self.ruler.changed.connect(self._measure)
        self.scaler.changed.connect(self._show_scale)
        self._panel.shape_chosen.connect(self._shape_chosen)
        self._panel.off_plane_changed.connect(self._measure)
        self._panel.use_wanted.connect(self._use)
        self._scale_panel.shape_chosen.connect(self.scaler.set_shape)
        self._scale_panel.apart_typed.connect(self._show_fit)
        self._scale_panel.set_wanted.connect(self._set_scale)
        self._scale_panel.remove_wanted.connect(self._remove_scale)

    def show(self, model: PhotographModel) -> None:
        """Show what the catalog has."""
        self._model = model
        self._card.show(model)
        self._offer()
        self._show_scale()
        self._measure()

    def _shape_chosen(self, shape: str) -> None:
        self.ruler.set_shape(shape)
        self._offer(anew=True)
        self._measure()

    def _offer(self, *, anew: bool = False) -> None:
        tool = self._model.tool if self._model else None
        uses = [] if tool is None else _uses(tool, self._panel.shape.held)
        self._panel.offer([(key, capital(words)) for key, words in uses], anew=anew)

    def _measure(self) -> None:
        points = self.ruler.points
        plane = scale_of(self._model.photograph.scale) if self._model else None
        self._measured = None
        turning = self._panel.shape.held == ANGLE
        if points is not None and plane is not None:
            self._measured = self._reckoned(plane, points)
        unit = "°" if turning else "mm"
        label = "" if self._measured is None else format_measured(self._measured, unit)
        self.ruler.label = label
        self._panel.show_measured(self._measured, scaled=plane is not None)

    def _reckoned(self, plane: PhotoScale, points: Points) -> MeasuredValue | None:
        off: HeightAboveCard | None = None
        try:
            off = self._panel.off_plane()
        except InputError as error:
            field = (
                self._panel.distance if error.subject == "distance" else self._panel.height_above
            )
            field.show_trouble(error)
        try:
            if self._panel.shape.held == ANGLE:
                return measure_angle(plane, points)
            if self._panel.shape.held == CIRCLE:
                return measure_diameter(plane, points, off_plane=off)
            return measure_length(plane, points, off_plane=off)
        except ValueError:
            # Three points on a line are no circle: nothing is shown until one is moved.
            return None

    def _use(self, key: str) -> None:
        measured = self._measured
        tool = self._model.tool if self._model else None
        if measured is None or tool is None or not key:
            return
        catalog = self._context.catalog
        value = decimal_of(measured.value, measured.within)
        within = decimal_of(measured.within, measured.within)
        unit = "°" if self._panel.shape.held == ANGLE else "mm"

        def write() -> Changes:
            if key.startswith(_DEFECT):
                defect = DefectId(key.removeprefix(_DEFECT))
                size = format_measured(measured, unit)
                return catalog.defects.change(defect, size=size, size_basis=Basis.MEASURED)
            what = key.removeprefix(_LENGTH)
            there = next((one for one in tool.dimensions if one.what == what), None)
            if there is not None:
                return catalog.dimensions.change(
                    there.id,
                    value=value,
                    plus_minus=within,
                    as_typed=f"{value} {unit}",
                    basis=Basis.MEASURED,
                )
            return catalog.dimensions.add(
                tool.id,
                what=what,
                value=value,
                plus_minus=within,
                as_typed=f"{value} {unit}",
                basis=Basis.MEASURED,
            ).changes

        self._context.jobs.edit(lambda _job: write(), done=self._context.edits.happened.emit)

    def _show_scale(self) -> None:
        if self._model is None:
            return
        photograph = self._model.photograph
        self._scale_panel.show_scale(
            describe_scale(photograph),
            there=photograph.scale is not None,
            still_to_set=self.scaler.still_to_set,
        )
        self._show_fit()

    def _show_fit(self) -> None:
        """Show how many of a ruler's marks are set, and how far they are off."""
        count, panel = self.scaler.count, self._scale_panel
        if panel.shape.held != MARKS or not count:
            panel.show_fit("")
            return
        misses = _misses(self.scaler.points, panel.step_mm)
        panel.show_fit(describe_fit(count, panel.step_mm, misses), doubtful=is_doubtful(misses))
        self.scaler.label = f"{count} marks" if count > 1 else ""

    def _set_scale(self, known: KnownScale) -> None:
        points = self.scaler.points
        if points is None or self._model is None:
            return
        try:
            scale = scale_json(points, known)
        except (ValueError, ArithmeticError):
            self._context.notices.advise(
                "These points give no scale.",
                remedy="Set them farther apart, corners in the order named.",
                subject="scale",
            )
            return
        photograph, catalog = self._model.photograph.id, self._context.catalog
        self.scaler.clear()
        self._context.jobs.edit(
            lambda _job: catalog.photographs.set_scale(photograph, scale),
            done=self._context.edits.happened.emit,
        )

    def _remove_scale(self) -> None:
        if self._model is not None:
            photograph, catalog = self._model.photograph.id, self._context.catalog
            self._context.jobs.edit(
                lambda _job: catalog.photographs.set_scale(photograph, None),
                done=self._context.edits.happened.emit,
            )


def _misses(points: Points | None, step_mm: float | None) -> float | None:
    """Return how far a ruler's marks are off, as a share of their step; None if unknown."""
    if points is None or len(points) < _TELLING_MARKS or step_mm is None:
        return None
    try:
        return misses_of(points, step_mm) / step_mm
    except (ValueError, ArithmeticError, np.linalg.LinAlgError):
        return None


def _uses(tool: Tool, shape: str) -> list[tuple[str, str]]:
    """Return what a figure can be recorded as (key, words); for a circle defects come first."""
    unit = "deg" if shape == ANGLE else "mm"
    lengths = [
        (f"{_LENGTH}{row.code}", row.name)
        for row in open_list("dimensions").values()
        if row.more.get("unit") == unit
    ]
    if unit != "mm":
        return lengths
    sizes = [
        (f"{_DEFECT}{one.id}", f"Size of defect {one.number}, {name_of('defects', one.kind)}")
        for one in tool.defects
    ]
    return [*sizes, *lengths] if shape == CIRCLE else [*lengths, *sizes]
