"""An intake killed at 100 random moments.

Run: pytest tests/benchmarks/bench_killed.py -s
"""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from tests.catalog.killed_import import (
    AT,
    acknowledged_until_killed,
    goes_on_to_the_end,
    holds_after_the_kill,
)
from tests.catalog.shots import shot

KILLS, FILES = 100, 60
pytestmark = [pytest.mark.benchmark, pytest.mark.timeout(3000)]


def test_killed_at_a_hundred_random_moments(tmp_path: Path) -> None:
    card, cache = tmp_path / "card", tmp_path / "cache"
    for number in range(FILES):
        shot(card / f"{number:03}.jpg", seed=number, size=(1500, 1000))
    lengths: list[int] = []
    for kill in range(KILLS):
        folder = tmp_path / f"catalog-{kill // 10}"
        if not folder.exists():
            Catalog.make(folder, who="R. Fenn", clock=lambda: AT, cache=cache).close()
        after = random.uniform(0, 0.8)  # noqa: S311 -- moments, not secrets
        told, ended = acknowledged_until_killed(folder, card, cache, after=after)
        holds_after_the_kill(folder, cache, told)
        lengths.append(len(told))
        if ended or kill % 10 == 9:
            goes_on_to_the_end(folder, card, cache, files=FILES)
            if ended:
                shutil.rmtree(folder)
    began = sum(0 < length < FILES for length in lengths)
    line = f"\n{KILLS} kills, {began} of them after some and before all were told of"
    print(line)  # noqa: T201 -- a benchmark prints its figures
