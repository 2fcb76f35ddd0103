"""From the first look and strokes to logits by question, and to the state of each pixel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.coverage_frame import JudgedFrame
from planebench.photo.coverage_interval import calibrated
from planebench.photo.coverage_reading import Finish
from planebench.photo.coverage_strokes import PaintedStrokes, State, Strokes, teaching_dots
from planebench.photo.judge import Answer, Asked, FirstLook, Network, Question

# The logit that a whole outline told to be of one state starts from; the networks learned with it.
_CERTAIN = 4.0
_PAINTED = 12.0
# Chances from 0.4 to 0.6, where they hold over a patch, can't be told.
_NEAR_LINE = 0.4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """A question, and the states that answer it by yes and by no."""

    question: Question
    yes: frozenset[State]
    no: frozenset[State]


_KEPT, _LOST, _PATINA = (frozenset({s}) for s in (State.KEPT, State.LOST, State.PATINA))
_OF_IRON = (
    _Told(question=Question.RUSTED, yes=_LOST, no=_KEPT | _PATINA),
    _Told(question=Question.BROWNED, yes=_LOST | _PATINA, no=_KEPT),
)


def _questions(finish: Finish) -> tuple[_Told, ...]:
    if finish.is_iron:
        return _OF_IRON
    question = Question.BLACK_LOST if finish.is_black else Question.NICKEL_LOST
    return (_Told(question=question, yes=_LOST, no=_KEPT),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What was seen of an outline: the first looks, and what color says of rust, if anything."""

    looks: tuple[FirstLook, ...]
    color: NDArray[np.float32] | None


def answers(
    network: Network, seen: Seen, strokes: Strokes, frame: JudgedFrame, finish: Finish
) -> tuple[Answer, ...]:
    """Answer the finish's questions, logits height x width: lost, or rusted and browned.

    A stroke never moves a pixel away from what it says: the networks keep to that, and so does
    each step here.
    """
    told = _questions(finish)
    asked = [_asked(one, strokes, frame) for one in told]
    by_look = [network.answer(look, asked) for look in seen.looks]
    painted = PaintedStrokes(strokes, frame)
    taught = strokes.teaching > 0 or strokes.whole is not None
    color = seen.color if strokes.whole is None else None
    found = []
    for one, same in zip(told, zip(*by_look, strict=True), strict=True):
        answer = calibrated(_surest(same), one.question, finish, taught=taught)
        answer = colored(answer, one.question, color)
        found.append(_painted(answer, painted.answered(one.yes, one.no), frame))
    return _settled(found, strokes)


def _settled(found: list[Answer], strokes: Strokes) -> tuple[Answer, ...]:
    """Return answers that agree with each other; a whole answer that no stroke limits is sure."""
    if strokes.whole is not None and not strokes.teaching:
        found = [replace(one, down=0.0, up=0.0) for one in found]
    return (_within(found[0], found[-1]), *found[1:])


def _asked(told: _Told, strokes: Strokes, frame: JudgedFrame) -> Asked:
    return Asked(
        question=told.question,
        dots=teaching_dots(strokes, frame, told.yes, told.no),
        base=_base(strokes.whole, told),
    )


def colored(answer: Answer, question: Question, color: NDArray[np.float32] | None) -> Answer:
    """Add what color says of rust, if anything; of browned iron it can only say yes."""
    if color is None:
        return answer
    said = color if question is Question.RUSTED else np.maximum(color, 0)
    logit = answer.logit.copy()
    logit[: color.shape[0], : color.shape[1]] += said
    return Answer(logit=logit, down=answer.down, up=answer.up)


def _base(whole: State | None, told: _Told) -> float | None:
    if whole is None:
        return None
    return _CERTAIN if whole in told.yes else -_CERTAIN


def _surest(same: tuple[Answer, ...]) -> Answer:
    """Of two lights take at each pixel the surer: glare in one is not in the other."""
    if len(same) == 1:
        return same[0]
    one, two = same
    logit = np.where(np.abs(one.logit) >= np.abs(two.logit), one.logit, two.logit)
    return Answer(
        logit=logit.astype(np.float32), down=min(one.down, two.down), up=min(one.up, two.up)
    )


def _painted(answer: Answer, said: NDArray[np.float32], frame: JudgedFrame) -> Answer:
    """Put what strokes say in place of what was judged under them."""
    logit = answer.logit[: frame.height, : frame.width]
    logit = np.where(np.isnan(said), logit, (2 * np.nan_to_num(said) - 1) * _PAINTED)
    return Answer(logit=logit.astype(np.float32), down=answer.down, up=answer.up)


def _within(rusted: Answer, browned: Answer) -> Answer:
    """Return rust no surer than brown: what is rusted is browned."""
    logit = np.minimum(rusted.logit, browned.logit)
    return Answer(logit=logit, down=rusted.down, up=rusted.up)


def states_of(found: Sequence[Answer], strokes: Strokes, frame: JudgedFrame) -> NDArray[np.uint8]:
    """Return the state of each pixel, height x width: numbers of State."""
    lost = found[0].logit
    states = np.where(lost > 0, State.LOST.value, State.KEPT.value).astype(np.uint8)
    if len(found) > 1:
        states[(lost <= 0) & (found[1].logit > 0)] = State.PATINA.value
    near = np.logical_or.reduce([np.abs(one.logit) < _NEAR_LINE for one in found])
    states[_patches(near)] = State.CANNOT_TELL.value
    painted = PaintedStrokes(strokes, frame).states
    return np.where(painted > 0, painted, states).astype(np.uint8)


def _patches(near: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Leave out the thin seams that run along every border between kept and lost."""
    kernel = np.ones((5, 5), dtype=np.uint8)
    opened = cv2.morphologyEx(near.astype(np.uint8), cv2.MORPH_OPEN, kernel)
    return np.asarray(opened) > 0
