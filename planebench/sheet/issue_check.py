"""What stands against issuing a sheet: readings that contradict each other, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planebench.catalog.values import Reading, Surface
from planebench.sheet.phrases import lower_first
from planebench.sheet.sheet_source import SheetSource
from planebench.sheet.surface_bars import about, divide, interval, new_finish_unknown
from planebench.trade.shares import Share
from planebench.trade.terms import Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueFinding:
    """One thing to settle; a contradiction blocks issuing, what is missing may be accepted."""

    words: str
    blocks: bool


def findings_of(source: SheetSource) -> tuple[IssueFinding, ...]:
    """Return what must be settled or accepted before a sheet is issued, contradictions first."""
    contradictions = (*_readings(source), *_finished(source))
    return (
        *(IssueFinding(words=words, blocks=True) for words in contradictions),
        *(IssueFinding(words=words, blocks=False) for words in _missing(source)),
    )


def _readings(source: SheetSource) -> Iterator[str]:
    for surface in source.tool.finished_surfaces:
        for stage in Stage:
            reading = source.tool.reading(surface.id, stage)
            if reading is not None:
                yield from _within(source, surface, reading)
        yield from _between(source, surface)


def _within(source: SheetSource, surface: Surface, reading: Reading) -> Iterator[str]:
    when = "as found" if reading.stage is Stage.AS_FOUND else "now"
    if divide(reading) is None and reading.new_finish is not None:
        yield (
            f"Readings contradict each other. {surface.name} {when}: {about(reading.new_finish)} "
            f"new finish is more than all finish together ({about(reading.share)}). "
            "Measure one of them again."
        )
    if new_finish_unknown(source, surface, reading):
        yield (
            f"New finish was laid on the {lower_first(surface.name)}, but its share is not "
            "recorded. Measure it, or record an estimate."
        )


def _between(source: SheetSource, surface: Surface) -> Iterator[str]:
    """Compare as found with now, by the outer ends of both ranges."""
    found = source.tool.reading(surface.id, Stage.AS_FOUND)
    now = source.later_reading(surface)
    if found is None or now is None:
        return
    before, after = divide(found), divide(now)
    if before is None or after is None:
        return
    if after.first.low > before.first.high:
        yield (
            f"Readings contradict each other. {surface.name}: first finish cannot grow from "
            f"{_told(before.first)} to {_told(after.first)}. If new finish was laid, record its "
            "share; else measure one of them again."
        )
    elif after.new is not None and after.new.low > before.bare.high:
        yield (
            f"Readings contradict each other. {surface.name}: new finish on {_told(after.new)} "
            f"covers more than was bare as found, {_told(before.bare)}. Measure one of them again."
        )


def _told(share: Share) -> str:
    return f"{about(share)} ({interval(share)})"


def _finished(source: SheetSource) -> Iterator[str]:
    stages = {one.stage for one in source.tool.photographs}
    if Stage.FINISHED in stages and not source.tool.work_finished:
        yield (
            "A photograph is marked finished, but the work is not. Mark the work as finished, or "
            "change the photograph’s stage."
        )


def _missing(source: SheetSource) -> Iterator[str]:
    tool, settings = source.tool, source.settings
    read = [source.reading_now(surface) for surface in tool.finished_surfaces]
    answered = {
        "photographs": bool(tool.photographs),
        "a completed inspection for defects": tool.defects_inspected,
        "which parts are there": tool.parts_seen,
        "how much finish is left": not read or any(read),
        "the price": tool.asking is not None,
        "who sells": bool(settings.workshop or settings.person),
    }
    for what, is_there in answered.items():
        if not is_there:
            yield f"Missing: {what}."
