"""How true lengths are on a photograph scaled by a ruler's two ends and by its marks.

PLANEBENCH_PHOTOS names a folder with dev/: NAME.truth.json tells where the ruler's graduations lie.
Points are set as a hand sets them, a pixel off. Run: pytest tests/benchmarks/bench_ruler.py -s
"""

from __future__ import annotations

import json
import os
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from planebench.catalog.photo_scales import KnownScale, scale_json, scale_of
from planebench.trade.photo_measurement import measure_length
from planebench.trade.photo_scale import PLACING_PX

PHOTOGRAPHS = os.environ.get("PLANEBENCH_PHOTOS", "")
pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs"),
]
DEV = Path(PHOTOGRAPHS) / "dev"
ZERO, STEP, LAST = 4.0, 20.0, 200.0
HANDS = 40
Points = NDArray[np.float64]


def graduations(name: str, *marks: float) -> Points:
    """Return where marks of the ruler are seen, in pixels; its zero lies 4 mm in from the end."""
    matrix = np.array(
        json.loads((DEV / f"{name}.truth.json").read_text())["rule"]["H_rule_mm_to_px"]
    )
    seen = np.array([[ZERO + mark, 0.0, 1.0] for mark in marks]) @ matrix.T
    return np.asarray(seen[:, :2] / seen[:, 2:])


def with_rule() -> list[str]:
    names = sorted(path.name.removesuffix(".truth.json") for path in DEV.glob("*.truth.json"))
    return [
        name for name in names if "rule" in json.loads((DEV / f"{name}.truth.json").read_text())
    ]


@pytest.mark.parametrize("name", with_rule() if PHOTOGRAPHS else [])
def test_lengths_along_the_ruler(name: str) -> None:
    marks = np.arange(0, LAST + 1, STEP)
    ways = {
        "two points": (np.array([0.0, LAST]), KnownScale(across_mm=LAST)),
        f"{len(marks)} marks": (marks, KnownScale(across_mm=STEP, ruler=True)),
    }
    for words, (set_on, known) in ways.items():
        rng = np.random.default_rng(7)
        off, inside = [], []
        for _ in range(HANDS):
            by_hand = graduations(name, *set_on) + rng.normal(0, PLACING_PX, (len(set_on), 2))
            plane = scale_of(scale_json(by_hand, known))
            assert plane is not None
            for start, end in combinations((0.0, 37.0, 85.0, 130.0, 200.0), 2):
                if end - start < 50:
                    continue
                measured = measure_length(plane, graduations(name, start, end))
                off.append(abs(measured.value / (end - start) - 1))
                inside.append(abs(measured.value - (end - start)) <= measured.within)
        print(  # noqa: T201 -- a benchmark prints its figures
            f"\n{name}, {words}: off by {100 * np.median(off):.2f}% median,"
            f" {100 * np.max(off):.2f}% worst; interval holds {100 * np.mean(inside):.0f}%"
        )
        if known.ruler:
            assert np.quantile(off, 0.95) < 0.005
