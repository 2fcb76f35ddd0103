"""Measures dating: how often it is right, how narrow, what it finds, and how fast.

Run with: pytest tests/benchmarks/bench_dating.py -s
The tools are drawn from the stated model itself (HOW_DATING_WORKS.md), so the figures say how
well the reckoning keeps its own promises; they say nothing about how true the tables are.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np
import pytest

from planebench.trade.dating import DatingResult, Evidence, date_tool
from planebench.trade.dating_weigh import allowed

SEED = 20_260
TOOLS = 2_000
SURENESS = {0.95: 0.75, 0.8: 0.2, 0.5: 0.05}
"""How sure the drawn evidence is, and how common that is; 1 - sure of them are wrong."""
EVIDENCE = {"body": (3, 6), "lever_cap": (2, 4), "cutter": (2, 4), "knob": (1, 3)}
MUCH_EVIDENCE = {"body": (4, 8), "lever_cap": (3, 5), "cutter": (3, 5), "knob": (3, 5)}
LITTLE_EVIDENCE = {"body": (2, 4), "lever_cap": (1, 2), "cutter": (1, 2), "knob": (1, 2)}
FAR = 8
"""Years by which a wrong part must be off to count as one that should be found."""


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A simulated tool: its evidence, its production years, and the truth."""

    parts: Mapping[str, list[Evidence]]
    production: tuple[int, int]
    year: int
    wrong_part: str
    off_by: int


def draw_tool(rng: np.random.Generator, all_evidence: Mapping[str, tuple[int, int]]) -> Drawn:
    begun = int(rng.integers(1860, 1901))
    production = (begun, begun + int(rng.integers(25, 61)))
    year = draw_year(rng, production)
    wrong = str(rng.choice(list(all_evidence)[1:])) if rng.random() < 1 / 3 else ""
    other = draw_year(rng, production)
    parts = {
        part: [
            draw_evidence(rng, f"{part}-{n}", other if part == wrong else year, production)
            for n in range(int(rng.integers(fewest, most + 1)))
        ]
        for part, (fewest, most) in all_evidence.items()
    }
    return Drawn(
        parts=parts,
        production=production,
        year=year,
        wrong_part=wrong,
        off_by=abs(other - year) if wrong else 0,
    )


def draw_year(rng: np.random.Generator, production: tuple[int, int]) -> int:
    return int(rng.integers(production[0], production[1] + 1))


def draw_evidence(
    rng: np.random.Generator, name: str, year: int, production: tuple[int, int]
) -> Evidence:
    """Draw years around the true one so that its place in them follows the stated fall."""
    sure = float(rng.choice(list(SURENESS), p=list(SURENESS.values())))
    if rng.random() >= sure:
        year = draw_year(rng, production)
    patent = rng.random() < 0.25
    width = 20 if patent else int(rng.integers(4, 26))
    loose = int(rng.integers(3, 10)) if patent else int(rng.integers(1, 7))
    mold = Evidence(
        id=name,
        part=name.partition("-")[0],
        kind="patent_us" if patent else "years",
        what=name,
        not_before=0,
        not_after=None if patent else width - 1,
        usual_until=width - 1 if patent else None,
        never_before=patent,
        sure=sure,
        looseness=loose,
    )
    places = np.arange(-loose, width + loose, dtype=float)
    chances = allowed([mold], places)[0]
    start = year - int(rng.choice(places, p=chances / chances.sum()))
    end = start + width - 1
    return replace(
        mold,
        not_before=start,
        not_after=None if patent else end,
        usual_until=end if patent else None,
    )


def plain_overlap(tool: Drawn) -> tuple[int, int] | None:
    """Years that all evidence on the body allows, looseness included; None where none are left."""
    low, high = tool.production
    for evidence in tool.parts["body"]:
        low = max(
            low,
            (evidence.not_before or 0) - (0 if evidence.never_before else int(evidence.looseness)),
        )
        if evidence.not_after is not None:
            high = min(high, evidence.not_after + int(evidence.looseness))
    return (low, high) if low <= high else None


@dataclass(frozen=True, kw_only=True)
class Figures:
    """What was counted over all drawn tools."""

    holds: float
    width: float
    narrower: float
    apart: float
    short: float
    overlap_holds: float
    overlap_empty: float
    found: float
    false_parts: float
    false_tools: float


