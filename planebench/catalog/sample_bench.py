"""What the sample tells of one tool, as deeds: each something written down on a day."""

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
from planebench.catalog.sample_measured import measure, outlines_beside
from planebench.catalog.sample_source import Entry
from planebench.catalog.values import Json
from planebench.errors import FileError
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, PartStatus, Stage, ToolStatus
from planebench.trade.units import LengthUnit, parse_length

WordT = TypeVar("WordT", bound=StrEnum)
ThingT = TypeVar("ThingT")
_LEADER = 0.13  # of the picture's width, from a pin to its balloon
_EDGE = 0.04
_DIRECTIONS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Deed:
    """Something written down on a day."""

    day: dt.date
    do: Callable[[], object]


@dataclass(slots=True, kw_only=True)
class SampleBench:
    """A tool of the sample, the entry that tells of it, and what has come of it so far."""

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


def deeds_of(bench: SampleBench) -> Iterator[Deed]:
    """Return all that is written down of a tool; deeds of one day stay in this order."""
    entry = bench.entry
    yield from _photograph_deeds(bench)
    yield Deed(day=day_of(entry, "found_on"), do=partial(_parts, bench))
    for key, when, write in _WRITERS:
        for row in entry.entries(key):
            day = day_of(row if when in row.table else entry, when)
            yield Deed(day=day, do=partial(write, bench, row))
    done_on = day_of(entry, "done_on")
    yield from _measured_deeds(bench)
    for pair in entry.pairs("pairs"):
        yield Deed(day=done_on, do=partial(_pair, bench, pair))
    yield Deed(day=entry.day("sold_on") or done_on, do=partial(_standing, bench))


def _measured_deeds(bench: SampleBench) -> Iterator[Deed]:
    """Return the measuring of surfaces that the sample has outlined."""
    for row in bench.entry.entries("photographs"):
        outlines = outlines_beside(bench.pictures / row.text("file"))
        if outlines:
            key = "found_on" if row.text("stage") == Stage.AS_FOUND else "done_on"
            day = day_of(bench.entry, key)
            yield Deed(day=day, do=partial(_measure, bench, row.text("file"), outlines))


def _measure(bench: SampleBench, picture: str, outlines: Mapping[str, Json]) -> None:
    measure(bench.catalog, bench.tool, bench.photographs[picture], outlines)


def _photograph_deeds(bench: SampleBench) -> Iterator[Deed]:
    """Return the taking in of pictures, a deed a stage; those as found came first."""
    for stage in Stage:
        rows = [row for row in bench.entry.entries("photographs") if row.text("stage") == stage]
        if rows:
            key = "found_on" if stage == Stage.AS_FOUND else "done_on"
            day = day_of(bench.entry, key)
            yield Deed(day=day, do=partial(_photographs, bench, rows, stage))


def _photographs(bench: SampleBench, rows: list[Entry], stage: Stage) -> None:
    """Take in the pictures of one stage and say what each shows."""
    paths = [bench.pictures / row.text("file") for row in rows]
    to = Destination(tool=bench.tool, stage=stage, follow_cards=True)
    for row, outcome in zip(
        rows, import_photographs(bench.catalog, paths, to=to).outcomes, strict=True
    ):
        if outcome.photograph is None:
            raise _damaged(row, f"{row.text('file')} could not be taken in. {outcome.happened}")
        bench.photographs[row.text("file")] = outcome.photograph
        bench.catalog.photographs.change(
            [outcome.photograph], view=row.text("view"), caption=row.text("caption")
        )


def _parts(bench: SampleBench) -> None:
    """Say what was seen of the parts; those that this model never had are not asked for."""
    for code in bench.entry.texts("never_had"):
        bench.catalog.parts.change(bench.part_of(code), optional=True)
    for code, part in bench.entry.named("parts").items():
        bench.catalog.parts.change(
            bench.part_of(code),
            status=_word(part, "status", PartStatus),
            note=part.text("note"),
        )


def _measurement(bench: SampleBench, entry: Entry) -> None:
    what, typed = entry.text("what"), entry.text("typed")
    if _known(entry, open_list("dimensions"), what).more["unit"] == "mm":
        value = parse_length(typed, field=what, default_unit=LengthUnit.MILLIMETER).mm
    else:
        value = _exact(entry, "typed")
    bench.catalog.dimensions.add(
        bench.tool,
        what=what,
        value=value,
        plus_minus=entry.exact("plus_minus"),
        as_typed=typed,
        basis=Basis.MEASURED,
    )


def _reading(bench: SampleBench, entry: Entry) -> None:
    surfaces = {
        surface.code: surface.id for surface in bench.catalog.tools.one(bench.tool).surfaces
    }
    new = None if entry.exact("new") is None else _share(entry, "new", "new_low", "new_high")
    bench.catalog.readings.add(
        NewReading(
            tool=bench.tool,
            surface=_known(entry, surfaces, entry.text("surface")),
            stage=_word(entry, "stage", Stage),
            share=_share(entry, "value", "low", "high"),
            new_finish=new,
            note=entry.text("note"),
        )
    )


