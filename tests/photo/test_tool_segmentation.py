"""The tool is found on the bench; scale card and plain background are not mistaken for it."""

from pathlib import Path

import numpy as np
import pytest

from planebench.photo.decode import open_upright
from planebench.photo.tool_segmentation import card_mask, segment_tool

PHOTOGRAPHS = Path(__file__).parents[2] / "sample_catalog" / "photographs"


@pytest.mark.parametrize(
    ("name", "on_tool", "off_tool"),
    [
        ("LOT7-003_top_as_found", (0.40, 0.38), (0.05, 0.9)),
        ("LOT7-004_top_as_found", (0.47, 0.22), (0.05, 0.9)),
    ],
)
def test_the_tool_is_found_and_the_bench_is_not(
    name: str, on_tool: tuple[float, float], off_tool: tuple[float, float]
) -> None:
    rgb = open_upright(PHOTOGRAPHS / f"{name}.jpg", largest=1200)
    tool, card = segment_tool(rgb), card_mask(rgb, (200, 300))

    def at(place: tuple[float, float]) -> tuple[int, int]:
        return int(place[1] * tool.shape[0]), int(place[0] * tool.shape[1])

    assert tool.shape == (200, 300)
    assert tool[at(on_tool)]
    assert not tool[at(off_tool)]
    assert card.any()
    assert not (tool & card).any()
    assert 0.08 < tool.mean() < 0.5


def test_a_plain_ground_holds_no_tool() -> None:
    assert not segment_tool(np.full((400, 600, 3), 180, np.uint8)).any()
