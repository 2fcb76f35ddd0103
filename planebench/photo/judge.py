"""The networks that tell kept from lost finish: a first look, then a quick answer to strokes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

import numpy as np
import onnxruntime as ort
from numpy.typing import NDArray

from planebench.errors import FileError

Plane = NDArray[np.float32]

FIRST, SECOND = "first.onnx", "second.onnx"
# More dots than this add no new looks and cost 4 ms for each 16; an even choice stands for all.
MOST_DOTS = 48
_THREADS = 2
_LEFT = ("embedding", "half", "fourth", "eighth", "summary")


class Question(Enum):
    """What the networks answer by yes or no for each pixel; the values are what they learned."""

    BLACK_LOST = 0
    NICKEL_LOST = 1
    RUSTED = 2
    BROWNED = 3  # patina or rust

    @property
    def channel(self) -> int:
        """Its channel among the first look's logits."""
        return int(self is Question.BROWNED)


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook:
    """What the first look leaves: logits, how far they may be off, and what strokes work on.

    `logit` is 1 x 2 x H x W: lost (on iron: rusted), and browned. `spread` is 2 x 2: by channel,
    how far all logits together may shift down and up within a 90% interval. `mask` is
    1 x 1 x H x W. `left` holds the second network's other inputs by name.
    """

    logit: Plane
    spread: Plane
    mask: Plane
    left: dict[str, Plane]

    def plane(self, question: Question) -> Plane:
        """Return the logits of one question as H x W."""
        plane: Plane = self.logit[0, question.channel]
        return plane


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Logits of yes (H x W), and how far all of them may shift down and up (90%)."""

    logit: Plane
    down: float
    up: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """One place of a stroke on the half-size grid, and what it answers to a question."""

    row: int
    column: int
    yes: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question with the dots that answer it; `base` stands in for the first look's logits."""

    question: Question
    dots: tuple[Dot, ...]
    base: float | None = None


class Network:
    """Both parts of the judge, loaded once. Raise FileError if one is missing or broken."""

    def __init__(self, folder: Path) -> None:
        options = ort.SessionOptions()
        options.intra_op_num_threads = _THREADS
        options.log_severity_level = 3
        # Waiting threads sleep: beside other work, spinning ones would take its time and ours.
        options.add_session_config_entry("session.intra_op.allow_spinning", "0")
        self._first = _session(folder / FIRST, options)
        self._second = _session(folder / SECOND, options)

    def look(self, image: Plane, mask: Plane, finish: int) -> FirstLook:
        """Judge 1 x 3 x H x W (RGB, 0 to 1) in 1 x 1 x H x W; H and W are multiples of 32."""
        one_hot = np.zeros((1, 3), dtype=np.float32)
        one_hot[0, finish] = 1
        logit, spread, *left = self._first.run(
            ["logit", "spread", *_LEFT], {"image": image, "mask": mask, "finish": one_hot}
        )
        return FirstLook(
            logit=logit, spread=spread[0], mask=mask, left=dict(zip(_LEFT, left, strict=True))
        )

    def answer(self, look: FirstLook, asked: Sequence[Asked]) -> tuple[Answer, ...]:
        """Answer questions from the first look and their dots, all in one run.

        A dot never moves any pixel away from what it says.
        """
        if not any(one.dots for one in asked):
            return tuple(_unchanged(look, one) for one in asked)
        logit = np.stack([_base(look, one) for one in asked])[:, None]
        judged, spread = self._second.run(
            ["judged", "spread"],
            {"logit": logit, "mask": look.mask, **look.left, **_inputs(asked)},
        )
        return tuple(
            Answer(logit=plane[0], down=float(ends[0]), up=float(ends[1]))
            for plane, ends in zip(judged, spread, strict=True)
        )


def _inputs(asked: Sequence[Asked]) -> dict[str, NDArray[np.int64] | Plane]:
    """Return the questions and their dots as the second network takes them, unused places 0."""
    chosen = [evenly(one.dots) for one in asked]
    longest = max(len(dots) for dots in chosen)
    points = np.zeros((len(asked), longest, 2), dtype=np.int64)
    kind = np.zeros((len(asked), longest), dtype=np.float32)
    question = np.zeros((len(asked), len(Question)), dtype=np.float32)
    for row, (one, dots) in enumerate(zip(asked, chosen, strict=True)):
        question[row, one.question.value] = 1
        for column, dot in enumerate(dots):
            points[row, column] = dot.row, dot.column
            kind[row, column] = -1 if dot.yes else 1
    return {"question": question, "points": points, "kind": kind}


def _base(look: FirstLook, asked: Asked) -> Plane:
    plane = look.plane(asked.question)
    return plane if asked.base is None else np.full_like(plane, asked.base)


def _unchanged(look: FirstLook, asked: Asked) -> Answer:
    down, up = look.spread[asked.question.channel] if asked.base is None else (0.0, 0.0)
    return Answer(logit=_base(look, asked), down=float(down), up=float(up))


def _session(path: Path, options: ort.SessionOptions) -> ort.InferenceSession:
    try:
        return ort.InferenceSession(path.read_bytes(), options, providers=["CPUExecutionProvider"])
    except Exception as error:  # its errors share no base but Exception
        raise FileError(
            f"The judge of kept and lost finish cannot be loaded from {path.name}.",
            remedy="Install the program again; the catalog is not touched.",
            subject=str(path),
        ) from error


def evenly(dots: Sequence[Dot]) -> list[Dot]:
    """Return at most MOST_DOTS, half of each kind where both abound, spread over the strokes."""
    yes, no = [d for d in dots if d.yes], [d for d in dots if not d.yes]
    room = MOST_DOTS - min(len(yes), len(no), MOST_DOTS // 2)
    return [*_spread(no, room), *_spread(yes, MOST_DOTS - min(len(no), room))]


def _spread(dots: list[Dot], most: int) -> list[Dot]:
    if len(dots) <= most:
        return dots
    return [dots[round(i)] for i in np.linspace(0, len(dots) - 1, most)]
