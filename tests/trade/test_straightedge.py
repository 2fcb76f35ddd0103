"""Gaps under a straightedge become heights, and a line that disagrees is named."""

from __future__ import annotations

import numpy as np
import pytest

from planebench.errors import InputError
from planebench.trade.flatness import measure_flatness
from planebench.trade.straightedge import GapReading, heights_from_gaps

XS, YS = (10.0, 120.0, 230.0), (5.0, 30.0, 55.0)
LINES = {
    **{name: [(x, y) for x in XS] for name, y in zip("ABC", YS, strict=True)},
    **{name: [(x, y) for y in YS] for name, x in zip("DEF", XS, strict=True)},
    "J": [(10.0, 5.0), (120.0, 30.0), (230.0, 55.0)],
    "K": [(10.0, 55.0), (120.0, 30.0), (230.0, 5.0)],
}


def height(place):
    x, y = (place[0] - 120) / 110, (place[1] - 30) / 25
    return 0.06 * x * y - 0.04 * x * x


def read(step=0.0, wrong=None):
    """Read each line with its straightedge on pads of 0.5 mm at the line's ends."""
    lines = {}
    for name, places in LINES.items():
        ends = height(places[0]), height(places[-1])
        share = np.linspace(0, 1, len(places))
        gaps = [
            0.5 + (1 - s) * ends[0] + s * ends[1] - height(p)
            for s, p in zip(share, places, strict=True)
        ]
        if name == wrong:
            gaps[1] += 0.2
        lines[name] = [
            GapReading(place=p, goes_mm=g - step / 2, stops_mm=g + step / 2)
            for p, g in zip(places, gaps, strict=True)
        ]
    return lines


def test_the_surface_comes_back_from_its_gaps():
    found = heights_from_gaps(read(step=0.01))
    true = np.array([[*place[:2], height(place)] for place in found.points[:, :2]])

    assert measure_flatness(found.points).mz_mm == pytest.approx(measure_flatness(true).mz_mm)
    assert found.doubtful_lines == ()


def test_a_line_read_wrong_disagrees_most():
    found = heights_from_gaps(read(step=0.01, wrong="J"))

    assert max(found.disagreement_mm, key=found.disagreement_mm.get) == "J"
    assert "J" in found.doubtful_lines


def test_lines_that_do_not_cross_cannot_be_joined():
    lines = {name: readings for name, readings in read().items() if name in "ABC"}

    with pytest.raises(InputError, match="do not cross"):
        heights_from_gaps(lines)


@pytest.mark.parametrize(
    ("goes", "stops", "reason"), [(-0.1, 0.1, "0 or more"), (0.2, 0.1, "thinner")]
)
def test_a_gap_that_cannot_be_is_refused(goes, stops, reason):
    with pytest.raises(InputError, match=reason):
        GapReading(place=(0, 0), goes_mm=goes, stops_mm=stops)
