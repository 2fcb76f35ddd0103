"""How often a card shown on a screen is told, by how sharp the screen's pixels are photographed.

Run: pytest tests/benchmarks/bench_card_screen.py -s; PLANEBENCH_PHOTOS as for bench_card.py.
"""

from __future__ import annotations

import pytest

from planebench.photo.card_screen import is_shown_on_screen
from tests.benchmarks.bench_card import PHOTOGRAPHS, photographs, say
from tests.benchmarks.card_harm import HARMS
from tests.photo.screen_scene import Screen, photograph_of_screen

pytestmark = [pytest.mark.benchmark, pytest.mark.timeout(3000)]
# Screen pixels per millimeter of the card, and camera pixels per screen pixel: from a monitor
# seen close by to a telephone seen from afar.
SCREENS = ((3.8, 4.0), (3.8, 2.5), (5.0, 1.9), (8.0, 1.2), (10.0, 0.9), (14.0, 0.65), (16.0, 0.5))


def test_screens_are_reported_by_how_sharp_they_are() -> None:
    told: dict[float, int] = {}
    for blur in (0.6, 1.0, 1.4):
        for pixels, camera in SCREENS:
            screen = Screen(pixels_a_mm=pixels, camera_pixels=camera, blur_px=blur)
            to_mm = screen.to_px() @ [[pixels, 0, 0], [0, pixels, 0], [0, 0, 1]]
            seen = is_shown_on_screen(photograph_of_screen(screen), to_mm)
            told[blur] = told.get(blur, 0) + seen
    say(f"\nof {len(SCREENS)} screens told, by the lens’s blur in pixels: {told}")

    assert told[0.6] == len(SCREENS)


@pytest.mark.skipif(not PHOTOGRAPHS, reason="PLANEBENCH_PHOTOS names no photographs")
def test_no_printed_card_is_taken_for_a_screen() -> None:
    printed = [each for each in photographs("dev", "train", "large") if each.mm_to_px is not None]
    wrong = 0
    for number, each in enumerate(printed):
        harms = (
            ("as it is", "JPEG 10", "grain 40", "turned 37") if number % 5 == 0 else ("as it is",)
        )
        for name in harms:
            picture, mm_to_px = HARMS[name](each.picture, each.mm_to_px)
            wrong += is_shown_on_screen(picture, mm_to_px)
    say(f"\n{len(printed)} photographs of printed cards, a fifth made harder: {wrong} warned of")

    assert wrong == 0
