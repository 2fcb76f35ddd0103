"""Strokes of "kept", "lost" and "can't tell": read, placed on the judged picture, compared."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError
from planebench.photo.coverage_frame import JudgedFrame
from planebench.photo.judge import Dot

# Dots along a stroke stand this many judged pixels apart: nearer ones look alike anyway.
_DOT_STEP = 24.0
_KEPT, _LOST, _CANNOT_TELL = 1, 2, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgeStroke:
    """A line drawn with a round brush: points x, y and the brush's radius in photograph pixels."""

    points: tuple[tuple[float, float], ...]
    radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """What a person said of an outline, by kind."""

    kept: tuple[JudgeStroke, ...] = ()
    lost: tuple[JudgeStroke, ...] = ()
    cannot_tell: tuple[JudgeStroke, ...] = ()

    @property
    def teaching(self) -> int:
        """How many strokes say kept or lost."""
        return len(self.kept) + len(self.lost)


def strokes_from_json(data: object) -> Strokes:
    """Read {"kept": [{"points": [[x, y], ...], "radius": r}], ...}. Raise InputError otherwise."""
    try:
        return _all(data)
    except (TypeError, KeyError, ValueError, AttributeError) as error:
        raise InputError(
            "The strokes cannot be read.",
            remedy='They are written {"kept": [{"points": [[x, y], ...], "radius": r}], '
            '"lost": [], "cannot_tell": []}.',
            subject="strokes",
        ) from error


def _all(data: object) -> Strokes:
    if not isinstance(data, Mapping):
        raise TypeError
    return Strokes(
        kept=_read(data.get("kept")),
        lost=_read(data.get("lost")),
        cannot_tell=_read(data.get("cannot_tell")),
    )


def _read(strokes: Sequence[Mapping[str, object]] | None) -> tuple[JudgeStroke, ...]:
    return tuple(_stroke(stroke) for stroke in strokes or ())


def _stroke(data: Mapping[str, object]) -> JudgeStroke:
    given, radius = data["points"], float(str(data["radius"]))
    points = tuple((float(x), float(y)) for x, y in given)  # type: ignore[attr-defined]  # JSON
    if not points or not np.isfinite([*sum(points, ()), radius]).all() or radius < 0:
        raise ValueError
    return JudgeStroke(points=points, radius=radius)


def dots_of(strokes: Strokes, frame: JudgedFrame) -> tuple[Dot, ...]:
    """Place dots along the strokes that say kept or lost; those outside the frame are left out."""
    return tuple(
        Dot(row=int(y) // 2, column=int(x) // 2, kept=kept)
        for kept, some in ((True, strokes.kept), (False, strokes.lost))
        for stroke in some
        for x, y in _along(stroke, frame)
        if 0 <= x < frame.width and 0 <= y < frame.height
    )


def _along(stroke: JudgeStroke, frame: JudgedFrame) -> list[tuple[float, float]]:
    placed = np.array([frame.placed(x, y) for x, y in stroke.points]) + 0.5
    lengths = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(placed, axis=0).T))])
    count = int(lengths[-1] // _DOT_STEP) + 1
    at = np.linspace(0, lengths[-1], count + 2)[1:-1] if lengths[-1] else np.zeros(1)
    columns, rows = (np.interp(at, lengths, placed[:, axis]) for axis in (0, 1))
    return list(zip(columns.tolist(), rows.tolist(), strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintedStrokes:
    """Pixels a stroke covers on the judged picture: 0 none, 1 kept, 2 lost, 3 can't tell.

    `clash` is the share of the painted pixels that are both kept and lost; those are set to 3.
    """

    told: NDArray[np.uint8]
    clash: float


def paint(strokes: Strokes, frame: JudgedFrame) -> PaintedStrokes:
    """Draw all strokes at the judged size."""
    kept, lost, unsure = (
        _drawn(some, frame) for some in (strokes.kept, strokes.lost, strokes.cannot_tell)
    )
    told = np.zeros((frame.height, frame.width), dtype=np.uint8)
    told[kept] = _KEPT
    told[lost] = _LOST
    told[unsure | (kept & lost)] = _CANNOT_TELL
    either = max(int(np.count_nonzero(kept | lost)), 1)
    return PaintedStrokes(told=told, clash=int(np.count_nonzero(kept & lost)) / either)


def _drawn(strokes: tuple[JudgeStroke, ...], frame: JudgedFrame) -> NDArray[np.bool_]:
    plane = np.zeros((frame.height, frame.width), dtype=np.uint8)
    for stroke in strokes:
        placed = [tuple(round(c) for c in frame.placed(x, y)) for x, y in stroke.points]
        width = max(1, round(2 * stroke.radius * frame.scale))
        for start, end in zip(placed, placed[1:] or placed, strict=False):
            cv2.line(plane, start, end, 1, min(width, 32_000))
    return plane > 0
