"""A share read off an outline, with the interval it lies in and the three causes of that width."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum


class Finish(Enum):
    """What is judged: a finish that is kept or lost, or rust on bare metal."""

    JAPANNING = "japanning"
    NICKEL = "nickel"
    LACQUER = "lacquer"
    RUST = "rust"

    @property
    def learned(self) -> int:
        """Its number for the network; lacquer, never learned, is taken for japanning."""
        return {"japanning": 0, "lacquer": 0, "nickel": 1, "rust": 2}[self.value]

    @property
    def is_black(self) -> bool:
        """Whether it is a dark gloss over metal, not metal itself."""
        return self in {Finish.JAPANNING, Finish.LACQUER}


@dataclass(frozen=True, slots=True, kw_only=True)
class Causes:
    """Half-widths of the 90% interval by cause, in shares (0 to 1)."""

    cannot_tell: float
    outline: float
    judging: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverageReading:
    """Share kept (with rust: rusted), 0 to 1, in its 90% interval, and the pixels behind it.

    Where nothing can be measured the share and its interval are None and `why_unmeasurable` is a
    sentence. `advice` is one sentence: what would narrow the interval.
    """

    share: float | None
    low: float | None
    high: float | None
    kept_px: int
    lost_px: int
    cannot_tell_px: int
    causes: Causes
    why_unmeasurable: str | None
    advice: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """What a reading's interval is made from; shares of the outline's area.

    `kept_unsure` and `lost_unsure` are the chances, summed, that what was judged kept is lost and
    the other way round; `unsure` is the share that can't be told; `moved` is how far the share
    goes when the outline does; `strokes` counts those that say kept or lost; `clash` (0 to 1)
    is how far they contradict each other, `spoilt` (0 to 1) how far the picture is out of focus,
    blown or black, `strange` (0 to 1) how far it looks like nothing the judge has met.
    """

    kept_unsure: float
    lost_unsure: float
    unsure: float
    moved: float
    strokes: int
    clash: float
    spoilt: float
    strange: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Width:
    """Interval of a kind of reading: a floor, and so many times the summed chances.

    Found so that nine in ten of the held-out surfaces lie inside; see resources/judge/README.md.
    """

    floor: float
    times: float


_NO_STROKE = {
    0: _Width(floor=0.05, times=3.6),
    1: _Width(floor=0.06, times=1.5),
    2: _Width(floor=0.08, times=2.5),
}
_STROKES = {
    0: _Width(floor=0.022, times=2.5),
    1: _Width(floor=0.018, times=1.9),
    2: _Width(floor=0.02, times=2.5),
}
_STROKES_ENOUGH = 4
# Lacquer was never learned: its pixels are judged by likeness to japanning.
_LACQUER_TIMES = 1.5
_CLASH_WIDTH, _SPOILT_WIDTH = 0.4, 0.12
# Red, yellow and white paint on real metal was taken for loss, whole: without strokes nothing is
# known there.
_STRANGE_WIDTH, _STRANGE_TAUGHT = 0.95, 0.4
_MOSTLY = 0.5


def interval(share_lost: float, doubt: Doubt, finish: Finish) -> tuple[float, float, Causes]:
    """Return the lost share's lowest and highest value (90%) and the causes' half-widths."""
    width = _width(finish, doubt.strokes)
    widen = _LACQUER_TIMES if finish is Finish.LACQUER else 1.0
    extra = _CLASH_WIDTH * doubt.clash + _SPOILT_WIDTH * doubt.spoilt
    extra += _between(_STRANGE_WIDTH, _STRANGE_TAUGHT, doubt.strokes) * doubt.strange
    more = widen * (width.floor + width.times * doubt.kept_unsure) + extra
    less = widen * (width.floor + width.times * doubt.lost_unsure) + extra
    half = 0.5 * doubt.unsure
    low = share_lost - math.sqrt(less**2 + half**2 + doubt.moved**2)
    high = share_lost + math.sqrt(more**2 + half**2 + doubt.moved**2)
    causes = Causes(cannot_tell=half, outline=doubt.moved, judging=min((more + less) / 2, 1.0))
    return max(low, 0.0), min(high, 1.0), causes


def _width(finish: Finish, strokes: int) -> _Width:
    far, near = _NO_STROKE[finish.learned], _STROKES[finish.learned]
    return _Width(
        floor=_between(far.floor, near.floor, strokes),
        times=_between(far.times, near.times, strokes),
    )


def _between(without: float, with_enough: float, strokes: int) -> float:
    """A figure on its way from none of the strokes to enough of them."""
    return without + (with_enough - without) * min(strokes, _STROKES_ENOUGH) / _STROKES_ENOUGH


def advice(causes: Causes, doubt: Doubt, finish: Finish) -> str:
    """Say in one sentence what would narrow the interval most."""
    if doubt.clash > 0:
        return "Strokes of kept and lost lie on each other: take one of them back."
    if doubt.strange > _MOSTLY:
        both = "clean and of rusted" if finish is Finish.RUST else "kept and of lost"
        return (
            f"Little here looks like what the judge has learned: strokes of {both} must teach it."
        )
    return _advice_on(causes, doubt, finish)


def _advice_on(causes: Causes, doubt: Doubt, finish: Finish) -> str:
    """Say what would narrow the largest of the three causes."""
    largest = max(causes.cannot_tell, causes.outline, causes.judging)
    if largest == causes.outline:
        return "Draw the outline closer to the edge, or take the photograph from nearer."
    if largest == causes.cannot_tell:
        return "A second photograph under another light would show what glare or shadow hides."
    word = "rust" if finish is Finish.RUST else "loss"
    if doubt.strokes < _STROKES_ENOUGH:
        return f"A stroke where {word} was judged wrongly carries over to all that looks alike."
    return f"More strokes, where {word} is still judged wrongly, would narrow it further."


def unmeasurable(why: str, area: int) -> CoverageReading:
    """Return a reading that says why there is none."""
    return CoverageReading(
        share=None,
        low=None,
        high=None,
        kept_px=0,
        lost_px=0,
        cannot_tell_px=area,
        causes=Causes(cannot_tell=0.5, outline=0.0, judging=0.0),
        why_unmeasurable=f"Not measurable here, because {why}.",
        advice="Take another photograph of this surface, evenly lit and in focus.",
    )
