"""What a person says of an outline: strokes by kind, or one answer for the whole of it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError
from planebench.photo.coverage_frame import JudgedFrame
from planebench.photo.judge import Dot

# Dots along a stroke stand this many judged pixels apart: nearer ones look alike anyway.
_DOT_STEP = 24.0
# A class is not learned from fewer pixels of the photograph: a slip of the hand is as large.
FEWEST_PIXELS = 20


class State(Enum):
    """What a pixel is; the values are the numbers on the map, 0 being outside."""

    KEPT = 1  # on bare iron: bright
    LOST = 2  # on bare iron: rust
    CANNOT_TELL = 3
    PATINA = 4  # bare iron only


_TEACHING = (State.KEPT, State.LOST, State.PATINA)
_NAMES = {
    "kept": State.KEPT,
    "bright": State.KEPT,
    "lost": State.LOST,
    "rust": State.LOST,
    "patina": State.PATINA,
    "cannot_tell": State.CANNOT_TELL,
}
_WHOLE = {name: state for name, state in _NAMES.items() if state is not State.CANNOT_TELL}


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgeStroke:
    """A line drawn with a round brush: points x, y and the brush's radius in photograph pixels."""

    points: tuple[tuple[float, float], ...]
    radius: float

    @property
    def area(self) -> float:
        """About how many pixels of the photograph it covers."""
        length = sum(math.dist(a, b) for a, b in zip(self.points, self.points[1:], strict=False))
        return math.pi * self.radius**2 + 2 * self.radius * length


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """What a person said of an outline, by kind.

    On bare iron `kept` is bright, `lost` is rust, and there is patina. `whole` says that all of the
    outline is of one state (never CANNOT_TELL); the strokes then mark exceptions.
    """

    kept: tuple[JudgeStroke, ...] = ()
    lost: tuple[JudgeStroke, ...] = ()
    patina: tuple[JudgeStroke, ...] = ()
    cannot_tell: tuple[JudgeStroke, ...] = ()
    whole: State | None = None

    @property
    def teaching(self) -> int:
        """How many strokes say what something is."""
        return len(self.kept) + len(self.lost) + len(self.patina)

    @property
    def by_state(self) -> dict[State, tuple[JudgeStroke, ...]]:
        """The strokes by what they say, also states without any."""
        return {
            State.KEPT: self.kept,
            State.LOST: self.lost,
            State.PATINA: self.patina,
            State.CANNOT_TELL: self.cannot_tell,
        }


def strokes_from_json(data: object) -> Strokes:
    """Read {"kept": [{"points": [[x, y], ...], "radius": r}], ..., "whole": "rust"}.

    Kinds are kept or bright, lost or rust, patina, cannot_tell. Raise InputError otherwise.
    """
    try:
        return _all(data)
    except (TypeError, KeyError, ValueError, AttributeError) as error:
        raise InputError(
            "The strokes cannot be read.",
            remedy='They are written {"kept": [{"points": [[x, y], ...], "radius": r}], '
            '"lost": [], "patina": [], "cannot_tell": [], "whole": null}.',
            subject="strokes",
        ) from error


def _all(data: object) -> Strokes:
    if not isinstance(data, Mapping):
        raise TypeError
    found: dict[State, tuple[JudgeStroke, ...]] = dict.fromkeys(State, ())
    for name, state in _NAMES.items():
        found[state] = (*found[state], *_read(data.get(name)))
    whole = data.get("whole")
    return Strokes(
        kept=found[State.KEPT],
        lost=found[State.LOST],
        patina=found[State.PATINA],
        cannot_tell=found[State.CANNOT_TELL],
        whole=None if whole is None else _WHOLE[whole],
    )


def _read(strokes: Sequence[Mapping[str, object]] | None) -> tuple[JudgeStroke, ...]:
    return tuple(_stroke(stroke) for stroke in strokes or ())


def _stroke(data: Mapping[str, object]) -> JudgeStroke:
    given, radius = data["points"], float(str(data["radius"]))
    points = tuple((float(x), float(y)) for x, y in given)  # type: ignore[attr-defined]  # JSON
    if not points or not np.isfinite([*sum(points, ()), radius]).all() or radius < 0:
        raise ValueError
    return JudgeStroke(points=points, radius=radius)


