"""The 90% interval of a share: what the networks doubt, made to hold on surfaces kept back.

Each constant was set on surfaces kept back from training; see resources/judge/README.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from planebench.photo.coverage_reading import Causes, Doubt, Finish, Span
from planebench.photo.judge import Answer, Question


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shift:
    """How far all logits may shift together: a part that is always there, and of the networks'.

    What the networks say of their own doubt told nothing on finishes, so there it does not count.
    """

    always: float
    times: float


_UNTAUGHT = {
    Question.BLACK_LOST: _Shift(always=1.4, times=0.0),
    Question.NICKEL_LOST: _Shift(always=1.4, times=0.0),
    Question.RUSTED: _Shift(always=1.5, times=0.3),
    Question.BROWNED: _Shift(always=0.5, times=0.3),
}
_TAUGHT = {
    Question.BLACK_LOST: _Shift(always=1.3, times=0.0),
    Question.NICKEL_LOST: _Shift(always=1.4, times=0.0),
    Question.RUSTED: _Shift(always=1.5, times=0.2),
    Question.BROWNED: _Shift(always=1.25, times=0.2),
}
# Where the line between yes and no lies: the networks saw more nickel lost than there is.
_LINE = {
    Question.BLACK_LOST: -0.2,
    Question.NICKEL_LOST: 1.0,
    Question.RUSTED: 0.0,
    Question.BROWNED: 0.0,
}
# The networks are less sure than they are right: of 1, 2, 3 and 4 this came nearest to the truth.
STEEP = 3.0
# Lacquer was never learned: its pixels are judged by likeness to japanning.
_LACQUER_TIMES = 1.5
_FLOOR = 0.02
_CLASH_WIDTH, _SPOILT_WIDTH = 0.4, 0.12
# Red, yellow and white paint on real metal was taken for loss, whole: without strokes nothing is
# known there.
_STRANGE_WIDTH, _STRANGE_TAUGHT = 0.95, 0.4
_STROKES_ENOUGH = 4


def calibrated(answer: Answer, question: Question, finish: Finish, *, taught: bool) -> Answer:
    """Return logits whose chances fit, and the shifts that hold the truth in nine cases of ten.

    The same for all strokes of an outline, so that it keeps what the networks keep to.
    """
    shift = (_TAUGHT if taught else _UNTAUGHT)[question]
    times = STEEP * (_LACQUER_TIMES if finish is Finish.LACQUER else 1.0)
    return Answer(
        logit=(answer.logit - _LINE[question]) * STEEP,
        down=times * (shift.always + shift.times * answer.down),
        up=times * (shift.always + shift.times * answer.up),
    )


def spanned(ends: Span, doubt: Doubt, strokes: int) -> Span:
    """Draw the networks' interval out by the outline, a floor, and what spoils the picture."""
    taught = min(strokes, _STROKES_ENOUGH) / _STROKES_ENOUGH
    strange = _STRANGE_WIDTH + (_STRANGE_TAUGHT - _STRANGE_WIDTH) * taught
    extra = _CLASH_WIDTH * doubt.clash + _SPOILT_WIDTH * doubt.spoilt + strange * doubt.strange
    half = 0.5 * doubt.unsure
    less, more = ends.share - ends.low + _FLOOR + extra, ends.high - ends.share + _FLOOR + extra
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

    Their doubts add up: taken as independent, the interval held the truth in 83 of 100 cases only.
    """
    return Span(
        share=max(outer.share - inner.share, 0.0),
        low=max(outer.low - inner.high, 0.0),
        high=max(outer.high - inner.low, outer.share - inner.share, 0.0),
    )


def turned(span: Span) -> Span:
    """Return the share of the rest."""
    return Span(share=1 - span.share, low=1 - span.high, high=1 - span.low)
