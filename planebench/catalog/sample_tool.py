"""One tool of the sample as events: what was recorded of it, each on its day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from functools import partial
from math import cos, hypot, pi, sin
from pathlib import Path
from typing import TypeVar

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PartId, PhotographId, ToolId
from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.photographs import PinPosition
from planebench.catalog.readings import NewReading
from planebench.catalog.reference import open_list
from planebench.catalog.sample_measuring import measure_outlines, outlines_of_picture
from planebench.catalog.sample_source import Entry
from planebench.catalog.values import Json
from planebench.errors import FileError
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, PartStatus, Stage, ToolStatus
from planebench.trade.units import LengthUnit, parse_length

WordT = TypeVar("WordT", bound=StrEnum)
ThingT = TypeVar("ThingT")
# From a pin to its balloon, as a share of the picture's width: clear of the spot, still close.
_LEADER = 0.13
# Balloons stay this far inside the picture.
_EDGE = 0.04
_DIRECTIONS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class SampleEvent:
    """Something recorded on a day; `record` does it."""

    day: dt.date
    record: Callable[[], object]


@dataclass(slots=True, kw_only=True)
class SampleTool:
    """A tool of the sample: its entry, and what was made of it so far."""

    catalog: Catalog
    tool: ToolId
    entry: Entry
    pictures: Path
    currency: str
    parts: dict[str, PartId] = field(default_factory=dict)
    photographs: dict[str, PhotographId] = field(default_factory=dict)
    spots: dict[str, list[tuple[float, float]]] = field(default_factory=dict)

    def part(self, entry: Entry) -> PartId | None:
        """Return the part that an entry names; None for the whole tool."""
        code = entry.text("part")
        return self.part_of(code) if code else None

    def part_of(self, code: str) -> PartId:
        """Return the part with a code."""
        if not self.parts:
            self.parts = {part.code: part.id for part in self.catalog.tools.one(self.tool).parts}
        return _known(self.entry, self.parts, code)


def day_of(entry: Entry, key: str) -> dt.date:
    """Return a day that must be there."""
    day = entry.day(key)
    if day is None:
        raise _damaged(entry, f"a date is missing: {key}")
    return day


def events_of(sample: SampleTool) -> Iterator[SampleEvent]:
    """Yield all that is recorded of a tool; events of one day stay in this order."""
    entry = sample.entry
    yield from _photograph_events(sample)
    yield SampleEvent(day=day_of(entry, "found_on"), record=partial(_parts, sample))
    for key, when, write in _WRITERS:
        for row in entry.entries(key):
            day = day_of(row if when in row.table else entry, when)
            yield SampleEvent(day=day, record=partial(write, sample, row))
    done_on = day_of(entry, "done_on")
    yield from _measured_events(sample)
    for pair in entry.pairs("pairs"):
        yield SampleEvent(day=done_on, record=partial(_pair, sample, pair))
    yield SampleEvent(day=entry.day("sold_on") or done_on, record=partial(_status, sample))


def _measured_events(sample: SampleTool) -> Iterator[SampleEvent]:
    """Yield the measuring of each photograph that has outlines."""
    for row in sample.entry.entries("photographs"):
        outlines = outlines_of_picture(sample.pictures / row.text("file"))
        if outlines:
            key = "found_on" if row.text("stage") == Stage.AS_FOUND else "done_on"
            day = day_of(sample.entry, key)
            yield SampleEvent(day=day, record=partial(_measure, sample, row.text("file"), outlines))


def _measure(sample: SampleTool, picture: str, outlines: Mapping[str, Json]) -> None:
    measure_outlines(sample.catalog, sample.tool, sample.photographs[picture], outlines)


def _photograph_events(sample: SampleTool) -> Iterator[SampleEvent]:
    """Yield the import of each stage's photographs; those as found come first."""
    for stage in Stage:
        rows = [row for row in sample.entry.entries("photographs") if row.text("stage") == stage]
        if rows:
            key = "found_on" if stage == Stage.AS_FOUND else "done_on"
            day = day_of(sample.entry, key)
            yield SampleEvent(day=day, record=partial(_photographs, sample, rows, stage))


