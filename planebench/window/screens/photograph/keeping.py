"""What is written down of a judged outline, from what the screen shows of it."""

from __future__ import annotations

from planebench.catalog.measuring import (
    RUST,
    Around,
    JudgedOutline,
    compose,
    exact_share,
    share_in,
)
from planebench.catalog.readings import NewReading
from planebench.catalog.values import Outline, Tool
from planebench.trade.shares import Share
from planebench.window.screens.photograph.judging import Verdict
from planebench.window.screens.photograph.model import Shown


def share_of(verdict: Verdict) -> Share | None:
    """Give a verdict's share with its interval; None where it could not be told."""
    if verdict.share is None:
        return None
    return exact_share(verdict.share, verdict.low, verdict.high)


def new_reading(
    shown: Shown, outline: Outline, verdict: Verdict, *, strokes: int
) -> NewReading | None:
    """Compose the reading of the outline's surface: this outline and those read before it.

    None where the share could not be told or the photograph is not of a tool.
    """
    share = share_of(verdict)
    if share is None or shown.tool is None:
        return None
    judged = JudgedOutline(
        outline=outline,
        photograph=shown.photograph,
        share=share,
        kept_px=verdict.kept_px,
        lost_px=verdict.lost_px,
        cannot_tell_px=verdict.cannot_tell_px,
        strokes=strokes,
        map=verdict.map,
        window=verdict.window,
    )
    return compose(Around(tool=shown.tool, kind=shown.kind, live=shown.live), judged)


def is_kept(shown: Shown, outline: Outline, verdict: Verdict) -> bool:
    """Say whether a verdict on an outline is written down already."""
    if shown.tool is None:
        return False
    rust, stage = outline.finish == RUST, shown.photograph.stage
    old = shown.tool.reading(outline.surface, stage, rust=rust)
    counts = (verdict.kept_px, verdict.lost_px, verdict.cannot_tell_px)
    return any(
        one.outline == outline.id and (one.kept_px, one.lost_px, one.cannot_tell_px) == counts
        for one in (old.areas if old else ())
    )


def measured_on(tool: Tool | None, outline: Outline) -> Share | None:
    """Give the share last written down for one outline, if any was."""
    for reading in reversed(tool.readings if tool else ()):
        for one in reading.areas:
            if one.outline == outline.id and (share := share_in(one)) is not None:
                return share
    return None
