"""How well the scale card is read on photographs of known truth, as they are and made harder.

PLANEBENCH_PHOTOS names a folder with dev/, train/ and large/, each photograph beside a
NAME.truth.json. Run: pytest tests/benchmarks/bench_card.py -s
"""

from __future__ import annotations

import hashlib
import json
import os
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from planebench.photo.card import CardReading, find_card
from planebench.photo.decode import decode_bytes, probe_bytes
from tests.benchmarks.card_harm import HARMS, Harm
from tests.photo.card_scene import length_errors

PHOTOGRAPHS = os.environ.get("PLANEBENCH_PHOTOS", "")
pytestmark = [
    pytest.mark.benchmark,
    pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs"),
    pytest.mark.timeout(3000),
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A photograph with what is true of it; `mm_to_px` is None where it shows no card."""

    name: str
    picture: NDArray[np.uint8]
    focal_px: float
    tilt_deg: float
    stock: str | None
    mm_to_px: NDArray[np.float64] | None


@dataclass(slots=True)
class Tally:
    """What came of one kind of photograph."""

    shown: int = 0
    missed: int = 0
    no_number: int = 0
    wrong: int = 0
    sure: int = 0
    errors: list[float] = field(default_factory=list)
    tilts: list[float] = field(default_factory=list)
    milliseconds: list[float] = field(default_factory=list)

    def add(self, known: Known, reading: CardReading | None, mm_to_px: NDArray[np.float64]) -> None:
        self.shown += 1
        if reading is None:
            self.missed += 1
            return
        self.no_number += reading.stock is None
        self.wrong += reading.stock not in {None, known.stock}
        self.sure += reading.sure
        self.errors += length_errors(reading.matrix_px_to_mm, mm_to_px).tolist()
        self.tilts.append(abs(reading.tilt_deg - known.tilt_deg))

    def line(self, name: str, *, tilt: bool) -> str:
        errors = np.array(self.errors or [np.nan])
        return (
            f"{name:22} {self.shown:4} {self.missed:6} {self.no_number:6} {self.wrong:5}"
            f" {self.sure:5} {np.median(errors):8.4f} {np.percentile(errors, 95):8.4f}"
            f" {errors.max():8.4f} {max(self.tilts, default=np.nan) if tilt else np.nan:6.2f}"
            f" {np.median(self.milliseconds):5.0f}"
        )


HEAD = (
    f"{'':22} {'n':>4} {'missed':>6} {'no no.':>6} {'wrong':>5} {'sure':>5}"
    f" {'median%':>8} {'p95%':>8} {'worst%':>8} {'tilt':>6} {'ms':>5}"
)
SAME_CAMERA = {"as", "bent", "blur", "marker", "markers", "shadow", "dark", "grain", "JPEG"}


def say(line: str) -> None:
    print(line, flush=True)  # noqa: T201 -- a benchmark prints its figures


def photographs(*sets: str) -> Iterator[Known]:
    for folder in sets:
        for path in sorted((Path(PHOTOGRAPHS) / folder).glob("*.truth.json")):
            truth = json.loads(path.read_text("utf-8"))
            card = truth.get("card")
            picture = cv2.imread(
                str(path.with_name(path.name.replace(".truth.json", ".jpg"))),
                cv2.IMREAD_COLOR_RGB | cv2.IMREAD_IGNORE_ORIENTATION,
            )
            yield Known(
                name=truth["file"],
                picture=np.asarray(picture, dtype=np.uint8),
                focal_px=truth["camera"]["K"][0][0],
                tilt_deg=truth["tilt_deg"],
                stock=card["qr_payload"].removeprefix("PB:") if card else None,
                mm_to_px=np.array(card["H_card_mm_to_px"]) if card else None,
            )


def measured(known: list[Known], harm: Harm) -> Tally:
    tally = Tally()
    for each in known:
        assert each.mm_to_px is not None
        picture, mm_to_px = harm(each.picture, each.mm_to_px)
        begun = time.perf_counter()
        reading = find_card(picture, focal_px=each.focal_px)
        tally.milliseconds.append(1000 * (time.perf_counter() - begun))
        tally.add(each, reading, mm_to_px)
    return tally


@pytest.mark.parametrize("folder", ["dev", "train", "large"])
def test_every_card_is_read_and_none_is_invented(folder: str) -> None:
    known = list(photographs(folder))
    with_card = [each for each in known if each.stock]
    tally = measured(with_card, HARMS["as it is"])
    invented = [each.name for each in known if not each.stock and find_card(each.picture)]
    say(f"\n{folder}: {len(known)} photographs\n{HEAD}\n{tally.line('as it is', tilt=True)}")

    assert (tally.missed, tally.no_number, tally.wrong, invented) == (0, 0, 0, [])
    assert np.median(tally.errors) < 0.05
    assert max(tally.errors) < 0.4
    assert max(tally.tilts) < 1


@pytest.mark.parametrize("folder", ["dev", "train"])
def test_cards_made_harder_never_give_a_wrong_number(folder: str) -> None:
    with_card = [each for each in photographs(folder) if each.stock]
    say(f"\n{folder}, made harder\n{HEAD}")
    wrong = 0
    for name, harm in HARMS.items():
        tally = measured(with_card, harm)
        say(tally.line(name, tilt=name.split()[0] in SAME_CAMERA))
        wrong += tally.wrong

    assert wrong == 0


def test_searching_for_a_card_costs_little_beside_decoding() -> None:
    paths = sorted((Path(PHOTOGRAPHS) / "large").glob("*.jpg"))
    # The quickest of several runs: what else the machine does is not the card's cost.
    runs: list[tuple[float, float]] = []
    for path in paths * 6:
        begun = time.perf_counter()
        data = path.read_bytes()
        hashlib.sha256(data).hexdigest()
        picture = decode_bytes(data, name=path.name)
        decoded = time.perf_counter()
        find_card(picture, focal_px=probe_bytes(data, name=path.name).focal_px)
        runs.append((decoded - begun, time.perf_counter() - decoded))
    decoding, searching = (1000 * min(times) for times in zip(*runs, strict=True))
    ratio = (decoding + searching) / decoding
    say(f"\n24 MP: decode {decoding:.0f} ms, card {searching:.0f} ms, together {ratio:.2f} times")

    assert ratio < 1.6
