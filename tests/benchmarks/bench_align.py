"""How well before is found on after, how long it takes, and that no other plane is trusted.

PLANEBENCH_PHOTOS names a folder with dev/: pairs of photographs with masks and NAME.truth.json.
Each surface's true outline before, drawn to 1.5 pixels, is carried and compared with the true
surface after. Run: pytest tests/benchmarks/bench_align.py -s
"""

from __future__ import annotations

import json
import os
import time
from functools import cache
from itertools import permutations
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from planebench.photo.align import (
    Alignment,
    AlignmentQuality,
    PreparedPhoto,
    align,
    align_prepared,
    prepare_photo,
)
from planebench.photo.decode import open_upright
from planebench.photo.outline import PixelOutline, Polygon, mask_of

PHOTOGRAPHS = os.environ.get("PLANEBENCH_PHOTOS", "")
pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs"),
    pytest.mark.timeout(6000),
]
DEV = Path(PHOTOGRAPHS) / "dev"
SURFACES = {"japanning": 1, "nickel cap": 2}
# A surface seen smaller than this is a sliver at an edge, which nobody would outline.
LEAST_PX = 20_000
DRAWN_TO_PX = 1.5
Mask = NDArray[np.uint8]


def pairs() -> list[tuple[str, str]]:
    """Photographs of one view before and after, as the truth files name them."""
    names = sorted(path.name.removesuffix(".truth.json") for path in DEV.glob("*.truth.json"))
    truths = {name: json.loads((DEV / f"{name}.truth.json").read_text()) for name in names}
    return [
        (name, truth["pair"]["other"].removesuffix(".jpg"))
        for name, truth in truths.items()
        if truth.get("pair") and truth["state"] == "before"
    ]


def surface(name: str, code: int) -> Mask:
    with Image.open(DEV / f"{name}.part.png") as image:
        return (np.asarray(image) == code).astype(np.uint8)


def drawn(mask: Mask) -> PixelOutline:
    rings, tree = cv2.findContours(mask, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    near = [cv2.approxPolyDP(ring, DRAWN_TO_PX, closed=True)[:, 0].tolist() for ring in rings]
    parents = tree[0][:, 3]
    return PixelOutline(
        polygons=tuple(
            Polygon(outer=near[i], holes=tuple(h for j, h in enumerate(near) if parents[j] == i))
            for i in range(len(near))
            if parents[i] < 0
        )
    )


def carried(found: Alignment, outline: PixelOutline) -> PixelOutline:
    return PixelOutline(
        polygons=tuple(
            Polygon(
                outer=found.carry(np.array(each.outer)).tolist(),
                holes=tuple(found.carry(np.array(hole)).tolist() for hole in each.holes),
            )
            for each in outline.polygons
        )
    )


def overlap(one: Mask, other: Mask) -> float:
    return float(np.count_nonzero(one & other) / np.count_nonzero(one | other))


def say(line: str) -> None:
    print(line, flush=True)  # noqa: T201 -- a benchmark prints its figures


@cache
def ready(name: str) -> PreparedPhoto:
    return prepare_photo(open_upright(DEV / f"{name}.jpg"), name)


def test_carried_outlines_overlap_the_true_ones() -> None:
    rows, overlaps, unmoved = [], [], []
    for before, after in pairs():
        start = time.perf_counter()
        found = align_prepared(ready(before), ready(after))
        took = time.perf_counter() - start
        for name, code in SURFACES.items():
            first, second = surface(before, code), surface(after, code)
            if min(first.sum(), second.sum()) < LEAST_PX:
                continue
            size = (second.shape[1], second.shape[0])
            outline = drawn(first)
            overlaps.append(overlap(mask_of(carried(found, outline), size), second))
            unmoved.append(overlap(mask_of(outline, size), second))
            rows.append(
                f"{before:14} {name:11} {unmoved[-1]:8.3f} {overlaps[-1]:8.3f} {found.quality:6}"
                f" {found.inliers:6} {found.median_error_px:8.1f} {took:6.1f}"
            )
    head = f"\n{'photograph':14} {'surface':11}  unmoved  carried trust  agree  miss px      s"
    say("\n".join((head, *rows)))
    say(
        f"median {np.median(overlaps):.3f}, worst {min(overlaps):.3f}; "
        f"unmoved {np.median(unmoved):.3f}"
    )

    assert np.median(overlaps) >= 0.95
    assert min(overlaps) >= 0.85


def test_no_two_different_planes_are_trusted() -> None:
    names = sorted(path.stem for path in DEV.glob("*.jpg"))
    wrong, tried = [], 0
    for one, other in permutations(names, 2):
        if one.split("_")[0] != other.split("_")[0]:
            tried += 1
            if align_prepared(ready(one), ready(other)).quality is not AlignmentQuality.NONE:
                wrong.append((one, other))
    say(f"\n{tried} ordered pairs of different planes, trusted: {wrong or 'none'}")

    assert not wrong


def test_a_pair_of_large_photographs_is_aligned_in_seconds() -> None:
    large = Path(PHOTOGRAPHS) / "large"
    before, after = (open_upright(large / f"L01_{state}_1.jpg") for state in ("before", "after"))
    start = time.perf_counter()
    open_upright(large / "L01_before_1.jpg")
    decoding = time.perf_counter() - start
    start = time.perf_counter()
    found = align(before, after)
    took = time.perf_counter() - start
    say(
        f"\n{before.shape[1]} x {before.shape[0]}: {took:.1f} s, {took / (2 * decoding):.1f} times "
        f"the decoding of both; trust {found.quality}"
    )

    assert found.quality is not AlignmentQuality.NONE
