"""How well a line along edges goes round a surface, beside straight lines between the same clicks.

PLANEBENCH_PHOTOS names a folder with dev/: NAME.surf.png tells what surface each pixel shows.
Clicks are set at the corners of the true outline, missed as a hand misses them on a photograph
seen whole in the window. Run: pytest tests/benchmarks/bench_edges.py -s
"""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Iterator
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from planebench.photo.follow_edge import follow_edge

PHOTOGRAPHS = os.environ.get("PLANEBENCH_PHOTOS", "")
pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs"),
]
DEV = Path(PHOTOGRAPHS) / "dev"
SURFACES = ((1, 2, 3, 4), (5,), (6,))
LEAST_PX = 60_000
MISSED_PX = 3.4
# How far the true outline may leave the straight lines between the clicks; least between clicks.
CAREFUL, HASTY = (9, 60), (25, 150)
Mask = NDArray[np.uint8]
Points = NDArray[np.float64]


def surfaces() -> Iterator[tuple[NDArray[np.uint8], Mask, NDArray[np.int32]]]:
    for path in sorted(DEV.glob("*.surf.png")):
        with Image.open(path) as image:
            shows = np.array(image)
        with Image.open(path.with_name(path.name.replace(".surf.png", ".jpg"))) as image:
            rgb = np.array(image.convert("RGB"))
        for codes in SURFACES:
            seen = np.isin(shows, codes).astype(np.uint8)
            if seen.sum() < LEAST_PX:
                continue
            seen = cv2.morphologyEx(seen, cv2.MORPH_OPEN, np.ones((5, 5), np.uint8))
            rings, _ = cv2.findContours(seen, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
            ring = np.asarray(max(rings, key=cv2.contourArea), dtype=np.int32)
            yield rgb, filled(ring.reshape(-1, 2), seen.shape), ring


def filled(ring: NDArray[np.generic], shape: tuple[int, ...]) -> Mask:
    mask = np.zeros(shape, np.uint8)
    cv2.fillPoly(mask, [np.round(ring.astype(np.float64)).astype(np.int32)], 1)
    return mask


def overlap(ring: Points, true: Mask) -> float:
    drawn = filled(ring, true.shape)
    return float((drawn & true).sum() / (drawn | true).sum())


def clicks(ring: NDArray[np.int32], off: float, apart: float, seed: int) -> Points:
    corners = cv2.approxPolyDP(ring, off, closed=True).reshape(-1, 2).astype(np.float64)
    kept = [corners[0]]
    for corner in corners[1:]:
        if np.hypot(*(corner - kept[-1])) > apart:
            kept.append(corner)
    return np.array(kept) + np.random.default_rng(seed).normal(0, MISSED_PX, (len(kept), 2))


@pytest.mark.parametrize("hand", [CAREFUL, HASTY], ids=["careful", "hasty"])
def test_a_line_along_edges_beside_straight_ones(hand, request) -> None:
    straight, along, counts, took = [], [], [], []
    for number, (rgb, true, ring) in enumerate(surfaces()):
        set_on = np.clip(clicks(ring, *hand, number), 0, np.array(rgb.shape[1::-1]) - 1.0)
        pieces = []
        for start, end in zip(set_on, np.roll(set_on, -1, axis=0), strict=True):
            began = time.perf_counter()
            pieces.append(follow_edge(rgb, tuple(start), tuple(end))[:-1])
            took.append(time.perf_counter() - began)
        straight.append(overlap(set_on, true))
        along.append(overlap(np.vstack(pieces), true))
        counts.append(len(set_on))
    print(  # noqa: T201 -- a benchmark prints its figures
        f"\n{request.node.callspec.id}, {len(along)} surfaces, {statistics.median(counts):.0f}"
        f" clicks: overlap along edges {statistics.median(along):.3f} median,"
        f" {min(along):.3f} worst; straight {statistics.median(straight):.3f},"
        f" {min(straight):.3f}; a piece in {1e3 * statistics.median(took):.0f} ms,"
        f" longest {1e3 * max(took):.0f}"
    )

    assert statistics.median(along) > statistics.median(straight)