def _photographs(sample: SampleTool, rows: list[Entry], stage: Stage) -> None:
    """Import the photographs of one stage and record what each shows."""
    paths = [sample.pictures / row.text("file") for row in rows]
    to = Destination(tool=sample.tool, stage=stage, follow_cards=True)
    for row, outcome in zip(
        rows, import_photographs(sample.catalog, paths, to=to).outcomes, strict=True
    ):
        if outcome.photograph is None:
            raise _damaged(row, f"{row.text('file')} could not be imported. {outcome.happened}")
        sample.photographs[row.text("file")] = outcome.photograph
        sample.catalog.photographs.change(
            [outcome.photograph], view=row.text("view"), caption=row.text("caption")
        )


def _parts(sample: SampleTool) -> None:
    """Record the parts; those that this model never had become optional."""
    for code in sample.entry.texts("never_had"):
        sample.catalog.parts.change(sample.part_of(code), optional=True)
    for code, part in sample.entry.named("parts").items():
        found = sample.part_of(code)
        sample.catalog.parts.change(
            found, status=_word(part, "status", PartStatus), note=part.text("note")
        )
        if part.text("finish"):
            _refinish(sample, code, part)


def _refinish(sample: SampleTool, code: str, part: Entry) -> None:
    """Record the finish of a part of this tool, and of the surface that is that part alone."""
    finish = _known(part, open_list("finishes"), part.text("finish")).code
    sample.catalog.parts.change(sample.part_of(code), finish=finish)
    for surface in sample.catalog.tools.one(sample.tool).surfaces:
        if list(surface.parts) == [code]:
            sample.catalog.surfaces.change(surface.id, finish=finish)


def _measurement(sample: SampleTool, entry: Entry) -> None:
    what, typed = entry.text("what"), entry.text("typed")
    if _known(entry, open_list("dimensions"), what).more["unit"] == "mm":
        value = parse_length(typed, field=what, default_unit=LengthUnit.MILLIMETER).mm
    else:
        value = _exact(entry, "typed")
    sample.catalog.dimensions.add(
        sample.tool,
        what=what,
        value=value,
        plus_minus=entry.exact("plus_minus"),
        as_typed=typed,
        basis=Basis.MEASURED,
    )


def _reading(sample: SampleTool, entry: Entry) -> None:
    surfaces = {
        surface.code: surface.id for surface in sample.catalog.tools.one(sample.tool).surfaces
    }
    new = None if entry.exact("new") is None else _share(entry, "new", "new_low", "new_high")
    sample.catalog.readings.add(
        NewReading(
            tool=sample.tool,
            surface=_known(entry, surfaces, entry.text("surface")),
            stage=_word(entry, "stage", Stage),
            share=_share(entry, "value", "low", "high"),
            new_finish=new,
            note=entry.text("note"),
        )
    )


def _work(sample: SampleTool, entry: Entry) -> None:
    kind = entry.text("kind")
    sample.catalog.bench_log.add(
        sample.tool,
        kind=kind,
        part_id=sample.part(entry),
        what=entry.text("what"),
        materials=entry.text("materials"),
        done_on=entry.day("done_on"),
        minutes=entry.whole("minutes"),
        cost=entry.exact("cost"),
        disclosed=bool(_known(entry, open_list("treatments"), kind).more["disclosed"]),
    )


def _defect(sample: SampleTool, entry: Entry) -> None:
    measured = entry.text("size_basis") == Basis.MEASURED
    defect = sample.catalog.defects.add(
        sample.tool,
        part_id=sample.part(entry),
        kind=_known(entry, open_list("defects"), entry.text("kind")).code,
        severity=entry.text("severity"),
        place=entry.text("place"),
        size=entry.text("size"),
        size_basis=Basis.MEASURED if measured else Basis.BY_EYE,
        note=entry.text("note"),
    )
    for photograph, spot in _pins(sample, entry):
        sample.catalog.pins.add_defect(photograph, defect.id, spot)


def _evidence(sample: SampleTool, entry: Entry) -> None:
    weight = _known(entry, open_list("sureness"), entry.text("sure")).more["weight"]
    looseness = entry.whole("looseness")
    evidence = sample.catalog.evidence.add(
        sample.tool,
        part_id=sample.part(entry),
        kind=entry.text("kind") or "years",
        seen=entry.text("seen"),
        mark={"never_before": entry.flag("never_before"), **_as_stamped(entry)},
        not_before=entry.whole("not_before"),
        not_after=entry.whole("not_after"),
        sure=Decimal(str(weight)),
        looseness=3 if looseness is None else looseness,
        basis=_word(entry, "basis", Basis),
        source=entry.text("source"),
        source_status=entry.text("source_status"),
    )
    for photograph, spot in _pins(sample, entry):
        sample.catalog.pins.add_evidence(photograph, evidence.id, spot)


