"""What a sheet says of finish: readings with their basis and what they cover, key figures."""

from __future__ import annotations

from planebench.catalog.measuring import measured_extent
from planebench.catalog.reference import name_of
from planebench.catalog.values import Reading, Surface
from planebench.sheet.content import (
    Certainty,
    FinishReading,
    KeyFigure,
)
from planebench.sheet.phrases import capitalize_first, lower_first
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.measured_extent import format_extent
from planebench.trade.ratings import rate_share
from planebench.trade.shares import Share, format_interval, format_percent
from planebench.trade.terms import BASIS_WORDS, SOLID_BASES


def finish_of(source: SheetSource) -> tuple[FinishReading, ...]:
    """Return a line for each finished surface, read or not, then one for each rusted share read."""
    lines = [_line(source, surface) for surface in source.tool.finished_surfaces]
    rusted = [(s, source.reading_now(s, rust=True)) for s in source.tool.surfaces]
    lines += [_rust_line(source, s, reading) for s, reading in rusted if reading is not None]
    return tuple(lines)


def finish_figures(source: SheetSource) -> tuple[KeyFigure, ...]:
    """Return the figures of finish worth standing large: the main surface, new finish, the next."""
    figures: list[KeyFigure] = []
    for surface in source.tool.surfaces:
        reading = source.reading_now(surface)
        if reading is None:
            continue
        figures.append(_figure(source, surface, reading))
        if reading.new_finish is not None and reading.new_finish.value > 0:
            figures.append(_new_finish_figure(reading.new_finish))
    return tuple(figures)


def new_finish_told(source: SheetSource) -> tuple[str, ...]:
    """Say, for each surface, how much of it is new finish over losses."""
    said: list[str] = []
    for surface in source.tool.surfaces:
        reading = source.reading_now(surface)
        if reading is None or reading.new_finish is None or reading.new_finish.value == 0:
            continue
        share = reading.new_finish
        about = "about " if share.is_approximate else ""
        said.append(
            f"{capitalize_first(_new_name(surface))} covers losses "
            f"on {about}{format_percent(share)} of the "
            f"{lower_first(surface.name)}."
        )
    return tuple(said)


def surfaces_not_judged(source: SheetSource) -> tuple[str, ...]:
    """Name the surfaces whose finish nobody measured or judged."""
    finished = source.tool.finished_surfaces
    return tuple(lower_first(s.name) for s in finished if source.reading_now(s) is None)


def _line(source: SheetSource, surface: Surface) -> FinishReading:
    finish = name_of("finishes", surface.finish)
    reading = source.reading_now(surface)
    if reading is None:
        return FinishReading(
            part=surface.name, note=finish, certainty=Certainty.UNKNOWN, words="not measured"
        )
    found = source.reading_found(surface)
    cross = None if found is None else round(float(found.share.value * 100))
    note = finish if found is None else f"{finish}; cross: {format_percent(found.share)} as found"
    return FinishReading(
        part=surface.name,
        note=note,
        certainty=_certainty(reading.share),
        words=_about(reading.share),
        interval=format_interval(reading.share),
        basis=_basis(source, reading),
        rating=_rating(source, surface.finish, reading.share.rest),
        covered=_covered(source, reading),
        value=_percent(reading.share.value),
        low=_percent(reading.share.low),
        high=_percent(reading.share.high),
        found=cross,
    )


def _rust_line(source: SheetSource, surface: Surface, reading: Reading) -> FinishReading:
    found = source.reading_found(surface, rust=True)
    cross = None if found is None else round(float(found.share.value * 100))
    return FinishReading(
        part=f"{surface.name}, rust",
        note="rusted share" if found is None else "rusted share; cross: as found",
        certainty=_certainty(reading.share),
        words=_about(reading.share),
        interval=format_interval(reading.share),
        basis=_basis(source, reading),
        rating=_rating(source, "rust", reading.share),
        covered=_covered(source, reading),
        value=_percent(reading.share.value),
        low=_percent(reading.share.low),
        high=_percent(reading.share.high),
        found=cross,
    )


def _covered(source: SheetSource, reading: Reading) -> str:
    """Say what a measured share was read on and what it tells nothing of; empty by eye."""
    of = (reading.surface, reading.stage)
    said = measured_extent(source.tool, source.kind, reading.areas, of)
    return "" if said is None else format_extent(said)


def _figure(source: SheetSource, surface: Surface, reading: Reading) -> KeyFigure:
    found = source.reading_found(surface)
    was = "" if found is None else f"; was {_about(found.share)}"
    words = (BASIS_WORDS[reading.share.basis], source.since_when(reading))
    return KeyFigure(
        value=_about(reading.share),
        interval=format_interval(reading.share).strip("()"),
        of=f"{capitalize_first(name_of('finishes', surface.finish))}, {lower_first(surface.name)}",
        basis=", ".join(filter(None, words)) + was,
    )


def _new_finish_figure(share: Share) -> KeyFigure:
    return KeyFigure(
        value=_about(share),
        interval=format_interval(share).strip("()"),
        of="is new finish over losses",
        basis=f"{BASIS_WORDS[share.basis]}; buyer is told",
    )


def _new_name(surface: Surface) -> str:
    return f"new {name_of('finishes', surface.finish)}"


def _certainty(share: Share) -> Certainty:
    return Certainty.MEASURED if share.basis in SOLID_BASES else Certainty.BY_EYE


def _about(share: Share) -> str:
    return ("about " if share.is_approximate else "") + format_percent(share)


def _percent(share: object) -> float:
    return round(float(str(share)) * 100, 1)


def _basis(source: SheetSource, reading: Reading) -> str:
    by = "" if reading.share.basis in SOLID_BASES else _name_to_print(source, reading)
    words = (BASIS_WORDS[reading.share.basis], by, source.since_when(reading))
    said = ", ".join(filter(None, words))
    if reading.new_finish is not None and reading.new_finish.value > 0:
        said += f"; {_about(reading.new_finish)} of the area is new finish"
    return said


def _name_to_print(source: SheetSource, reading: Reading) -> str:
    """Return who read it if that is the person who sells; a machine's account is not printed."""
    return reading.read_by if reading.read_by == source.settings.person else ""


def _rating(source: SheetSource, finish: str, lost: Share) -> str:
    """Say the standards' grades, when they were asked for; from memory where the table is."""
    if source.rating_tables is None:
        return ""
    rated = rate_share(finish, lost, source.rating_tables)
    said = [
        f"{one.at.standard}: {one.said}" + (" (table from memory)" if one.at.from_memory else "")
        for one in rated
    ]
    return "; ".join(said)
