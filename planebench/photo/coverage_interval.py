"""The 90% interval of a share: what the networks doubt, made to hold on surfaces kept back."""

from __future__ import annotations

import math
from dataclasses import dataclass

from planebench.photo.coverage_reading import Causes, Doubt, Finish, Span
from planebench.photo.judge import Answer, Question

_STROKES_ENOUGH = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Width:
    """How an interval is drawn out: so many times the networks' shift of the logits, and a floor.

    Found so that nine in ten of the surfaces kept back lie inside; see resources/judge/README.md.
    """

    times: float
    floor: float


# By what the network learned, and browned iron as 3: without a stroke, and with four or more.
_NO_STROKE = {
    0: _Width(times=1.3, floor=0.015),
    1: _Width(times=1.3, floor=0.02),
    2: _Width(times=1.3, floor=0.015),
    3: _Width(times=1.3, floor=0.015),
}
_STROKES = {
    0: _Width(times=1.3, floor=0.012),
    1: _Width(times=1.3, floor=0.015),
    2: _Width(times=1.3, floor=0.012),
    3: _Width(times=1.3, floor=0.012),
}
# Lacquer was never learned: its pixels are judged by likeness to japanning.
_LACQUER_TIMES = 1.5
_CLASH_WIDTH, _SPOILT_WIDTH = 0.4, 0.12
# Red, yellow and white paint on real metal was taken for loss, whole: without strokes nothing is
# known there.
_STRANGE_WIDTH, _STRANGE_TAUGHT = 0.95, 0.4


def shifted(
    answer: Answer, question: Question, finish: Finish, strokes: int
) -> tuple[float, float]:
    """Return the shifts of all logits, down and up, that hold the truth in nine cases of ten."""
    times = _width(question.value, strokes).times
    if finish is Finish.LACQUER:
        times *= _LACQUER_TIMES
    return times * answer.down, times * answer.up


def spanned(ends: Span, doubt: Doubt, learned: int, strokes: int) -> Span:
    """Draw the networks' interval out by the outline, the floor and what spoils the picture."""
    extra = _CLASH_WIDTH * doubt.clash + _SPOILT_WIDTH * doubt.spoilt
    extra += _between(_STRANGE_WIDTH, _STRANGE_TAUGHT, strokes) * doubt.strange
    floor = _width(learned, strokes).floor + extra
    half = 0.5 * doubt.unsure
    less, more = ends.share - ends.low + floor, ends.high - ends.share + floor
    low = ends.share - math.sqrt(less**2 + half**2 + doubt.moved**2)
    high = ends.share + math.sqrt(more**2 + half**2 + doubt.moved**2)
    return Span(share=ends.share, low=max(low, 0.0), high=min(high, 1.0))


def causes_of(ends: Span, doubt: Doubt) -> Causes:
    """Return the half-widths by cause."""
    return Causes(
        cannot_tell=0.5 * doubt.unsure,
        outline=doubt.moved,
        judging=min((ends.high - ends.low) / 2, 1.0),
    )


def between_of(outer: Span, inner: Span) -> Span:
    """Return what lies between two shares that hold each other: patina is browned less rusted.

    Their doubts are taken as independent.
    """
    share = max(outer.share - inner.share, 0.0)
    less = math.hypot(outer.share - outer.low, inner.high - inner.share)
    more = math.hypot(outer.high - outer.share, inner.share - inner.low)
    return Span(share=share, low=max(share - less, 0.0), high=min(share + more, 1.0))


def turned(span: Span) -> Span:
    """Return the share of the rest."""
    return Span(share=1 - span.share, low=1 - span.high, high=1 - span.low)


def _width(learned: int, strokes: int) -> _Width:
    far, near = _NO_STROKE[learned], _STROKES[learned]
    return _Width(
        times=_between(far.times, near.times, strokes),
        floor=_between(far.floor, near.floor, strokes),
    )


def _between(without: float, with_enough: float, strokes: int) -> float:
    """Return a figure on its way from no stroke to enough of them."""
    return without + (with_enough - without) * min(strokes, _STROKES_ENOUGH) / _STROKES_ENOUGH
