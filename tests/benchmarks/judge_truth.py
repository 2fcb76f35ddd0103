"""Surfaces with exact truth from rendered photographs and their masks, and strokes by rule."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planebench.photo.coverage import PATINA, Finish, JudgeStroke, State, Strokes
from planebench.photo.decode import open_upright
from planebench.photo.outline import PixelOutline, Polygon

DRAWN_TO = 1.5
SMALLEST = 0.004  # of the photograph
JAPANNED, NICKELED, BARE = (1, 2, 3, 4), (5,), ((6,), (7, 8), (10,))
STROKES_OF = {State.KEPT: "kept", State.LOST: "lost", State.PATINA: "patina"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """One surface and its truth: `mask` and `states` (numbers of State) are H x W.

    `knows_patina` says whether the truth tells patina from bright iron.
    """

    name: str
    image: NDArray[np.uint8]
    finish: Finish
    light: str
    mask: NDArray[np.bool_]
    states: NDArray[np.uint8]
    knows_patina: bool

    def part(self, *states: int) -> float:
        """Return the share of the surface in these states."""
        return float(np.isin(self.states[self.mask], states).mean())

    @property
    def share(self) -> float:
        """What the program says: kept, or on iron rusted."""
        return self.part(2 if self.finish.is_iron else 1)


def surfaces_of(picture: Path) -> list[Surface]:
    """List what can be judged; finishes only as seen from above."""
    image, stem = open_upright(picture), str(picture.with_suffix(""))
    truth = json.loads(Path(f"{stem}.truth.json").read_text("utf-8"))
    surface, finish, rust = (
        np.array(Image.open(f"{stem}.{kind}.png")) for kind in ("surf", "finish", "rust")
    )
    iron = np.array([1, 2, PATINA], dtype=np.uint8)[rust]
    coat = np.where(finish == 2, 2, 1).astype(np.uint8)
    wanted = [(group, Finish.RUST, iron) for group in BARE]
    if truth["pose"] == "upright":
        wanted += [(JAPANNED, Finish.JAPANNING, coat), (NICKELED, Finish.NICKEL, coat)]
    told = any("patina_fraction_pixels" in one for one in truth["surfaces"].values())
    found = []
    for group, kind, states in wanted:
        mask = np.isin(surface, group) & ((finish > 0) | kind.is_iron)
        if mask.mean() > SMALLEST:
            found.append(
                Surface(
                    name=f"{picture.stem} {group}",
                    image=image,
                    finish=kind,
                    light=truth["light"],
                    mask=mask,
                    states=states,
                    knows_patina=told,
                )
            )
    return found


def drawn_round(mask: NDArray[np.bool_]) -> PixelOutline:
    """Outline a mask as a hand might, to about a pixel and a half."""
    rings, family = cv2.findContours(mask.astype(np.uint8), cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    corners = [
        tuple((float(x), float(y)) for x, y in cv2.approxPolyDP(ring, DRAWN_TO, closed=True)[:, 0])
        for ring in rings
    ]
    large = [len(c) > 2 and cv2.contourArea(r) > 60 for c, r in zip(corners, rings, strict=True)]
    return PixelOutline(
        polygons=tuple(
            Polygon(
                outer=corners[i],
                holes=tuple(
                    corners[j] for j in range(len(rings)) if family[0][j][3] == i and large[j]
                ),
            )
            for i in range(len(rings))
            if family[0][i][3] < 0 and large[i]
        )
    )


def with_next_dot(
    strokes: Strokes, judged: NDArray[np.uint8], known: Surface, avoid: State | None
) -> tuple[Strokes, State | None]:
    """Set a dot in the middle of the largest wrongly judged patch; return what it says, too.

    A patch is of one true state; that of `avoid`, the last dot's, is taken only if no other is
    wrong. Where patina is not known, only rust is asked of iron.
    """
    patches = []
    for state in (State.KEPT, State.LOST, State.PATINA):
        wrong = known.mask & (known.states == state.value) & _wrong(judged, state, known)
        count, labels, sizes, _ = cv2.connectedComponentsWithStats(wrong.astype(np.uint8))
        if count > 1:
            largest = 1 + int(sizes[1:, 4].argmax())
            patches.append((state is not avoid, int(sizes[largest, 4]), state, labels == largest))
    if not patches:
        return strokes, avoid
    _, _, state, patch = max(patches, key=lambda one: one[:2])
    depth = cv2.distanceTransform(np.pad(patch.astype(np.uint8), 1), cv2.DIST_L2, 5)[1:-1, 1:-1]
    row, column = np.unravel_index(depth.argmax(), depth.shape)
    dot = JudgeStroke(points=((float(column), float(row)),), radius=3.0)
    name = STROKES_OF[state]
    return replace(strokes, **{name: (*getattr(strokes, name), dot)}), state


def _wrong(judged: NDArray[np.uint8], state: State, known: Surface) -> NDArray[np.bool_]:
    if known.finish.is_iron and not known.knows_patina:
        return (judged == State.LOST.value) != (state is State.LOST)
    return judged != state.value