def _as_stamped(entry: Entry) -> dict[str, object]:
    return {key: text for key in ("text", "number", "row") if (text := entry.text(key))}


def _pair(sample: SampleTool, names: tuple[str, str]) -> None:
    before, after = (_known(sample.entry, sample.photographs, name) for name in names)
    sample.catalog.pairs.add(before, after)


def _comparable(sample: SampleTool, entry: Entry) -> None:
    sample.catalog.comparables.add(
        sample.tool,
        what=entry.text("what"),
        price=_exact(entry, "price"),
        currency=sample.currency,
        sold_on=entry.day("sold_on"),
        where=entry.text("where"),
        note=entry.text("note"),
    )


# Rows of a tool, the key of the day they were recorded on, and what records them. Numbers follow
# the order of recording, so defects and evidence wait for the last photograph.
_WRITERS: tuple[tuple[str, str, Callable[[SampleTool, Entry], None]], ...] = (
    ("measurements", "found_on", _measurement),
    ("finish", "on", _reading),
    ("work", "done_on", _work),
    ("defects", "done_on", _defect),
    ("evidence", "done_on", _evidence),
    ("comparables", "done_on", _comparable),
)


def _status(sample: SampleTool) -> None:
    """Record the tool's present status."""
    entry = sample.entry
    identified = entry.text("identified_by")
    sample.catalog.tools.change(
        sample.tool,
        status=_word(entry, "status", ToolStatus),
        identified_by=_word(entry, "identified_by", Basis) if identified else None,
        defects_inspected=entry.flag("defects_inspected"),
        work_finished=entry.flag("work_finished"),
        asking=entry.exact("asking"),
        sold_for=entry.exact("sold_for"),
        sold_on=entry.day("sold_on"),
        sold_to=entry.text("sold_to"),
    )


def _pins(sample: SampleTool, entry: Entry) -> Iterator[tuple[PhotographId, PinPosition]]:
    for pin in entry.entries("pins"):
        name = pin.text("photograph")
        x, y = pin.spot("x"), pin.spot("y")
        crowd = sample.spots.setdefault(name, [])
        balloon_x, balloon_y = _balloon(x, y, crowd)
        crowd += [(x, y), (balloon_x, balloon_y)]
        spot = PinPosition(x=x, y=y, balloon_x=balloon_x, balloon_y=balloon_y)
        yield _known(entry, sample.photographs, name), spot


def _balloon(x: float, y: float, crowd: list[tuple[float, float]]) -> tuple[float, float]:
    """Return the freest place for a balloon around a pin, 0 to 1, in a picture of 3 to 2."""
    turns = (2 * pi * n / _DIRECTIONS for n in range(_DIRECTIONS))
    around = ((x + _LEADER * cos(turn), y + 1.5 * _LEADER * sin(turn)) for turn in turns)
    inside = [place for place in around if min(place) > _EDGE and max(place) < 1 - _EDGE]
    # The first of equals wins, so the places are the same on every machine.
    free = max(
        inside,
        key=lambda place: min((_apart(place, other) for other in crowd), default=-place[1]),
    )
    return round(free[0], 4), round(free[1], 4)


def _apart(one: tuple[float, float], other: tuple[float, float]) -> float:
    return round(hypot(one[0] - other[0], (one[1] - other[1]) / 1.5), 6)


def _share(entry: Entry, value: str, low: str, high: str) -> Share:
    return Share(
        value=_exact(entry, value),
        low=_exact(entry, low),
        high=_exact(entry, high),
        basis=Basis.BY_EYE,
    )


def _exact(entry: Entry, key: str) -> Decimal:
    number = entry.exact(key)
    if number is None:
        raise _damaged(entry, f"a number is missing: {key}")
    return number


def _word(entry: Entry, key: str, words: type[WordT]) -> WordT:
    try:
        return words(entry.text(key))
    except ValueError as error:
        raise _damaged(entry, f"{key} is “{entry.text(key)}”") from error


def _known(entry: Entry, known: Mapping[str, ThingT], word: str) -> ThingT:
    if word not in known:
        raise _damaged(entry, f"“{word}” is not known")
    return known[word]


def _damaged(entry: Entry, what: str) -> FileError:
    return FileError(
        f"The sample’s {entry.file.name} cannot be used: {what}.",
        remedy="Correct the file there, or install the program again.",
        subject=str(entry.file),
    )
