"""Judging an outline off the window’s thread after each stroke; the latest request wins."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from math import isnan, nan
from threading import Lock
from typing import Protocol

import cv2
import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QObject, Signal
from typing_extensions import override

from planebench.catalog.reference import resources_folder
from planebench.errors import MeasureError
from planebench.photo.coverage import Finish, Judge, Judging, Span, strokes_from_json
from planebench.photo.outline import PixelOutline
from planebench.window.jobs import Job, JobDesk, LatestRead, Stopped
from planebench.window.screens.photograph.photograph_model import JUDGED, Rgb
from planebench.window.screens.photograph.stroke_tool import OutlineStroke, strokes_to_json

Map = NDArray[np.uint8]

# The values of the judge's map; patina is on bare iron only.
KEPT, LOST, CANNOT_TELL, PATINA = 1, 2, 3, 4
CODES = (KEPT, LOST, CANNOT_TELL, PATINA)
_TIMES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One cause of doubt in words, and its half width in the 90% interval, as a share."""

    words: str
    plus_minus: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """How an outline was judged; shares are 0 to 1, `share` is None where it can't be told.

    `map` shows `window` (left, top, right, bottom in pixels of the photograph) at the size at
    which it was judged: 0 outside, 1 kept, 2 lost or rusted, 3 can't tell,
    4 patina. On bare iron `bright` and `patina` are the other two shares. `asks_whole`: the outline
    is one even surface, and a person must say which.
    """

    share: float | None
    low: float
    high: float
    kept_px: int
    lost_px: int
    cannot_tell_px: int
    causes: tuple[Cause, ...]
    why_not: str
    advice: str
    map: Map
    window: tuple[int, int, int, int]
    patina_px: int = 0
    bright: Span | None = None
    patina: Span | None = None
    asks_whole: bool = False

    @property
    def all_px(self) -> int:
        """Pixels inside the outline."""
        return self.kept_px + self.lost_px + self.cannot_tell_px + self.patina_px

    @property
    def sound_px(self) -> int:
        """Pixels of finish or of iron without rust: kept, or bright and patina."""
        return self.kept_px + self.patina_px

    @property
    def sound_map(self) -> Map:
        """The map with patina counted as kept: what a reading of rust stores."""
        return np.where(self.map == PATINA, np.uint8(KEPT), self.map).astype(np.uint8)


class OpenOutline(Protocol):
    """An outline opened for judging."""

    def read(self, strokes: Sequence[OutlineStroke], whole: str) -> Verdict:
        """Judge the outline from these strokes and from what all of it is said to be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondLight:
    """A photograph of the same view under another light: its id, and a function for its pixels."""

    photograph: str
    pixels: Callable[[], Rgb] = field(compare=False)


OpenJudging = Callable[["JudgingRequest"], OpenOutline]
"""Opens an outline for a finish; raises PlanebenchError where it can't be judged."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgingRequest:
    """A request to judge an outline on pixels (H x W x 3) for a finish, with strokes."""

    key: str
    rgb: Rgb
    outline: PixelOutline
    finish: str
    strokes: tuple[OutlineStroke, ...]
    second: SecondLight | None = None
    whole: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgingResult:
    """The verdict, its masks by map value, and the share after each stroke.

    `shares` begins with the share before any stroke; None where it could not be told, NaN where
    it has not been computed yet.
    """

    request: JudgingRequest
    verdict: Verdict
    masks: dict[int, Map] = field(repr=False)
    shares: tuple[float | None, ...]


