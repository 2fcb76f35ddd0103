"""Section 3: how much of each finish is left, with readings by eye and measured."""

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
from planebench.window.screens.tool.entry_form import YES, Ask, EntryForm, FormText
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.record_rows import RowCell, RowList
from planebench.window.screens.tool.record_wording import list_choices, lower, short_day
from planebench.window.screens.tool.section_panel import NEW, RecordSectionPanel

_LEFT = "Left, by eye, in percent"
_STAGES = tuple((stage.value, STAGE_WORDS[stage]) for stage in reversed(LATEST_FIRST))


class FinishLeft(RecordSectionPanel):
    """One line a surface; opened, its readings and a line to read it by eye."""

    def __init__(self, place: RecordSection, bench: RecordContext) -> None:
        super().__init__(place, bench)
        self.photograph: str | None = None
        self._below = small_label().wrapped()
        place.column.addWidget(self._below)
        self.add_title_button("add a surface")
        self._readings: RowList | None = None
        self._newest: Stage | None = None

    @override
    def fill(self) -> None:
        """Show for each surface the reading that counts, and what is new finish in it."""
        tool = self.shown.tool
        now = {surface.id: self._now(surface, rust=surface.is_bare) for surface in tool.surfaces}
        self._newest = _newest(now.values())
        self.rows.show_facts(self._fact(surface, now[surface.id]) for surface in tool.surfaces)
        self._say_new(reading for reading in now.values() if reading is not None)
        newest = self._newest
        self.place.set_remark("not read yet" if newest is None else STAGE_WORDS[newest])
        if self._readings is not None and self.form is not None:
            self._readings.show_facts(self._reading_facts(self.open_key))

    def _say_new(self, readings: Iterable[Reading]) -> None:
        self._below.setText(" ".join(filter(None, map(_new_words, readings))))
        self._below.setVisible(bool(self._below.text()))

    @override
    def asks_for(self, key: str) -> tuple[Ask, ...]:
        """Ask for a reading by eye, and for the finish; of a new surface for its name."""
        surface = self._surface(key)
        finish = Ask(
            key="finish",
            label="Finish",
            choices=list_choices("finishes"),
            holds="japanning" if surface is None else surface.finish,
            half=True,
        )
        if surface is None:
            name = Ask(key="name", label="Surface", hint="frog", half=True, read=_read_name)
            return (name, finish)
        return (
            Ask(
                key="share",
                label="Rusted, by eye, in percent" if surface.is_bare else _LEFT,
                hint="5 or 0 to 10" if surface.is_bare else "70 or 60 to 80",
                half=True,
                read=self._read_share,
            ),
            Ask(
                key="stage",
                label="When",
                choices=_STAGES,
                holds=self._stage().value if self.form is None else self.form.text_of("stage"),
                half=True,
            ),
            Ask(key="name", label="Surface", holds=surface.name, half=True, read=_read_name),
            finish,
            *self._ask_for_rust(surface),
        )

    def _ask_for_rust(self, surface: Surface) -> tuple[Ask, ...]:
        """Ask whether a share is rust; of bare metal it always is."""
        if surface.is_bare:
            return ()
        return (
            Ask(
                key="rust",
                label="What I read is rust, not finish left",
                check=True,
                holds="" if self.form is None else self.form.text_of("rust"),
            ),
        )

    @override
    def text_for(self, key: str) -> FormText:
        """Say what the form is for."""
        surface = self._surface(key)
        if surface is None:
            return FormText(name="new surface", adding="Add the surface")
        return FormText(name=lower(surface.name), binning="Into the bin")

    @override
    def dress(self, form: EntryForm, key: str) -> None:
        """List the readings of the surface, and lead to measuring it on a photograph."""
        self._readings = None
        if form.is_adding:
            return
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self._readings = RowList()
        self._readings.bin_wanted.connect(self._bin_reading)
        self._readings.show_facts(self._reading_facts(key))
        column.addWidget(self._readings)
        form.lay_in(box)
        write = ActionButton("Write the share down", key="Enter")
        # A press takes the keyboard from the field, which writes down what stands in it.
        write.clicked.connect(form.begin)
        form.add_title_button(write)
        measure = ActionButton("Measure it on a photograph", icon="measured")
        measure.clicked.connect(self._measure)
        if self.photograph is None:
            measure.set_disabled_reason("It has no photograph yet.")
        form.add_title_button(measure)

    @override
    def keep(self, key: str, name: str, value: object) -> None:
        """Write a reading by eye, or the surface's name or finish."""
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
            self.bench.hand.add(lambda: add(new), None, self.refused)
            form.clear("share")
        elif name in {"finish", "name"}:
            fields, change = cast(SurfaceFields, {name: value}), self.catalog.surfaces.change
            self.bench.hand.change(lambda: change(SurfaceId(key), **fields), self.refused)

    @override
    def write_new(self, values: dict[str, object]) -> None:
        """Add a surface of one's own."""
        tool, add = self.shown.tool, self.catalog.surfaces.add
        position = max((one.position for one in tool.surfaces), default=0) + 1
        fields = cast(SurfaceFields, {**values, "position": position, "parts": []})
        self.bench.hand.add(
            lambda: add(tool.id, **fields), lambda _new: self.written(), self.refused
        )

    @override
    def put_away(self, key: str) -> None:
        """Put a surface in the bin."""
        if key and key != NEW:
            self.bench.hand.change(lambda: self.catalog.surfaces.bin(SurfaceId(key)))

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

    def _fact(self, surface: Surface, now: Reading | None) -> RowCell:
        finish = "rusted" if surface.is_bare else lower(name_of("finishes", surface.finish))
        return RowCell(
            key=surface.id,
            text=f"{surface.name}, rust" if surface.is_bare else surface.name,
            beneath=f"{finish}{self._was(surface, now)}{self._rusted(surface)}",
            read=True,
            share=None if now is None else now.share,
        )

    def _was(self, surface: Surface, now: Reading | None) -> str:
        """Say what it was as found, where that was read too, or when it was read if not last."""
        was = self.shown.tool.reading(surface.id, Stage.AS_FOUND, rust=surface.is_bare)
        if was is not None and was is not now:
            return f", was {format_percent(was.share).removesuffix(' %')}"
        if now is None or now.stage is self._newest:
            return ""
        return f", {STAGE_WORDS[now.stage]}"

    def _rusted(self, surface: Surface) -> str:
        """Say what was read of the rust where a finish is gone."""
        rust = None if surface.is_bare else self._now(surface, rust=True)
        return "" if rust is None else f", rusted {format_percent(rust.share)}"

    def _reading_facts(self, key: str) -> tuple[RowCell, ...]:
        of_it = [one for one in self.shown.tool.readings if one.surface == key]
        of_it.sort(key=lambda one: one.read_at, reverse=True)
        return tuple(
            RowCell(
                key=one.id,
                text=f"{'rust ' if one.finish == 'rust' else ''}{format_share(one.share)}",
                beneath=self._how(one),
                at_length=True,
            )
            for one in of_it
        )

    def _how(self, reading: Reading) -> str:
        """Say at which stage it was read, when, by whom and by what method."""
        day = short_day(reading.read_at.date(), self.shown.today)
        by = (STAGE_WORDS[reading.stage], day, reading.read_by, self._views(reading))
        return ", ".join(filter(None, (*by, reading.method, reading.note)))

    def _views(self, reading: Reading) -> str:
        """Name the views that it was measured on: "top view"."""
        on = {area.photograph for area in reading.areas}
        views = [one.view for one in self.shown.tool.photographs if one.id in on and one.view]
        names = [name_of("views", view) for view in dict.fromkeys(views)]
        return f"{' and '.join(names)} view{'s' if len(names) > 1 else ''}" if names else ""

    def _bin_reading(self, key: str) -> None:
        self.bench.hand.change(lambda: self.catalog.readings.bin(ReadingId(key)))

    def _measure(self) -> None:
        photograph = self.shown.photograph(self.photograph)
        if photograph is not None:
            self.bench.go(PhotographRoute(photograph=photograph.id))

    @staticmethod
    def _read_share(typed: str) -> Share | None:
        return parse_share(typed, field=_LEFT) if typed.strip() else None


def _newest(readings: Iterable[Reading | None]) -> Stage | None:
    stages = {reading.stage for reading in readings if reading is not None}
    return next((stage for stage in LATEST_FIRST if stage in stages), None)


def _new_words(reading: Reading) -> str:
    if reading.new_finish is None:
        return ""
    new = f"{format_percent(reading.new_finish)} {format_interval(reading.new_finish)}"
    return f"Of the {format_percent(reading.share)}, new finish laid over losses is {new}."


def _read_name(typed: str) -> str:
    if not typed.strip():
        raise InputError("A surface needs a name.", remedy="Try frog.", subject="name")
    return typed.strip()
