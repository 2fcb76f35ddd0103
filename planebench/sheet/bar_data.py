"""Bars of surfaces as the templates draw them: hatched segments, and marks for the ranges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict

from planebench.sheet.content import Certainty, StageBar, SurfaceBars
from planebench.sheet.hatch import hatch_lines

Data = dict[str, object]

BAR_WIDTH = 108.0
BAR_HEIGHT, BIG_HEIGHT = 7.0, 13.0
"""Points. The first surface now is the headline, so its bar is nearly twice as high."""

_SWATCH = (13.5, 8.0)
_HATCHES: dict[str, tuple[tuple[float, float], ...]] = {
    "first": ((45.0, 3.0),),
    "new": ((0.0, 1.7),),
    "bare": ((45.0, 2.2), (-45.0, 2.2)),
    "clean": (),
    "rust": ((45.0, 2.2), (-45.0, 2.2)),
}
"""Angle and step in points: the hatches differ without color too (WCAG 2.2, 1.4.1)."""


def bars_data(
    surfaces: Sequence[SurfaceBars], kinds: Sequence[str], *, ratings: bool
) -> list[Data]:
    """Return surfaces with their rows; `kinds` names the look of each share in order."""
    return [
        {
            "surface": one.surface,
            "note": one.note,
            "covered": one.covered,
            "rating": one.rating if ratings else "",
            "rows": [
                _row(bar, kinds, big=number == 0 and kinds[0] == "first" and bar.stage == "Now")
                for bar in one.bars
            ],
        }
        for number, one in enumerate(surfaces)
    ]


def swatches(columns: Sequence[str], kinds: Sequence[str]) -> list[Data]:
    """Return a hatched box for each column's heading."""
    width, height = _SWATCH
    return [
        {"name": name, "segment": _segment(kind, 0.0, width, height)}
        for name, kind in zip(columns, kinds, strict=True)
    ]


def _row(bar: StageBar, kinds: Sequence[str], *, big: bool) -> Data:
    height = BIG_HEIGHT if big and bar.boundaries else BAR_HEIGHT
    return {
        "stage": bar.stage,
        "basis": bar.basis,
        "big": big and bool(bar.boundaries),
        "height": height,
        "width": BAR_WIDTH,
        "shares": [asdict(share) for share in bar.shares],
        "segments": _segments(bar, kinds, height),
        "marks": [
            {"value": _at(one.value), "low": _at(one.low), "high": _at(one.high)}
            for one in bar.boundaries
        ],
        "solid": bar.certainty is Certainty.MEASURED,
        "not_drawn": bar.not_drawn,
        "aside": bar.aside,
    }


def _segments(bar: StageBar, kinds: Sequence[str], height: float) -> list[Data]:
    """Return the segments between the boundaries; with one boundary the middle share is absent."""
    if not bar.boundaries:
        return []
    edges = [0.0, *(_at(one.value) for one in bar.boundaries), BAR_WIDTH]
    names = kinds if len(edges) - 1 == len(kinds) else (kinds[0], kinds[-1])
    return [
        _segment(name, start, end, height)
        for name, start, end in zip(names, edges, edges[1:], strict=False)
        if end > start
    ]


def _segment(kind: str, start: float, end: float, height: float) -> Data:
    ring = ((start, 0.0), (end, 0.0), (end, height), (start, height))
    lines = [
        line
        for degrees, step in _HATCHES[kind]
        for line in hatch_lines([ring], degrees=degrees, step=step)
    ]
    return {"kind": kind, "start": start, "width": end - start, "height": height, "lines": lines}


def _at(percent: float) -> float:
    return round(percent / 100 * BAR_WIDTH, 2)