def measure(all_evidence: Mapping[str, tuple[int, int]], tools: int = TOOLS) -> Figures:
    rng = np.random.default_rng(SEED)
    drawn = [draw_tool(rng, all_evidence) for _ in range(tools)]
    dated = [date_tool(tool.parts, tool.production) for tool in drawn]
    ranges = [dating.whole.ranges for dating in dated]
    widths = [sum(b - a + 1 for a, b in runs) for runs in ranges]
    overlaps = [plain_overlap(tool) for tool in drawn]
    both = [(w, o) for w, o in zip(widths, overlaps, strict=True) if o is not None]
    odd = [{part.part for part in dating.odd_parts} for dating in dated]
    far = [(t, o) for t, o in zip(drawn, odd, strict=True) if t.off_by > FAR]
    whole = [o for t, o in zip(drawn, odd, strict=True) if not t.wrong_part]
    return Figures(
        holds=share(
            any(a <= t.year <= b for a, b in runs) for runs, t in zip(ranges, drawn, strict=True)
        ),
        width=float(np.mean(widths)),
        narrower=1 - sum(w for w, _ in both) / sum(o[1] - o[0] + 1 for _, o in both),
        apart=share(len(runs) > 1 for runs in ranges),
        short=share(dating.whole.falls_short for dating in dated),
        overlap_holds=share(
            o is not None and o[0] <= t.year <= o[1] for o, t in zip(overlaps, drawn, strict=True)
        ),
        overlap_empty=1 - len(both) / tools,
        found=share(t.wrong_part in o for t, o in far),
        false_parts=sum(len(o) for o in whole) / (len(whole) * (len(all_evidence) - 1)),
        false_tools=share(bool(o) for o in whole),
    )


def share(held: object) -> float:
    return float(np.mean(list(held)))  # type: ignore[call-overload]  # any run of truths


@pytest.mark.benchmark
def test_the_range_holds_the_true_year_and_later_parts_are_found() -> None:
    figures = measure(EVIDENCE)

    say(f"{TOOLS} tools, evidence {EVIDENCE}", figures)
    assert 0.88 <= figures.holds <= 0.95
    assert figures.narrower >= 0.40
    assert figures.found >= 0.80
    assert figures.false_parts <= 0.05


@pytest.mark.benchmark
@pytest.mark.parametrize("all_evidence", [LITTLE_EVIDENCE, MUCH_EVIDENCE], ids=["few", "many"])
def test_with_fewer_or_more_evidence_the_range_still_holds_the_true_year(
    all_evidence: Mapping[str, tuple[int, int]],
) -> None:
    figures = measure(all_evidence)

    say(f"{TOOLS} tools, evidence {all_evidence}", figures)
    assert figures.holds >= 0.88
    assert figures.false_parts <= 0.05


def say(what: object, figures: object) -> None:
    print(f"\n{what}: {figures}")  # noqa: T201 - a benchmark says what it measured


@pytest.mark.benchmark
def test_two_hundred_tools_of_thirty_pieces_is_dated_in_under_a_second() -> None:
    rng = np.random.default_rng(SEED)
    counts = {"body": (12, 12), "lever_cap": (8, 8), "cutter": (6, 6), "knob": (4, 4)}
    tools = [draw_tool(rng, counts) for _ in range(200)]

    whole = fastest(lambda: [date_tool(tool.parts) for tool in tools])
    product = fastest(lambda: [plain_product(tool) for tool in tools])

    say(
        "200 tools with 30 pieces of evidence",
        f"{whole:.2f} s, {whole / product:.1f} times a plain product",
    )
    assert whole < 1.0


def plain_product(tool: Drawn) -> np.ndarray:
    """Only multiply f over the same years, with no doubt, groups, parts, ranges or reasons."""
    years = np.arange(1780, 1981, dtype=float)
    all_evidence = [evidence for part in tool.parts.values() for evidence in part]
    product: np.ndarray = allowed(all_evidence, years).prod(axis=0)
    return product


def fastest(work: Callable[[], list[DatingResult] | list[np.ndarray]]) -> float:
    times = []
    for _ in range(3):
        begun = time.process_time()
        work()
        times.append(time.process_time() - begun)
    return min(times)
