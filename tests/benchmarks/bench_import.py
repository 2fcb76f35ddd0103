"""Intake of large photographs beside merely reading, hashing and decoding them.

PLANEBENCH_PHOTOS names a folder with large/, photographs of 6000 x 4000 pixels; they are written
again with small differences. Run: pytest tests/benchmarks/bench_import.py -s
"""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.catalog.shots import rested

PHOTOGRAPHS = os.environ.get("PLANEBENCH_PHOTOS", "")
pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs"),
    pytest.mark.timeout(3000),
]
COUNT = int(os.environ.get("PLANEBENCH_INTAKE_COUNT", "100"))
PLAIN_RATIO, CARD_RATIO = 1.3, 1.6
LARGEST_MEMORY = 1200  # MB
INTAKE = """
import datetime as dt, resource, sys, time
from pathlib import Path
from planebench.catalog.catalog import Catalog
from planebench.catalog.photo_import import take_in
from planebench.catalog.import_types import Destination
folder, card, cache = map(Path, sys.argv[1:4])
catalog = Catalog.make(folder, who="R. Fenn", clock=lambda: dt.datetime.now(dt.UTC), cache=cache)
batch = catalog.batches.add(code="LOT8").id
to = Destination(batch=batch, follow_cards=sys.argv[4] == "cards", make_tools="block")
began, worked = time.perf_counter(), time.process_time()
result = take_in(catalog, [card], to=to)
print(time.perf_counter() - began, time.process_time() - worked, len(result.outcomes),
      sum(bool(o.stock) for o in result.outcomes),
      resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
catalog.close()
"""


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Photographs that differ by one row of pixels, each with the notes of its camera."""
    folder = tmp_path_factory.mktemp("camera")
    sources = sorted((Path(PHOTOGRAPHS) / "large").glob("*.jpg"))
    for number in range(COUNT):
        with Image.open(sources[number % len(sources)]) as image:
            exif = image.getexif()
            row = Image.new("RGB", (image.width, 8), (number % 256, 60, 30))
            image.paste(row, (0, 0))
            path = folder / f"PL-{number:04}.jpg"
            image.save(path, quality=92, exif=exif)
            rested(path)
    return folder


def merely(path: Path) -> None:
    data = path.read_bytes()
    hashlib.sha256(data).hexdigest()
    Image.open(io.BytesIO(data)).load()


def seconds(work: Callable[[], object]) -> tuple[float, float]:
    """Return the seconds that work takes, by the clock and of the processor."""
    began, used = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - began, time.process_time() - used


def all_merely(card: Path) -> None:
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        list(pool.map(merely, sorted(card.iterdir())))


@pytest.mark.parametrize(("kind", "most"), [("plain", PLAIN_RATIO), ("cards", CARD_RATIO)])
def test_import_beside_reading_hashing_and_decoding(
    card: Path, tmp_path: Path, kind: str, most: float
) -> None:
    all_merely(card)
    plain: list[tuple[float, float]] = []
    taken: list[tuple[float, float]] = []
    memory = 0.0
    for turn in range(3):
        plain.append(seconds(lambda: all_merely(card)))
        command = [sys.executable, "-c", INTAKE]
        places = [tmp_path / f"catalog-{turn}", card, tmp_path / f"cache-{turn}"]
        done = subprocess.run(
            [*command, *map(str, places), kind], capture_output=True, text=True, check=True
        )
        took, worked, count, filed, memory = map(float, done.stdout.split())
        taken.append((took, worked))
        assert count == COUNT
    ratio, work = np.min(taken, axis=0) / np.min(plain, axis=0)
    line = (
        f"\n{kind}: {COUNT} photographs in {min(taken)[0]:.1f} s, {min(plain)[0]:.1f} s to read,"
        f" hash and decode: ratio {ratio:.2f}, of the processor’s time {work:.2f};"
        f" {filed:.0f} filed; largest memory {memory:.0f} MB"
    )
    print(line)  # noqa: T201 -- a benchmark prints its figures
    assert memory < LARGEST_MEMORY
    assert ratio <= most