class JudgingDesk(QObject):
    """Keeps the selected outline open, so that a stroke costs one judging and nothing else.

    Signals: `judged(JudgingResult)`; `failed(Exception)`.
    """

    judged = Signal(object)
    failed = Signal(object)

    def __init__(self, jobs: JobDesk, opening: OpenJudging, parent: QObject) -> None:
        super().__init__(parent)
        self._asking = LatestRead(jobs, self)
        self._opening = opening
        self._lock = Lock()
        self._open: tuple[tuple[object, ...], OpenOutline] | None = None
        self._shares: dict[tuple[OutlineStroke, ...], float | None] = {}

    def ask(self, request: JudgingRequest) -> None:
        """Judge again; drop any answer still pending."""
        self._asking.ask(
            lambda _job: self._judge(request), done=self._answered, failed=self.failed.emit
        )

    def _answered(self, judged: JudgingResult) -> None:
        """Emit the verdict at once, then what each stroke did where that is unknown."""
        self.judged.emit(judged)
        if any(share is not None and isnan(share) for share in judged.shares):
            self._asking.ask(lambda job: self._looked_back(judged, job), done=self.judged.emit)

    def _looked_back(self, judged: JudgingResult, job: Job) -> JudgingResult:
        """Judge after each earlier stroke; stop as soon as there is a newer request."""
        strokes = judged.request.strokes
        for count in range(len(strokes)):
            with self._lock:
                if job.stop_asked:
                    raise Stopped
                if strokes[:count] not in self._shares:
                    read = self._opened(judged.request).read(strokes[:count], judged.request.whole)
                    self._shares[strokes[:count]] = read.share
        return replace(judged, shares=self._shares_after(strokes))

    def _shares_after(self, strokes: tuple[OutlineStroke, ...]) -> tuple[float | None, ...]:
        return tuple(self._shares.get(strokes[:n], nan) for n in range(len(strokes) + 1))

    def _judge(self, request: JudgingRequest) -> JudgingResult:
        with self._lock:
            verdict = self._opened(request).read(request.strokes, request.whole)
            self._shares[request.strokes] = verdict.share
            shares = self._shares_after(request.strokes)
        masks = {code: _smooth(verdict.map == code) for code in CODES}
        return JudgingResult(request=request, verdict=verdict, masks=masks, shares=shares)

    def _opened(self, request: JudgingRequest) -> OpenOutline:
        same = (request.key, request.outline, request.second, request.finish, request.whole)
        if self._open is not None and self._open[0] == same:
            return self._open[1]
        opened = self._opening(request)
        self._open = (same, opened)
        self._shares = {}
        return opened


def _smooth(inside: NDArray[np.bool_]) -> Map:
    """Return a mask of 0 to 255, enlarged so that its edge shows no steps."""
    mask = inside.astype(np.uint8) * np.uint8(255)
    size = (mask.shape[1] * _TIMES, mask.shape[0] * _TIMES)
    return np.asarray(cv2.resize(mask, size, interpolation=cv2.INTER_CUBIC), dtype=np.uint8)


_LOADING = Lock()


def open_judging(request: JudgingRequest) -> OpenOutline:
    """Open an outline; raise InputError for one that holds nothing, MeasureError if not judged."""
    finish = request.finish
    if finish not in JUDGED:
        raise MeasureError(
            "This finish cannot be judged on a photograph.",
            remedy="Japanning, nickel, lacquer and rust can. Record an estimate for this one.",
            subject=finish,
        )
    with _LOADING:
        judge = _judge()
    second = None if request.second is None else request.second.pixels()
    return _Opened(judge.open(request.rgb, request.outline, Finish(finish), second))


@cache
def _judge() -> Judge:
    """Load the judge once; raise FileError if a file of it is missing."""
    return Judge(resources_folder() / "judge")


class _Opened(OpenOutline):
    """An outline that the judge holds open."""

    def __init__(self, judging: Judging) -> None:
        self._judging = judging

    @override
    def read(self, strokes: Sequence[OutlineStroke], whole: str) -> Verdict:
        reading = self._judging.read(strokes_from_json(strokes_to_json(strokes, whole=whole)))
        causes = reading.causes
        parts = (
            Cause(words="spots it can’t tell", plus_minus=causes.cannot_tell),
            Cause(words="position of the outline", plus_minus=causes.outline),
            Cause(words="judging of each spot", plus_minus=causes.judging),
        )
        return Verdict(
            share=reading.share,
            low=0.0 if reading.low is None else reading.low,
            high=1.0 if reading.high is None else reading.high,
            kept_px=reading.kept_px,
            lost_px=reading.lost_px,
            cannot_tell_px=reading.cannot_tell_px,
            causes=() if reading.share is None else parts,
            why_not=reading.why_unmeasurable or "",
            advice=reading.advice,
            map=self._judging.map(full_size=False),
            window=self._judging.window,
            patina_px=reading.patina_px,
            bright=reading.bright,
            patina=reading.patina,
            asks_whole=reading.asks_whole,
        )
