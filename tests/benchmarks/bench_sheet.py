"""How long a sheet takes, beside merely decoding and encoding its photographs.

    python -m pytest tests/benchmarks/bench_sheet.py -s

PLANEBENCH_PHOTOS names a folder of photographs (JPEG); its first three are enlarged to 24
megapixels, as a camera of today makes them.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median
from time import perf_counter

import pytest
from PIL import Image

from planebench.catalog.reference import resources_folder
from planebench.sheet.content import Crop, SheetContent, SheetPhotograph
from planebench.sheet.pdf import SheetPress
from tests.sheet.examples import full

pytestmark = pytest.mark.benchmark

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)
SIZE = (6000, 4000)
ROUNDS = 5


@pytest.fixture(scope="module")
def photographs(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    folder = os.environ.get("PLANEBENCH_PHOTOS")
    if not folder:
        pytest.skip("PLANEBENCH_PHOTOS names no folder of photographs")
    made: list[Path] = []
    for file in sorted(Path(folder).rglob("*.jpg"))[:3]:
        out = tmp_path_factory.mktemp("photographs") / file.name
        with Image.open(file) as image:
            image.convert("RGB").resize(SIZE, Image.Resampling.LANCZOS).save(out, quality=92)
        made.append(out)
    return made


def _content(files: list[Path]) -> SheetContent:
    shown = [
        SheetPhotograph(
            file=file,
            sha256=hashlib.sha256(file.read_bytes()).hexdigest(),
            caption="Finished.",
            alternative="A plane.",
            crop=Crop(),
        )
        for file in files
    ]
    taken = replace(full().photographs, main=shown[0], found=shown[1], other=shown[2])
    return replace(full(), photographs=taken)


def _seconds(work: Callable[[], object]) -> float:
    times: list[float] = []
    for _ in range(ROUNDS):
        begun = perf_counter()
        work()
        times.append(perf_counter() - begun)
    return median(times)


def _decode_and_encode(files: list[Path]) -> None:
    for file in files:
        with Image.open(file) as image:
            image.convert("RGB").save(io.BytesIO(), "JPEG", quality=84)


def test_a_sheet_takes_less_than_decoding_and_encoding_its_photographs(
    photographs: list[Path],
) -> None:
    content = _content(photographs)
    plain = _seconds(lambda: _decode_and_encode(photographs))
    first = _seconds(lambda: SheetPress(resources_folder()).print([content], at=AT))
    press = SheetPress(resources_folder())
    press.print([content], at=AT)
    again = _seconds(lambda: press.print([content], at=AT))
    preview = _seconds(lambda: press.print([content], at=AT, dots_per_inch=96))
    print(  # noqa: T201 -- a benchmark says what it measured
        f"\nthree photographs of 24 megapixels, decoded and encoded: {plain:.3f} s"
        f"\na sheet with them, from nothing: {first:.3f} s (ratio {first / plain:.2f})"
        f"\nthe same sheet after an edit: {again:.3f} s (ratio {again / plain:.2f})"
        f"\nwith pictures of its pages: {preview:.3f} s (ratio {preview / plain:.2f})"
    )

    assert first < plain
    assert again < first
