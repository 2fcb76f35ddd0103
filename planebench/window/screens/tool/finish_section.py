"""Section 3: how much of each finish is left, by eye and measured."""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from PySide6.QtWidgets import QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.entries import SurfaceFields
from planebench.catalog.ids import ReadingId, SurfaceId
from planebench.catalog.readings import NewReading
from planebench.catalog.reference import name_of
from planebench.catalog.values import Reading, Surface
from planebench.errors import InputError
from planebench.trade.share_parsing import parse_share
from planebench.trade.shares import Share, format_interval, format_percent, format_share
from planebench.trade.terms import LATEST_FIRST, STAGE_WORDS, Stage, ToolStatus
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.record_sections import RecordSection
from planebench.window.pieces.text import small_label
from planebench.window.routes import PhotographRoute
from planebench.window.screens.tool.entry_form import EntryForm
from planebench.window.screens.tool.form_fields import YES, FormField, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell, RowList
from planebench.window.screens.tool.record_wording import (
    format_short_day,
    list_choices,
    lower_first,
)
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_LATEST = (Stage.FINISHED, Stage.DURING, Stage.AS_FOUND)
_LEFT = "Finish left, by eye (%)"
_STAGES = tuple((stage.value, STAGE_WORDS[stage]) for stage in reversed(_LATEST))