def _work(bench: SampleBench, entry: Entry) -> None:
    kind = entry.text("kind")
    bench.catalog.bench_log.add(
        bench.tool,
        kind=kind,
        part_id=bench.part(entry),
        what=entry.text("what"),
        materials=entry.text("materials"),
        done_on=entry.day("done_on"),
        minutes=entry.whole("minutes"),
        cost=entry.exact("cost"),
        disclosed=bool(_known(entry, open_list("treatments"), kind).more["disclosed"]),
    )


def _defect(bench: SampleBench, entry: Entry) -> None:
    measured = entry.text("size_basis") == Basis.MEASURED
    defect = bench.catalog.defects.add(
        bench.tool,
        part_id=bench.part(entry),
        kind=_known(entry, open_list("defects"), entry.text("kind")).code,
        severity=entry.text("severity"),
        place=entry.text("place"),
        size=entry.text("size"),
        size_basis=Basis.MEASURED if measured else Basis.BY_EYE,
        note=entry.text("note"),
    )
    for photograph, spot in _pins(bench, entry):
        bench.catalog.pins.add_defect(photograph, defect.id, spot)


def _evidence(bench: SampleBench, entry: Entry) -> None:
    weight = _known(entry, open_list("sureness"), entry.text("sure")).more["weight"]
    looseness = entry.whole("looseness")
    evidence = bench.catalog.evidence.add(
        bench.tool,
        part_id=bench.part(entry),
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
    for photograph, spot in _pins(bench, entry):
        bench.catalog.pins.add_evidence(photograph, evidence.id, spot)


def _as_stamped(entry: Entry) -> dict[str, object]:
    return {key: text for key in ("text", "number", "row") if (text := entry.text(key))}


def _pair(bench: SampleBench, names: tuple[str, str]) -> None:
    before, after = (_known(bench.entry, bench.photographs, name) for name in names)
    bench.catalog.pairs.add(before, after)


def _comparable(bench: SampleBench, entry: Entry) -> None:
    bench.catalog.comparables.add(
        bench.tool,
        what=entry.text("what"),
        price=_exact(entry, "price"),
        currency=bench.currency,
        sold_on=entry.day("sold_on"),
        where=entry.text("where"),
        note=entry.text("note"),
    )


# Rows of a tool, the key of the day they were written down on, and what writes them down. Numbers
# are given in the order of writing, so all defects and signs wait for the last picture.
_WRITERS: tuple[tuple[str, str, Callable[[SampleBench, Entry], None]], ...] = (
    ("measurements", "found_on", _measurement),
    ("finish", "on", _reading),
    ("work", "done_on", _work),
    ("defects", "done_on", _defect),
    ("signs", "done_on", _evidence),
    ("comparables", "done_on", _comparable),
)


def _standing(bench: SampleBench) -> None:
    """Say where the tool stands now."""
    entry = bench.entry
    identified = entry.text("identified_by")
    bench.catalog.tools.change(
        bench.tool,
        status=_word(entry, "status", ToolStatus),
        identified_by=_word(entry, "identified_by", Basis) if identified else None,
        defects_inspected=entry.flag("defects_inspected"),
        work_finished=entry.flag("work_finished"),
        asking=entry.exact("asking"),
        sold_for=entry.exact("sold_for"),
        sold_on=entry.day("sold_on"),
        sold_to=entry.text("sold_to"),
    )


def _pins(bench: SampleBench, entry: Entry) -> Iterator[tuple[PhotographId, PinPosition]]:
    for pin in entry.entries("pins"):
        name = pin.text("photograph")
        x, y = pin.spot("x"), pin.spot("y")
        crowd = bench.spots.setdefault(name, [])
        balloon_x, balloon_y = _balloon(x, y, crowd)
        crowd += [(x, y), (balloon_x, balloon_y)]
        spot = PinPosition(x=x, y=y, balloon_x=balloon_x, balloon_y=balloon_y)
        yield _known(entry, bench.photographs, name), spot


def _balloon(x: float, y: float, crowd: list[tuple[float, float]]) -> tuple[float, float]:
    """Return the freest place for a balloon around a pin, 0 to 1; pictures are taken as 3 to 2."""
    turns = (2 * pi * n / _DIRECTIONS for n in range(_DIRECTIONS))
    around = ((x + _LEADER * cos(turn), y + 1.5 * _LEADER * sin(turn)) for turn in turns)
    inside = [place for place in around if min(place) > _EDGE and max(place) < 1 - _EDGE]
    # The first of equals is taken, so the places are the same on every machine.
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
        raise _damaged(entry, f"it names “{word}”, which is nowhere")
    return known[word]


def _damaged(entry: Entry, what: str) -> FileError:
    return FileError(
        f"The sample’s {entry.file.name} cannot be used: {what}.",
        remedy="Mend the file at that place, or install the program again.",
        subject=str(entry.file),
    )
