"""Searching, filtering, listing and opening with 20,000 tools, beside an empty catalog.

Run: pytest tests/benchmarks/bench_store.py -s
"""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.trade.terms import ToolStatus

TOOLS, BATCHES = 20_000, 40
KINDS = ("block", "smoothing", "jack", "shoulder")
pytestmark = [pytest.mark.benchmark, pytest.mark.timeout(3000)]


def now() -> dt.datetime:
    return dt.datetime.now(dt.UTC)


def opened(folder: Path) -> Catalog:
    return Catalog.open(folder, who="R. Fenn", clock=now, cache=folder.parent / "cache")


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """An empty catalog and one of 20,000 tools."""
    place = tmp_path_factory.mktemp("store")
    for name in ("empty", "large"):
        Catalog.make(place / name, who="R. Fenn", clock=now, cache=place / "cache").close()
    catalog = opened(place / "large")
    began = time.perf_counter()
    for number in range(BATCHES):
        batch = catalog.batches.add(code=f"LOT{number:02}").id
        lines = [
            NewTool(
                kind=KINDS[tool % len(KINDS)],
                maker="Halbeck & Son" if tool % 3 else "Tarrow",
                model=f"No. {tool % 97}",
                note="mouth chipped" if tool % 11 == 0 else "",
            )
            for tool in range(TOOLS // BATCHES)
        ]
        catalog.tools.add_lines(batch, lines)
    say(f"adding {TOOLS} tools in {BATCHES} batches: {time.perf_counter() - began:.1f} s")
    catalog.close()
    return place / "empty", place / "large"


def say(line: str) -> None:
    print(f"\n{line}")  # noqa: T201 -- a benchmark says what it measured


@pytest.fixture
def both(folders: tuple[Path, Path]) -> Iterator[tuple[Catalog, Catalog]]:
    empty, large = map(opened, folders)
    yield empty, large
    empty.close()
    large.close()


def best_of(work: Callable[[], object], times: int = 7) -> float:
    taken = []
    for _ in range(times):
        began = time.perf_counter()
        work()
        taken.append(time.perf_counter() - began)
    return min(taken)


ASKED = {
    "all": ToolFilter(),
    "one letter": ToolFilter(words="h"),
    "two words": ToolFilter(words="halbeck chipped"),
    "nothing found": ToolFilter(words="zzz"),
    "status and kind": ToolFilter(
        statuses=frozenset({ToolStatus.AS_FOUND}), kinds=frozenset({"jack"})
    ),
    "what lacks a date": ToolFilter(lacks=frozenset({"date"})),
}


@pytest.mark.parametrize("name", ASKED)
def test_finding(both: tuple[Catalog, Catalog], name: str) -> None:
    empty, large = both
    wanted = ASKED[name]
    small = best_of(lambda: empty.tools.find(wanted))
    found = best_of(lambda: large.tools.find(wanted))
    counted = best_of(lambda: large.tools.counts(wanted))

    say(
        f"{name}: {len(large.tools.find(wanted))} found in {found * 1e3:.1f} ms, empty"
        f" {small * 1e3:.1f} ms, ratio {found / small:.1f}; counts {counted * 1e3:.1f} ms"
    )
    assert found < 0.2


def test_listing_a_page(both: tuple[Catalog, Catalog]) -> None:
    _, large = both
    ids = large.tools.find(ToolFilter())[9000:9060]
    lines = best_of(lambda: large.tools.lines(ids))
    batches = best_of(large.batches.lines)

    say(f"60 lines of {TOOLS}: {lines * 1e3:.1f} ms; list of batches {batches * 1e3:.1f} ms")
    assert lines < 0.05


def test_one_edit(both: tuple[Catalog, Catalog]) -> None:
    empty, large = both
    batch = empty.batches.add(code=f"LOT{time.monotonic_ns()}").id
    few = empty.tools.add(batch, NewTool(kind="block")).id
    one = large.tools.find(ToolFilter())[0]
    small = best_of(lambda: empty.tools.change(few, note=f"{time.monotonic_ns()}"))
    edit = best_of(lambda: large.tools.change(one, note=f"{time.monotonic_ns()}"))

    say(f"one edit: {edit * 1e3:.1f} ms, in an empty catalog {small * 1e3:.1f} ms")
    assert edit < 0.1


def test_opening(folders: tuple[Path, Path]) -> None:
    small = best_of(lambda: opened(folders[0]).close(), times=3)
    large = best_of(lambda: opened(folders[1]).close(), times=3)

    say(f"opening: {large * 1e3:.0f} ms, empty {small * 1e3:.0f} ms, ratio {large / small:.1f}")
    assert large < 10 * small + 0.5
