"""How much of a finish is kept inside an outline: judged at once, and again from each stroke."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError
from planebench.photo.coverage_fitness import bared, spoilt, strange, why_not
from planebench.photo.coverage_frame import cut_image, cut_mask, frame_of, pad
from planebench.photo.coverage_overlay import overlay
from planebench.photo.coverage_reading import (
    Causes,
    CoverageReading,
    Doubt,
    Finish,
    advice,
    interval,
    unmeasurable,
)
from planebench.photo.coverage_strokes import (
    JudgeStroke,
    Strokes,
    dots_of,
    paint,
    strokes_from_json,
)
from planebench.photo.coverage_sure import sure_dots
from planebench.photo.judge import Dot, FirstLook, Network
from planebench.photo.outline import PixelOutline, check_outline, mask_of

__all__ = [
    "Causes",
    "CoverageReading",
    "Finish",
    "Judge",
    "JudgeStroke",
    "Judging",
    "Strokes",
    "overlay",
    "strokes_from_json",
]

KEPT, LOST, CANNOT_TELL = 1, 2, 3
# Folders of the two pairs of networks: black gloss, and metal that is plated or bare.
BLACK, METAL = "black", "metal"
_INSIDE = 0.5
# The network's logits lean to one side; where the line between kept and lost lies was found on
# held-out planes, without strokes and with them, for each finish it learned.
_LINE = {0: (-0.4, -0.3), 1: (0.2, 0.0), 2: (-0.4, -0.6)}
# Strokes of one kind alone pull all that is unsure to that kind: so they are trusted less, and
# the line is moved against them.
_TRUST_LESS = {0: 0.3, 1: 0.6, 2: 0.6}
_SHIFT = {0: 0.8, 1: 0.4, 2: 0.0}
_STEEP = 4.0
_CHANCE_STEEP = 3.0
_NEAR_LINE = 0.25
_OUTLINE_SLIP = 1.5  # pixels of the photograph by which an outline is usually misdrawn
_NO_STROKES = Strokes()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Judged:
    """A judgment at the judged size: logits above the line, and the class of each pixel."""

    above: NDArray[np.float32]
    classes: NDArray[np.uint8]
    clash: float


class Judge:
    """The judge of kept and lost finish, loaded once from the folder of its networks.

    Raise FileError if a network cannot be loaded.
    """

    def __init__(self, model_path: Path) -> None:
        black, metal = Network(model_path / BLACK), Network(model_path / METAL)
        self._networks = {one: black if one.is_black else metal for one in Finish}

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
        self._why = self._reason(images)
        cuts = [self._cut(image) for image in images]
        self._spoilt = min(spoilt(cut, self._weight) for cut in cuts)
        self._strange = min(strange(cut, self._weight, finish) for cut in cuts)
        self._looks = () if self._why else self._first_looks(images)
        self._strokes = _NO_STROKES
        self._judged: _Judged | None = None

    def read(self, strokes: Strokes = _NO_STROKES) -> CoverageReading:
        """Return the share after these strokes (all of them, not only the newest)."""
        if self._why:
            return unmeasurable(self._why, self._area)
        judged = self._judge(strokes)
        lost = 1 / (1 + np.exp(-_STEEP * judged.above))
        lost = np.where(judged.classes == CANNOT_TELL, 1 / (1 + np.exp(-judged.above)), lost)
        share = float((lost * self._weight).sum() / self._weight.sum())
        doubt = self._doubt(judged, lost, strokes)
        low, high, causes = interval(share, doubt, self._finish)
        if self._finish is not Finish.RUST:
            share, low, high = 1 - share, 1 - high, 1 - low
        kept_px, lost_px, unsure_px = self._counts(judged.classes)
        return CoverageReading(
            share=share,
            low=low,
            high=high,
            kept_px=kept_px,
            lost_px=lost_px,
            cannot_tell_px=unsure_px,
            causes=causes,
            why_unmeasurable=None,
            advice=advice(causes, doubt, self._finish),
        )

    def map(self, *, full_size: bool = True) -> NDArray[np.uint8]:
        """Return the last judgment: 0 outside, 1 kept, 2 lost (or rusted), 3 cannot tell.

        At the photograph's size, or at the judged size of the window round the outline.
        """
        frame = self._frame
        if self._why:
            small = np.full((frame.height, frame.width), CANNOT_TELL, dtype=np.uint8)
        else:
            small = self._judge(self._strokes).classes
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
        """Enlarge classes with smooth borders: each pixel takes the class that weighs most."""
        frame = self._frame
        size = (frame.x1 - frame.x0, frame.y1 - frame.y0)
        best = np.zeros(size[::-1], dtype=np.uint8)
        most = np.full(size[::-1], -1, dtype=np.int16)
        for kind in (KEPT, LOST, CANNOT_TELL):
            plane = np.where(small == kind, 255, 0).astype(np.uint8)
            plane = np.asarray(cv2.resize(plane, size, interpolation=cv2.INTER_LINEAR))
            better = plane > most
            best[better] = kind
            most[better] = plane[better]
        return best

    def _reason(self, images: tuple[NDArray[np.uint8], ...]) -> str | None:
        """Why nothing can be read, only if no photograph allows it."""
        reasons = [why_not(self._cut(image), self._weight, self._area) for image in images]
        return reasons[0] if all(reasons) else None

    def _cut(self, image: NDArray[np.uint8]) -> NDArray[np.float32]:
        part: NDArray[np.float32] = cut_image(self._frame, image)[0].transpose(1, 2, 0)
        height, width = self._frame.height, self._frame.width
        return part[:height, :width].copy()

    def _first_looks(self, images: tuple[NDArray[np.uint8], ...]) -> tuple[FirstLook, ...]:
        inside = pad(self._frame, (self._weight > _INSIDE).astype(np.float32))
        return tuple(
            self._network.look(cut_image(self._frame, image), inside, self._finish.learned)
            for image in images
            if why_not(self._cut(image), self._weight, self._area) is None
        )

    def _judge(self, strokes: Strokes) -> _Judged:
        if self._judged is not None and strokes == self._strokes:
            return self._judged
        frame = self._frame
        dots = dots_of(strokes, frame)
        line = _LINE[self._finish.learned][bool(dots)]
        lean = (len(strokes.kept) - len(strokes.lost)) / max(strokes.teaching, 1)
        back = _TRUST_LESS[self._finish.learned] * abs(lean)
        shift = _SHIFT[self._finish.learned] * lean
        logits = [self._logits(look, dots, back) for look in self._looks]
        above = _surest(logits)[: frame.height, : frame.width] - line + shift
        painted = paint(strokes, frame)
        classes = np.where(above > 0, LOST, KEPT).astype(np.uint8)
        classes[_patches(np.abs(above) < _NEAR_LINE)] = CANNOT_TELL
        for kind, sure in ((KEPT, -8.0), (LOST, 8.0), (CANNOT_TELL, 0.0)):
            here = painted.told == kind
            classes[here] = kind
            above = np.where(here, np.float32(sure), above)
        self._strokes = strokes
        self._judged = _Judged(above=above, classes=classes, clash=self._clash(painted.clash, dots))
        return self._judged

    def _logits(self, look: FirstLook, dots: tuple[Dot, ...], back: float) -> NDArray[np.float32]:
        if self._finish is Finish.RUST:
            return self._network.look_again(look, self._with_sure(look, dots))
        again = self._network.look_again(look, dots)
        if not dots:
            return again
        return again * np.float32(1 - back) + look.plane * np.float32(back)

    def _with_sure(self, look: FirstLook, dots: tuple[Dot, ...]) -> tuple[Dot, ...]:
        """Add the judge's own dots of each kind that no stroke tells of."""
        told = {dot.kept for dot in dots}
        own = sure_dots(look, self._weight, kept=True not in told, lost=False not in told)
        return (*dots, *own)

    def _clash(self, overlap: float, dots: tuple[Dot, ...]) -> float:
        return min(1.0, 2 * overlap) if dots else 0.0

    def _doubt(self, judged: _Judged, lost: NDArray[np.float32], strokes: Strokes) -> Doubt:
        weight, total = self._weight, float(self._weight.sum())
        chance = 1 / (1 + np.exp(-_CHANCE_STEEP * judged.above))
        told = judged.classes
        shares = [float((lost * ring).sum() / max(ring.sum(), 1.0)) for ring in self._rings]
        here = float((lost * weight).sum() / total)
        return Doubt(
            kept_unsure=float((chance * weight)[told == KEPT].sum()) / total,
            lost_unsure=float(((1 - chance) * weight)[told == LOST].sum()) / total,
            unsure=float(weight[told == CANNOT_TELL].sum()) / total,
            moved=max(abs(share - here) for share in shares),
            strokes=strokes.teaching,
            clash=judged.clash,
            spoilt=self._spoilt,
            strange=max(self._strange, bared(here, self._finish)),
        )

    def _counts(self, classes: NDArray[np.uint8]) -> tuple[int, int, int]:
        """Pixels of the photograph by class, summing up to the outline's."""
        sums = [float(self._weight[classes == kind].sum()) for kind in (KEPT, LOST, CANNOT_TELL)]
        kept, lost, _ = (round(self._area * part / sum(sums)) for part in sums)
        return kept, min(lost, self._area - kept), max(0, self._area - kept - lost)