class FinishSection(RecordSectionPanel):
    """One row per surface; opened, its readings and a field for an estimate."""

    def __init__(self, section: RecordSection, record: RecordContext) -> None:
        super().__init__(section, record)
        self.photograph: str | None = None
        self._below = small_label().wrapped()
        section.column.addWidget(self._below)
        self.add_act("add a surface")
        self._readings: RowList | None = None
        self._newest: Stage | None = None

    @override
    def fill(self) -> None:
        """Show the latest reading of each surface, and how much of it is new finish."""
        tool = self.shown.tool
        now = {surface.id: self._now(surface, rust=surface.is_bare) for surface in tool.surfaces}
        self._newest = _newest(now.values())
        self.rows.show_cells(self._cell(surface, now[surface.id]) for surface in tool.surfaces)
        self._say_new(reading for reading in now.values() if reading is not None)
        newest = self._newest
        self.section.set_remark("not measured yet" if newest is None else STAGE_WORDS[newest])
        if self._readings is not None and self.form is not None:
            self._readings.show_cells(self._reading_cells(self.open_key))

    def _say_new(self, readings: Iterable[Reading]) -> None:
        self._below.setText(" ".join(filter(None, map(_new_words, readings))))
        self._below.setVisible(bool(self._below.text()))

    @override
    def form_fields(self, key: str) -> tuple[FormField, ...]:
        """Return estimate, stage, name and finish; for a new surface, name and finish."""
        surface = self._surface(key)
        finish = FormField(
            key="finish",
            label="Finish",
            choices=list_choices("finishes"),
            value="japanning" if surface is None else surface.finish,
            half_width=True,
        )
        if surface is None:
            name = FormField(
                key="name", label="Surface", hint="frog", half_width=True, parse=_parse_name
            )
            return (name, finish)
        return (
            FormField(
                key="share",
                label="Rusted, by eye (%)" if surface.is_bare else _LEFT,
                hint="5 or 0 to 10" if surface.is_bare else "70 or 60 to 80",
                half_width=True,
                parse=self._parse_estimate,
            ),
            FormField(
                key="stage",
                label="Stage",
                choices=_STAGES,
                value=self._stage().value if self.form is None else self.form.text_of("stage"),
                half_width=True,
            ),
            FormField(
                key="name", label="Surface", value=surface.name, half_width=True, parse=_parse_name
            ),
            finish,
            *self._rust_field(surface),
        )

    def _rust_field(self, surface: Surface) -> tuple[FormField, ...]:
        """Return a check box for rust; on bare metal every reading is rust."""
        if surface.is_bare:
            return ()
        return (
            FormField(
                key="rust",
                label="This figure is rust, not finish",
                is_checkbox=True,
                value="" if self.form is None else self.form.text_of("rust"),
            ),
        )

    @override
    def form_text(self, key: str) -> FormText:
        """Return the title and actions of the form."""
        surface = self._surface(key)
        if surface is None:
            return FormText(name="new surface", adding="Add surface")
        return FormText(name=lower_first(surface.name), binning="Delete surface")

    @override
    def extend_form(self, form: EntryForm, key: str) -> None:
        """List the readings of the surface, with actions to estimate and to measure."""
        self._readings = None
        if form.is_adding:
            return
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self._readings = RowList()
        self._readings.bin_wanted.connect(self._bin_reading)
        self._readings.show_cells(self._reading_cells(key))
        column.addWidget(self._readings)
        form.insert_widget(box)
        write = ActionButton("Record estimate", key="Enter")
        # Pressing the button moves the focus off the field, which then saves its text.
        write.clicked.connect(form.begin)
        form.add_act(write)
        measure = ActionButton("Measure on a photograph", icon="measured")
        measure.clicked.connect(self._measure)
        if self.photograph is None:
            measure.set_disabled_reason("There is no photograph yet.")
        form.add_act(measure)

    @override
    def save_field(self, key: str, name: str, value: object) -> None:
        """Save an estimate, or the name or finish of the surface."""
        form = self.form
        if name == "share" and form is not None and isinstance(value, Share):
            new = NewReading(
                tool=self.shown.tool.id,
                surface=SurfaceId(key),
                stage=Stage(form.text_of("stage")),
                share=value,
                rust=self._is_rust(key, form),
            )
            add = self.catalog.readings.add
            self.record.editor.add(lambda: add(new), None, self.show_error)
            form.clear("share")
        elif name in {"finish", "name"}:
            fields, change = cast(SurfaceFields, {name: value}), self.catalog.surfaces.change
            self.record.editor.change(lambda: change(SurfaceId(key), **fields), self.show_error)

    @override
    def save_new(self, values: dict[str, object]) -> None:
        """Add a surface."""
        tool, add = self.shown.tool, self.catalog.surfaces.add
        position = max((one.position for one in tool.surfaces), default=0) + 1
        fields = cast(SurfaceFields, {**values, "position": position, "parts": []})
        self.record.editor.add(
            lambda: add(tool.id, **fields), lambda _new: self.close_saved(), self.show_error
        )

    @override
    def delete(self, key: str) -> None:
        """Delete a surface."""
        if key and key != NEW:
            self.record.editor.change(lambda: self.catalog.surfaces.bin(SurfaceId(key)))

    def _is_rust(self, key: str, form: EntryForm) -> bool:
        surface = self._surface(key)
        bare = surface is not None and surface.is_bare
        return bare or form.text_of("rust") == YES

    def _surface(self, key: str) -> Surface | None:
        return next((one for one in self.shown.tool.surfaces if one.id == key), None)

    def _now(self, surface: Surface, *, rust: bool = False) -> Reading | None:
        readings = (self.shown.tool.reading(surface.id, stage, rust=rust) for stage in LATEST_FIRST)
        return next((reading for reading in readings if reading is not None), None)

    def _stage(self) -> Stage:
        state = self.shown.tool.status
        early = {ToolStatus.AS_FOUND: Stage.AS_FOUND, ToolStatus.ON_BENCH: Stage.DURING}
        return early.get(state, Stage.FINISHED)

    def _cell(self, surface: Surface, now: Reading | None) -> RowCell:
        finish = "rusted" if surface.is_bare else lower_first(name_of("finishes", surface.finish))
        return RowCell(
            key=surface.id,
            deletable=True,
            text=f"{surface.name}, rust" if surface.is_bare else surface.name,
            beneath=f"{finish}{self._was(surface, now)}{self._rusted(surface)}",
            shows_share=True,
            share=None if now is None else now.share,
        )

    def _was(self, surface: Surface, now: Reading | None) -> str:
        """Return the as-found share where there is one, else the stage of an older reading."""
        was = self.shown.tool.reading(surface.id, Stage.AS_FOUND, rust=surface.is_bare)
        if was is not None and was is not now:
            return f", was {format_percent(was.share).removesuffix('%')}"
        if now is None or now.stage is self._newest:
            return ""
        return f", {STAGE_WORDS[now.stage]}"

    def _rusted(self, surface: Surface) -> str:
        """Return the share of rust where the finish is gone."""
        rust = None if surface.is_bare else self._now(surface, rust=True)
        return "" if rust is None else f", rusted {format_percent(rust.share)}"

    def _reading_cells(self, key: str) -> tuple[RowCell, ...]:
        of_it = [one for one in self.shown.tool.readings if one.surface == key]
        of_it.sort(key=lambda one: one.read_at, reverse=True)
        return tuple(
            RowCell(
                key=one.id,
                deletable=True,
                text=f"{'rust ' if one.finish == 'rust' else ''}{format_share(one.share)}",
                beneath=self._how(one),
                at_length=True,
            )
            for one in of_it
        )

    def _how(self, reading: Reading) -> str:
        """Return the stage, day, person, views and method of a reading."""
        day = format_short_day(reading.read_at.date(), self.shown.today, self.shown.order)
        by = (STAGE_WORDS[reading.stage], day, reading.read_by, self._views(reading))
        return ", ".join(filter(None, (*by, reading.method, reading.note)))

    def _views(self, reading: Reading) -> str:
        """Name the views it was measured on: "top view"."""
        on = {area.photograph for area in reading.areas}
        views = [one.view for one in self.shown.tool.photographs if one.id in on and one.view]
        names = [name_of("views", view) for view in dict.fromkeys(views)]
        return f"{' and '.join(names)} view{'s' if len(names) > 1 else ''}" if names else ""

    def _bin_reading(self, key: str) -> None:
        self.record.editor.change(lambda: self.catalog.readings.bin(ReadingId(key)))

    def _measure(self) -> None:
        photograph = self.shown.photograph(self.photograph)
        if photograph is not None:
            self.record.go(PhotographRoute(photograph=photograph.id, measure=True))

    @staticmethod
    def _parse_estimate(typed: str) -> Share | None:
        return parse_share(typed, field=_LEFT) if typed.strip() else None


def _newest(readings: Iterable[Reading | None]) -> Stage | None:
    stages = {reading.stage for reading in readings if reading is not None}
    return next((stage for stage in LATEST_FIRST if stage in stages), None)


def _new_words(reading: Reading) -> str:
    if reading.new_finish is None:
        return ""
    new = f"{format_percent(reading.new_finish)} {format_interval(reading.new_finish)}"
    return f"{new} of the {format_percent(reading.share)} is new finish over losses."


def _parse_name(typed: str) -> str:
    if not typed.strip():
        raise InputError("A surface needs a name.", remedy="Try frog.", subject="name")
    return typed.strip()