def check_states(strokes: Strokes, *, iron: bool) -> None:
    """Raise InputError where patina is said of a surface that is not bare iron."""
    if not iron and (strokes.patina or strokes.whole is State.PATINA):
        raise InputError(
            "Patina is a condition of bare iron, not of a finish.",
            remedy="Judge the surface as bare iron (rust), or say kept or lost.",
            subject="strokes",
        )


def teaching_dots(
    strokes: Strokes, frame: JudgedFrame, yes: frozenset[State], no: frozenset[State]
) -> tuple[Dot, ...]:
    """Place dots along the strokes that answer a question; those outside the frame are left out.

    States told by fewer than FEWEST_PIXELS of the photograph teach nothing.
    """
    return tuple(
        Dot(row=int(y) // 2, column=int(x) // 2, yes=state in yes)
        for state, some in strokes.by_state.items()
        if state in yes | no and sum(stroke.area for stroke in some) >= FEWEST_PIXELS
        for x, y in _inside(some, frame)
    )


def _inside(strokes: Sequence[JudgeStroke], frame: JudgedFrame) -> list[tuple[float, float]]:
    """Return the places along strokes that lie in the frame."""
    along = [place for stroke in strokes for place in _along(stroke, frame)]
    return [(x, y) for x, y in along if 0 <= x < frame.width and 0 <= y < frame.height]


def _along(stroke: JudgeStroke, frame: JudgedFrame) -> list[tuple[float, float]]:
    placed = np.array([frame.placed(x, y) for x, y in stroke.points]) + 0.5
    lengths = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(placed, axis=0).T))])
    count = int(lengths[-1] // _DOT_STEP) + 1
    at = np.linspace(0, lengths[-1], count + 2)[1:-1] if lengths[-1] else np.zeros(1)
    columns, rows = (np.interp(at, lengths, placed[:, axis]) for axis in (0, 1))
    return list(zip(columns.tolist(), rows.tolist(), strict=True))


class PaintedStrokes:
    """All strokes drawn at the judged size."""

    def __init__(self, strokes: Strokes, frame: JudgedFrame) -> None:
        self._drawn = {state: _drawn(some, frame) for state, some in strokes.by_state.items()}
        told = [self._drawn[state] for state in _TEACHING]
        self._twice = np.count_nonzero(np.stack(told), axis=0) > 1
        either = max(int(np.count_nonzero(np.logical_or.reduce(told))), 1)
        self.clash = int(np.count_nonzero(self._twice)) / either
        """The share of the painted pixels that strokes say two things of."""

    @property
    def states(self) -> NDArray[np.uint8]:
        """The state that strokes give each pixel, 0 where none does; CANNOT_TELL where two do."""
        states = np.zeros(self._twice.shape, dtype=np.uint8)
        for state in _TEACHING:
            states[self._drawn[state]] = state.value
        states[self._drawn[State.CANNOT_TELL] | self._twice] = State.CANNOT_TELL.value
        return states

    def answered(self, yes: frozenset[State], no: frozenset[State]) -> NDArray[np.float32]:
        """Return what strokes answer a question: 1 yes, 0 no, 0.5 both or can't tell, else NaN."""
        said_yes = np.logical_or.reduce([self._drawn[state] for state in yes])
        said_no = np.logical_or.reduce([self._drawn[state] for state in no])
        answers = np.full(self._twice.shape, np.nan, dtype=np.float32)
        answers[said_yes] = 1.0
        answers[said_no] = 0.0
        answers[(said_yes & said_no) | self._drawn[State.CANNOT_TELL]] = 0.5
        return answers


def _drawn(strokes: tuple[JudgeStroke, ...], frame: JudgedFrame) -> NDArray[np.bool_]:
    plane = np.zeros((frame.height, frame.width), dtype=np.uint8)
    for stroke in strokes:
        placed = [tuple(round(c) for c in frame.placed(x, y)) for x, y in stroke.points]
        width = max(1, round(2 * stroke.radius * frame.scale))
        for start, end in zip(placed, placed[1:] or placed, strict=False):
            cv2.line(plane, start, end, 1, min(width, 32_000))
    return plane > 0
