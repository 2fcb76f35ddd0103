"""How near the shares come to the truth, by finish and light, without strokes and with four.

PLANEBENCH_PHOTOS names a folder with dev/, photographs beside their masks and NAME.truth.json,
PLANEBENCH_SET another folder in it; PLANEBENCH_JUDGE another folder of networks.
Run: pytest tests/benchmarks/bench_coverage.py -s
"""

from __future__ import annotations

import os
import time
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np
import pytest
from skimage.filters import threshold_otsu

from planebench.photo.coverage import (
    CoverageReading,
    Finish,
    Judge,
    JudgeStroke,
    Span,
    State,
    Strokes,
)
from planebench.photo.decode import open_upright
from planebench.photo.outline import mask_of
from tests.benchmarks.judge_truth import Surface, drawn_round, surfaces_of, with_next_dot

PHOTOGRAPHS = os.environ.get("PLANEBENCH_PHOTOS", "")
SET = os.environ.get("PLANEBENCH_SET", "dev")
MODEL = Path(os.environ.get("PLANEBENCH_JUDGE", Path(__file__).parents[2] / "resources" / "judge"))
pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs"),
    pytest.mark.timeout(3000),
]

MOST_STROKES = 4


@dataclass(slots=True)
class Tally:
    errors: list[float] = field(default_factory=list)
    widths: list[float] = field(default_factory=list)
    held: list[bool] = field(default_factory=list)

    def add(self, span: Span, true: float) -> None:
        self.errors.append(abs(span.share - true) * 100)
        self.widths.append((span.high - span.low) * 100)
        self.held.append(span.low <= true <= span.high)

    def said(self) -> str:
        return (
            f"n {len(self.errors):3d}  mean {np.mean(self.errors):5.1f}  "
            f"median {np.median(self.errors):5.1f}  worst {max(self.errors):5.1f}  "
            f"held {100 * np.mean(self.held):4.0f}%  width {np.mean(self.widths):5.1f}"
        )


def by_otsu(known: Surface) -> float:
    """Share by Otsu's threshold of lightness: on nickel and bare iron the dark part is lost."""
    gray = cv2.cvtColor(known.image, cv2.COLOR_RGB2GRAY)[known.mask]
    bright = float((gray > threshold_otsu(gray)).mean())
    return 1 - bright if known.finish is not Finish.NICKEL else bright


def by_two_means(known: Surface) -> float:
    """Share by two clusters in Lab, named by lightness as above."""
    lab = cv2.cvtColor(known.image, cv2.COLOR_RGB2LAB)[known.mask].astype(np.float32)[::7]
    stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 20, 0.5)
    cv2.setRNGSeed(1)
    _, labels, middles = cv2.kmeans(lab, 2, None, stop, 3, cv2.KMEANS_PP_CENTERS)
    bright = float((labels[:, 0] == middles[:, 0].argmax()).mean())
    return 1 - bright if known.finish is not Finish.NICKEL else bright


Tallies = dict[tuple[str, str, int], Tally]


def say(line: str) -> None:
    print(line, flush=True)  # noqa: T201 -- a benchmark says what it measured


def judge_all(judge: Judge, known: Surface, tallies: Tallies) -> int:
    """Read a surface without strokes and after each of four; count what was not measurable."""
    judging = judge.open(known.image, drawn_round(known.mask), known.finish)
    strokes, last = Strokes(), None
    for number in range(MOST_STROKES + 1):
        reading = judging.read(strokes)
        if reading.share is None:
            return 1
        for what, span, true in spans_of(reading, known):
            for light in (known.light, "all"):
                tallies[what, light, number].add(span, true)
        strokes, last = with_next_dot(strokes, judging.map(), known, last)
    return 0


def spans_of(reading: CoverageReading, known: Surface) -> list[tuple[str, Span, float]]:
    """List what was read by name, with the truth of it."""
    first = Span(share=reading.share or 0, low=reading.low or 0, high=reading.high or 0)
    spans = [(known.finish.value, first, known.share)]
    if known.knows_patina and reading.bright is not None and reading.patina is not None:
        spans.append(("bright", reading.bright, known.part(State.KEPT.value)))
        spans.append(("patina", reading.patina, known.part(State.PATINA.value)))
    return spans


def test_shares_against_the_truth_by_finish_and_light():
    judge, unread = Judge(MODEL), 0
    tallies: Tallies = defaultdict(Tally)
    plain: dict[tuple[str, str], list[float]] = defaultdict(list)
    baselines: dict[str, Callable[[Surface], float]] = {"Otsu": by_otsu, "two means": by_two_means}
    pictures = sorted((Path(PHOTOGRAPHS) / SET).glob("*.jpg"))
    for known in (surface for picture in pictures for surface in surfaces_of(picture)):
        unread += judge_all(judge, known, tallies)
        for name, rule in baselines.items():
            plain[known.finish.value, name].append(100 * abs(rule(known) - known.share))
    for (finish, light, number), tally in sorted(tallies.items()):
        if light == "all" or number in {0, MOST_STROKES}:
            say(f"{finish:10s} {light:12s} {number} strokes  {tally.said()}")
    for (finish, name), errors in sorted(plain.items()):
        say(f"{finish:10s} {name:12s} mean {np.mean(errors):5.1f}")
    say(f"not measurable: {unread}")

    for (finish, _), errors in plain.items():
        assert np.mean(tallies[finish, "all", 0].errors) < np.mean(errors)


def test_a_stroke_on_a_large_photograph_is_answered_at_once():
    picture = min((Path(PHOTOGRAPHS) / "large").glob("*.jpg"))
    began = time.perf_counter()
    image = open_upright(picture)
    decoded = time.perf_counter()
    height, width = image.shape[:2]
    spread = np.zeros((height, width), dtype=bool)
    spread[int(0.2 * height) : int(0.5 * height), int(0.2 * width) : int(0.7 * width)] = True
    judging = Judge(MODEL).open(image, drawn_round(spread), Finish.JAPANNING)
    opened = time.perf_counter()
    times = []
    for number in range(8):
        dot = JudgeStroke(points=((0.3 * width + 90 * number, 0.3 * height),), radius=9.0)
        start = time.perf_counter()
        judging.read(Strokes(kept=(dot,)))
        times.append(1000 * (time.perf_counter() - start))
    say(
        f"{width * height / 1e6:.0f} megapixels: decoding {1000 * (decoded - began):.0f} ms, "
        f"first judgment {1000 * (opened - decoded):.0f} ms, "
        f"a stroke {np.median(times):.0f} ms (worst {max(times):.0f})"
    )

    assert mask_of(drawn_round(spread), (width, height)).sum() > 0.99 * spread.sum()
    assert np.median(times) < 1000
