"""The reading that is recorded from a judged outline, and the words beside it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from planebench.catalog.measuring import (
    RUST,
    Around,
    JudgedOutline,
    area_of,
    compose,
    count_areas,
    exact_area,
    measured_extent,
)
from planebench.catalog.readings import NewReading
from planebench.catalog.values import Outline, ReadingArea, Tool
from planebench.photo.outline import PixelOutline
from planebench.trade.counted_areas import CountedAreas, exact_share, format_weighting, share_in
from planebench.trade.days import format_day
from planebench.trade.measured_extent import format_extent
from planebench.trade.shares import Share, format_interval, format_percent
from planebench.trade.terms import Basis
from planebench.window.photograph_names import capital
from planebench.window.screens.photograph.judging import Verdict
from planebench.window.screens.photograph.photograph_model import PhotographModel

_MM2_PER_SQ_IN = 645.16


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceSummary:
    """A surface over all its outlines; `share` in words, empty where there is only this outline."""

    title: str
    share: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingDetails:
    """What is shown beside a verdict: whether it is rust, the estimate, the area, the surface."""

    rust: bool
    by_eye: Share | None
    by_eye_words: str
    area_text: str
    whole: SurfaceSummary | None = None


def share_of(verdict: Verdict) -> Share | None:
    """Return a verdict's share with its interval; None where it can't be told."""
    if verdict.share is None:
        return None
    return exact_share(verdict.share, verdict.low, verdict.high)


def new_reading(
    model: PhotographModel, outline: Outline, verdict: Verdict, *, strokes: int
) -> NewReading | None:
    """Return the reading of the outline's surface from this outline and those measured before.

    None where the share can't be told or the photograph is not filed under a tool.
    """
    share = share_of(verdict)
    if share is None or model.tool is None:
        return None
    judged = JudgedOutline(
        outline=outline,
        photograph=model.photograph,
        share=share,
        kept_px=verdict.sound_px,
        lost_px=verdict.lost_px,
        cannot_tell_px=verdict.cannot_tell_px,
        strokes=strokes,
        map=verdict.sound_map,
        window=verdict.window,
    )
    return compose(Around(tool=model.tool, kind=model.kind, live=model.live), judged)


def describe_area(measured: float | None, verdict: Verdict | None, *, rust: bool) -> str:
    """Return the outlined area in words: mm², square inches, and how much is lost or rusted."""
    if measured is None:
        return "No scale on this photograph, so no area in mm². Press S to set one."
    square = f"{measured / _MM2_PER_SQ_IN:.1f}"
    share = None if verdict is None else share_of(verdict)
    gone = ""
    if share is not None:
        part = measured * float(share.value if rust else share.rest.value)
        gone = f", about {_whole(part)} mm² of it {'rusted' if rust else 'lost'}"
    return (
        f"{_whole(measured)} mm² ({square} sq in){gone}, in the plane of the scale; raised parts "
        "read too large."
    )


def _whole(value: float) -> str:
    return f"{value:,.0f}"


def is_recorded(model: PhotographModel, outline: Outline, verdict: Verdict) -> bool:
    """Return whether a verdict is recorded already, with the outline's present area.

    A reading that includes an outline deleted since must be recorded again.
    """
    if model.tool is None:
        return False
    rust, stage = outline.finish == RUST, model.photograph.stage
    old = model.tool.reading(outline.surface, stage, rust=rust)
    areas = () if old is None else old.areas
    written = {one.outline: _found(one) for one in areas}
    counts = (verdict.sound_px, verdict.lost_px, verdict.cannot_tell_px)
    now = (*counts, exact_area(outline, model.photograph))
    return written.get(outline.id) == now and written.keys() <= model.live.keys()


def _found(area: ReadingArea) -> tuple[int, int, int, Decimal | None]:
    return (area.kept_px, area.lost_px, area.cannot_tell_px, area.area_mm2)


def summarize_surface(
    model: PhotographModel, outline: Outline, verdict: Verdict
) -> SurfaceSummary | None:
    """Return the surface's share over all its photographs, this verdict included."""
    new = new_reading(model, outline, verdict, strokes=0)
    if new is None or model.tool is None:
        return None
    counted = count_areas(model.tool, model.kind, new.surface, new.areas)
    said = measured_extent(model.tool, model.kind, new.areas, (new.surface, new.stage))
    words = "" if said is None else format_extent(said)
    alone = len(new.areas) == 1
    weighted = "" if len(counted.areas) <= 1 else f" {capital(format_weighting(counted))}."
    return SurfaceSummary(
        title=_over(counted),
        share="" if alone else f"{format_percent(new.share)} {format_interval(new.share)}",
        words=words + weighted,
    )


def _over(counted: CountedAreas[ReadingArea]) -> str:
    """Return over how many photographs, or outlines of one, a share is."""
    count = len(counted.photographs)
    return f"Over {count} photographs" if count > 1 else f"Over {_outlines(len(counted.areas))}"


def _outlines(count: int) -> str:
    return "one outline" if count == 1 else f"{count} outlines"


def recorded_share(tool: Tool | None, outline: Outline) -> Share | None:
    """Return the share last recorded for an outline; None if there is none."""
    for reading in reversed(tool.readings if tool else ()):
        for one in reading.areas:
            if one.outline == outline.id and (share := share_in(one)) is not None:
                return share
    return None


def estimate_of(model: PhotographModel, outline: Outline) -> tuple[Share | None, str]:
    """Return the last estimate of the outline's surface at this stage, and its source in words."""
    rust = outline.finish == RUST
    said = [
        one
        for one in (model.tool.readings if model.tool else ())
        if one.surface == outline.surface
        and one.stage == model.photograph.stage
        and (one.finish == RUST) == rust
        and one.share.basis is Basis.BY_EYE
    ]
    if not said:
        return None, ""
    last = max(said, key=lambda one: one.read_at)
    day = format_day(last.read_at.date())
    words = f"Dashed: estimate of about {format_percent(last.share)} by {last.read_by}, {day}. "
    return last.share, words + "It stays separate from the measured share."


def reading_details(
    model: PhotographModel | None,
    outline: Outline | None,
    shape: PixelOutline,
    verdict: Verdict | None,
) -> ReadingDetails:
    """Return what is shown beside a verdict on an outline of this shape."""
    if outline is None or model is None:
        return ReadingDetails(rust=False, by_eye=None, by_eye_words="", area_text="")
    by_eye, words = estimate_of(model, outline)
    rust = outline.finish == RUST
    return ReadingDetails(
        rust=rust,
        by_eye=by_eye,
        by_eye_words=words,
        area_text=describe_area(area_of(shape, model.photograph), verdict, rust=rust),
        whole=None if verdict is None else summarize_surface(model, outline, verdict),
    )
