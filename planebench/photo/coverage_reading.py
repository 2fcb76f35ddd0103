"""A share read off an outline, with the interval it lies in and the three causes of that width."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Causes:
    """Half-widths of the 90 % interval by cause, in shares (0 to 1)."""

    cannot_tell: float
    outline: float
    judging: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """Share kept (with rust: rusted), 0 to 1, in its 90 % interval, and the pixels behind it.

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
    blown or black.
    """

    kept_unsure: float
    lost_unsure: float
    unsure: float
    moved: float
    strokes: int
    clash: float
    spoilt: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Width:
    """Interval of a kind of reading: a floor, and so many times the summed chances.

    Found so that nine in ten of the held-out surfaces lie inside; see resources/judge/README.md.
    """

    floor: float
    times: float


_NO_STROKE = {
    0: _Width(floor=0.055, times=4.2),
    1: _Width(floor=0.06, times=1.5),
    2: _Width(floor=0.08, times=2.5),
}
_STROKES = {
    0: _Width(floor=0.022, times=2.3),
    1: _Width(floor=0.018, times=1.9),
    2: _Width(floor=0.02, times=2.5),
}
_STROKES_ENOUGH = 4
# Lacquer was never learned: its pixels are judged by likeness to japanning.
_LACQUER_TIMES = 1.5
_CLASH_WIDTH, _SPOILT_WIDTH = 0.4, 0.12


def interval(share_lost: float, doubt: Doubt, finish: Finish) -> tuple[float, float, Causes]:
    """Give the lost share's lowest and highest value (90 %) and the causes' half-widths."""
    width = _width(finish, doubt.strokes)
    widen = _LACQUER_TIMES if finish is Finish.LACQUER else 1.0
    extra = _CLASH_WIDTH * doubt.clash + _SPOILT_WIDTH * doubt.spoilt
    more = widen * (width.floor + width.times * doubt.kept_unsure) + extra
    less = widen * (width.floor + width.times * doubt.lost_unsure) + extra
    half = 0.5 * doubt.unsure
    low = share_lost - math.sqrt(less**2 + half**2 + doubt.moved**2)
    high = share_lost + math.sqrt(more**2 + half**2 + doubt.moved**2)
    causes = Causes(cannot_tell=half, outline=doubt.moved, judging=(more + less) / 2)
    return max(low, 0.0), min(high, 1.0), causes


def _width(finish: Finish, strokes: int) -> _Width:
    far, near = _NO_STROKE[finish.learned], _STROKES[finish.learned]
    way = min(strokes, _STROKES_ENOUGH) / _STROKES_ENOUGH
    return _Width(
        floor=far.floor + way * (near.floor - far.floor),
        times=far.times + way * (near.times - far.times),
    )


def advice(causes: Causes, doubt: Doubt, finish: Finish) -> str:
    """Say in one sentence what would narrow the interval most."""
    if doubt.clash > 0:
        return "Strokes of kept and lost lie on each other: take one of them back."
    largest = max(causes.cannot_tell, causes.outline, causes.judging)
    if largest == causes.outline:
        return "Draw the outline closer to the edge, or take the photograph from nearer."
    if largest == causes.cannot_tell:
        return "A second photograph under another light would show what glare or shadow hides."
    word = "rust" if finish is Finish.RUST else "loss"
    if doubt.strokes < _STROKES_ENOUGH:
        return f"A stroke where {word} was judged wrongly carries over to all that looks alike."
    return f"More strokes, where {word} is still judged wrongly, would narrow it further."


def unmeasurable(why: str, area: int) -> Reading:
    """Give a reading that says why there is none."""
    return Reading(
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


_DETAIL_LEVELS = 8.0
_BLACK, _WHITE = 12.0, 248.0
# Steepest steps over the range of tones: sharp photographs have 0.1 and more.
_BLURRED, _SHARP = 0.03, 0.1
# Pixels at the sensor's ends tell nothing; a share of them is usual on bare metal.
_BLOWN, _CLIPPED_ALLOWED, _CLIPPED_MOST = 0.992, 0.15, 0.5
_FEW_PIXELS = 800


def why_not(image: NDArray[np.float32], weight: NDArray[np.float32], area: int) -> str | None:
    """Say why the outlined part of a picture (H x W x 3, 0 to 1) shows nothing, or None."""
    grey = image.mean(axis=2) * 255
    inside = grey[weight > 0.5]  # noqa: PLR2004 - pixels mostly inside
    if inside.size == 0 or area < _FEW_PIXELS:
        return f"the surface is only {area} pixels large in this photograph"
    low, high = np.percentile(inside, (2, 99))
    if high < _BLACK:
        return "the photograph is black there"
    if low > _WHITE:
        return "the photograph is white there"
    return _without_detail(image, weight, high - low)


def _without_detail(
    image: NDArray[np.float32], weight: NDArray[np.float32], levels: float
) -> str | None:
    if levels < _DETAIL_LEVELS:
        return "the photograph shows one even tone there"
    if sharpness(image, weight) < _BLURRED:
        return "the photograph is out of focus there"
    return None


def spoilt(image: NDArray[np.float32], weight: NDArray[np.float32]) -> float:
    """How far the outlined part is out of focus, blown or black: 0 not, 1 nearly unmeasurable."""
    soft = (_SHARP - sharpness(image, weight)) / (_SHARP - _BLURRED)
    inside = image[weight > 0.5]  # noqa: PLR2004 - pixels mostly inside
    ends = (inside >= _BLOWN).all(axis=1) | (inside <= 1 - _BLOWN).all(axis=1)
    clipped = (float(ends.mean()) - _CLIPPED_ALLOWED) / (_CLIPPED_MOST - _CLIPPED_ALLOWED)
    return min(1.0, max(0.0, soft, clipped))


def sharpness(image: NDArray[np.float32], weight: NDArray[np.float32]) -> float:
    """Steepest steps from pixel to pixel in the outline, over the tones' whole range there."""
    grey = image.mean(axis=2)
    across = np.abs(np.diff(grey, axis=1))[:-1]
    down = np.abs(np.diff(grey, axis=0))[:, :-1]
    within = np.minimum(weight[:-1, :-1], weight[1:, 1:]) > 0.99  # noqa: PLR2004 - wholly inside
    if not within.any():
        return 1.0
    tones = grey[:-1, :-1][within]
    spread = float(np.percentile(tones, 99) - np.percentile(tones, 1))
    return float(np.percentile(np.maximum(across, down)[within], 99)) / max(spread, 1e-3)
