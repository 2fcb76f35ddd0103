"""How much of a finish is kept inside an outline: judged at once, and again from each stroke.

On bare iron: how much is bright, patina and rust.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError
from planebench.photo.coverage_color import vivid_rust
from planebench.photo.coverage_fitness import bared, spoilt, strange, why_not
from planebench.photo.coverage_frame import cut_image, cut_mask, frame_of, pad
from planebench.photo.coverage_interval import (
    between_of,
    causes_of,
    spanned,
    turned,
)
from planebench.photo.coverage_logits import Seen, answers, states_of
from planebench.photo.coverage_overlay import overlay
from planebench.photo.coverage_reading import (
    Causes,
    CoverageReading,
    Doubt,
    Finish,
    Span,
    advice,
    question_for,
    unmeasurable,
)
from planebench.photo.coverage_strokes import (
    JudgeStroke,
    PaintedStrokes,
    State,
    Strokes,
    check_states,
    strokes_from_json,
)
from planebench.photo.judge import Answer, Network
from planebench.photo.outline import PixelOutline, check_outline, mask_of

__all__ = [
    "CANNOT_TELL",
    "KEPT",
    "LOST",
    "PATINA",
    "Causes",
    "CoverageReading",
    "Finish",
    "Judge",
    "JudgeStroke",
    "Judging",
    "Span",
    "State",
    "Strokes",
    "overlay",
    "strokes_from_json",
]

KEPT, LOST, CANNOT_TELL, PATINA = (
    state.value for state in (State.KEPT, State.LOST, State.CANNOT_TELL, State.PATINA)
)
# Folders of the two pairs of networks: finishes, and bare iron.
FINISH, IRON = "finish", "iron"
_INSIDE = 0.5
_OUTLINE_SLIP = 1.5  # pixels of the photograph by which an outline is usually misdrawn
# An outline this much of one state, whose share may lie anywhere in so wide an interval, asks.
_EVEN, _ASKS_FROM = 0.9, 0.4
# A surface stranger than this needs to be shown both kinds: one answer would not teach it.
_STRANGE = 0.5
_NO_STROKES = Strokes()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Judged:
    """A judgment at the judged size: an answer by question, and the state of each pixel."""

    found: tuple[Answer, ...]
    states: NDArray[np.uint8]
    clash: float


class Judge:
    """The judge of kept and lost finish, loaded once from the folder of its networks.

    Raise FileError if a network cannot be loaded.
    """

    def __init__(self, model_path: Path) -> None:
        finish, iron = Network(model_path / FINISH), Network(model_path / IRON)
        self._networks = {one: iron if one.is_iron else finish for one in Finish}

    def open(
        self,
        image: NDArray[np.uint8],
        outline: PixelOutline,
        finish: Finish,
        second_light: NDArray[np.uint8] | None = None,
    ) -> Judging:
        """Look at an outline on an upright photograph (H x W x 3 RGB) for the first time.

        `second_light` is a photograph of the same view under another light, of the same size.
        Raise InputError for an outline that holds nothing, or a second photograph of another size.
        """
        height, width = image.shape[:2]
        if second_light is not None and second_light.shape != image.shape:
            raise InputError(
                "The second photograph has another size or orientation than the first.",
                remedy="Use a photograph of the same view, taken without moving the camera.",
                subject="second light",
            )
        check_outline(outline, (width, height))
        images = (image,) if second_light is None else (image, second_light)
        return Judging(self._networks[finish], images, mask_of(outline, (width, height)), finish)


class Judging:
    """One outline under judgment; keeps the first look, so that a stroke is answered quickly."""

    def __init__(
        self,
        network: Network,
        images: tuple[NDArray[np.uint8], ...],
        mask: NDArray[np.uint8],
        finish: Finish,
    ) -> None:
        self._network, self._finish = network, finish
        self._mask, self._area = mask, int(np.count_nonzero(mask))
        self._frame = frame_of(mask)
        self._weight = cut_mask(self._frame, mask)
        self._rings = _misdrawn(self._weight, _OUTLINE_SLIP * self._frame.scale)
        cuts = [self._cut(image) for image in images]
        reasons = [why_not(cut, self._weight, self._area) for cut in cuts]
        self._why = reasons[0] if all(reasons) else None
        self._spoilt = min(spoilt(cut, self._weight) for cut in cuts)
        self._strange = min(strange(cut, self._weight, finish) for cut in cuts)
        usable = [image for image, why in zip(images, reasons, strict=True) if why is None]
        self._seen = self._look(usable, cuts[0])
        self._strokes = _NO_STROKES
        self._judged: _Judged | None = None

    def read(self, strokes: Strokes = _NO_STROKES) -> CoverageReading:
        """Return the shares after these strokes (all of them, not only the newest).

        Raise InputError where patina is said of a finish.
        """
        check_states(strokes, iron=self._finish.is_iron)
        if self._why:
            return unmeasurable(self._why, self._area)
        judged = self._judge(strokes)
        doubt = self._doubt(judged, strokes)
        spans = [spanned(self._ends(one), doubt, strokes.teaching) for one in judged.found]
        asks = self._strange <= _STRANGE and self._asks(judged, spans, strokes)
        if asks:
            spans = [replace(s, low=0.0, high=1.0) if _is_wide(s) else s for s in spans]
        causes = causes_of(spans[0], doubt)
        told = question_for(self._finish) if asks else advice(causes, doubt, self._finish, strokes)
        reading = self._reading(spans, judged, causes, told)
        return replace(reading, asks_whole=asks)

    def map(self, *, full_size: bool = True) -> NDArray[np.uint8]:
        """Return the last judgment: 0 outside, 1 kept or bright, 2 lost or rust, 3 can't tell.

        On bare iron 4 is patina. At the photograph's size, or at the judged size of the window
        around the outline.
        """
        frame = self._frame
        if self._why:
            small = np.full((frame.height, frame.width), CANNOT_TELL, dtype=np.uint8)
        else:
            small = self._judge(self._strokes).states
        if not full_size:
            return np.where(self._weight > _INSIDE, small, 0).astype(np.uint8)
        whole = np.zeros_like(self._mask)
        part = self._mask[frame.y0 : frame.y1, frame.x0 : frame.x1]
        whole[frame.y0 : frame.y1, frame.x0 : frame.x1] = self._enlarged(small) * part
        return whole

    @property
    def window(self) -> tuple[int, int, int, int]:
        """The judged window on the photograph: x0, y0, x1, y1."""
        return self._frame.x0, self._frame.y0, self._frame.x1, self._frame.y1

    def _enlarged(self, small: NDArray[np.uint8]) -> NDArray[np.uint8]:
        """Enlarge states with smooth borders: each pixel takes the state that weighs most."""
        frame = self._frame
        size = (frame.x1 - frame.x0, frame.y1 - frame.y0)
        best = np.zeros(size[::-1], dtype=np.uint8)
        most = np.full(size[::-1], -1, dtype=np.int16)
        for state in np.unique(small):
            plane = np.where(small == state, 255, 0).astype(np.uint8)
            plane = np.asarray(cv2.resize(plane, size, interpolation=cv2.INTER_LINEAR))
            better = plane > most
            best[better] = state
            most[better] = plane[better]
        return best

    def _cut(self, image: NDArray[np.uint8]) -> NDArray[np.float32]:
        part: NDArray[np.float32] = cut_image(self._frame, image)[0].transpose(1, 2, 0)
        height, width = self._frame.height, self._frame.width
        return part[:height, :width].copy()

    def _look(self, images: list[NDArray[np.uint8]], cut: NDArray[np.float32]) -> Seen:
        """Look for the first time at the usable photographs; `cut` is of the first one."""
        inside = pad(self._frame, (self._weight > _INSIDE).astype(np.float32))
        looks = tuple(
            self._network.look(cut_image(self._frame, image), inside, self._finish.learned)
            for image in images
        )
        color = vivid_rust(cut, self._weight) if self._finish.is_iron else None
        return Seen(looks=looks, color=color)

    def _judge(self, strokes: Strokes) -> _Judged:
        if self._judged is not None and strokes == self._strokes:
            return self._judged
        found = answers(self._network, self._seen, strokes, self._frame, self._finish)
        self._strokes = strokes
        self._judged = _Judged(
            found=found,
            states=states_of(found, strokes, self._frame),
            clash=min(1.0, 2 * PaintedStrokes(strokes, self._frame).clash),
        )
        return self._judged

    def _share(self, chance: NDArray[np.float32], weight: NDArray[np.float32]) -> float:
        return float((chance * weight).sum() / max(float(weight.sum()), 1.0))

    def _ends(self, answer: Answer) -> Span:
        """Return a question's share, and the same with all logits shifted down and up."""
        low, share, high = (
            self._share(_chance(answer.logit + by), self._weight)
            for by in (-answer.down, 0.0, answer.up)
        )
        return Span(share=share, low=low, high=high)

    def _asks(self, judged: _Judged, spans: list[Span], strokes: Strokes) -> bool:
        """Return whether all looks to be of one state and the interval says it may be another."""
        if strokes.teaching or strokes.whole is not None:
            return False
        counts = np.bincount(judged.states.ravel(), weights=self._weight.ravel(), minlength=5)
        told = counts[[KEPT, LOST, PATINA]]
        even = float(told.max()) >= _EVEN * max(float(told.sum()), 1.0)
        return even and any(_is_wide(span) for span in spans)

    def _doubt(self, judged: _Judged, strokes: Strokes) -> Doubt:
        lost = _chance(judged.found[0].logit)
        here = self._share(lost, self._weight)
        unsure = (judged.states == CANNOT_TELL).astype(np.float32)
        nowhere = 0.0 if strokes.whole is not None else bared(here, self._finish)
        odd = 0.0 if strokes.whole is not None else self._strange
        return Doubt(
            unsure=self._share(unsure, self._weight),
            moved=max(abs(self._share(lost, ring) - here) for ring in self._rings),
            clash=judged.clash,
            spoilt=self._spoilt,
            strange=max(odd, nowhere),
        )

    def _reading(
        self, spans: list[Span], judged: _Judged, causes: Causes, told: str
    ) -> CoverageReading:
        first = spans[0] if self._finish.is_iron else turned(spans[0])
        kept, lost, unsure, patina = self._counts(judged.states)
        return CoverageReading(
            share=first.share,
            low=first.low,
            high=first.high,
            kept_px=kept,
            lost_px=lost,
            cannot_tell_px=unsure,
            patina_px=patina,
            causes=causes,
            why_unmeasurable=None,
            advice=told,
            bright=turned(spans[1]) if self._finish.is_iron else None,
            patina=between_of(spans[1], spans[0]) if self._finish.is_iron else None,
        )

    def _counts(self, states: NDArray[np.uint8]) -> tuple[int, int, int, int]:
        """Return pixels of the photograph by state, 1 to 4, summing up to the outline's."""
        sums = np.bincount(states.ravel(), weights=self._weight.ravel(), minlength=5)[1:]
        counts = np.rint(self._area * sums / sums.sum()).astype(int)
        counts[sums.argmax()] += self._area - counts.sum()
        kept, lost, unsure, patina = (int(count) for count in counts)
        return kept, lost, unsure, patina


def _is_wide(span: Span) -> bool:
    return span.high - span.low > _ASKS_FROM


def _chance(logit: NDArray[np.float32]) -> NDArray[np.float32]:
    return np.asarray(1 / (1 + np.exp(-np.clip(logit, -30, 30))), dtype=np.float32)


def _misdrawn(weight: NDArray[np.float32], slip: float) -> tuple[NDArray[np.float32], ...]:
    """The outline drawn a little too small and a little too large, at the judged size."""
    inside = (weight > _INSIDE).astype(np.uint8)
    within = cv2.distanceTransform(inside, cv2.DIST_L2, 3) - 0.5
    beyond = cv2.distanceTransform(1 - inside, cv2.DIST_L2, 3) - 0.5
    signed = np.where(inside > 0, within, -beyond)
    small, large = (np.clip(signed - s * slip + 0.5, 0, 1) for s in (1, -1))
    rings = [ring.astype(np.float32) for ring in (small, large) if ring.sum() > 1]
    return tuple(rings) or (weight,)