def _surest(logits: list[NDArray[np.float32]]) -> NDArray[np.float32]:
    """Of two lights take at each pixel the surer: glare in one is not in the other."""
    if len(logits) == 1:
        return logits[0]
    one, two = logits
    return np.asarray(np.where(np.abs(one) >= np.abs(two), one, two), dtype=np.float32)


def _patches(near: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Leave out the thin seams that run along every border between kept and lost."""
    kernel = np.ones((5, 5), dtype=np.uint8)
    opened = cv2.morphologyEx(near.astype(np.uint8), cv2.MORPH_OPEN, kernel)
    return np.asarray(opened) > 0


def _misdrawn(weight: NDArray[np.float32], slip: float) -> tuple[NDArray[np.float32], ...]:
    """The outline drawn a little too small and a little too large, at the judged size."""
    inside = (weight > _INSIDE).astype(np.uint8)
    within = cv2.distanceTransform(inside, cv2.DIST_L2, 3) - 0.5
    beyond = cv2.distanceTransform(1 - inside, cv2.DIST_L2, 3) - 0.5
    signed = np.where(inside > 0, within, -beyond)
    small, large = (np.clip(signed - s * slip + 0.5, 0, 1) for s in (1, -1))
    rings = [ring.astype(np.float32) for ring in (small, large) if ring.sum() > 1]
    return tuple(rings) or (weight,)
