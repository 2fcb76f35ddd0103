"""What is written down of judged outlines: one reading over all of a surface's photographs."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest

from planebench.catalog.measuring import Around, JudgedOutline, compose
from planebench.trade.counted_areas import exact_share
from planebench.trade.terms import Basis, Stage


def line(right):
    """Return an outline of 300 by 200 pixels, so far to the right."""
    spots = ((100, 100), (400, 100), (400, 300), (100, 300))
    outer = [[x + right, y] for x, y in spots]
    return {"polygons": [{"outer": outer, "holes": []}]}


class Bench:
    """A plane of the sample on which surfaces are judged without a judge."""

    def __init__(self, catalog, stock):
        self.catalog = catalog
        self.id = catalog.tools.by_stock_number(stock)
        for old in self.tool.readings:
            catalog.readings.bin(old.id)
        catalog.photographs.change([one.id for one in self.tool.photographs], stage=Stage.AS_FOUND)

    @property
    def tool(self):
        return self.catalog.tools.one(self.id)

    def view(self, at, view, mm_a_pixel=None):
        """Say what the photograph at this place shows, and how large its pixels are."""
        photograph = self.tool.photographs[at].id
        self.catalog.photographs.change([photograph], view=view)
        matrix = None if mm_a_pixel is None else np.diag([mm_a_pixel, mm_a_pixel, 1.0]).tolist()
        scale = None if matrix is None else {"kind": "card", "matrix_px_to_mm": matrix}
        self.catalog.photographs.set_scale(photograph, scale)
        return self

    def judge(self, at, kept, *, spread=0.05, pixels=60_000, finish=""):
        """Outline the main surface on a photograph, judge it to be kept so far, write it down.

        `at` is the place of the photograph, alone or with how far to the right the outline lies.
        """
        at, right = at if isinstance(at, tuple) else (at, 0)
        surface, photograph = self.tool.surfaces[0], self.tool.photographs[at]
        finish = finish or surface.finish
        added = self.catalog.outlines.add(
            photograph.id, surface.id, finish=finish, polygons=line(right)
        )
        outlines = self.catalog.photographs.outlines_of(self.id)
        seen = np.ones((20, 30), np.uint8)
        seen[:, : round(30 * (1 - kept))] = 2
        judged = JudgedOutline(
            outline=next(one for one in outlines if one.id == added.id),
            photograph=photograph,
            share=exact_share(kept, max(0.0, kept - spread), min(1.0, kept + spread)),
            kept_px=round(pixels * kept),
            lost_px=pixels - round(pixels * kept),
            cannot_tell_px=0,
            strokes=0,
            map=seen,
            window=(100, 100, 400, 300),
        )
        around = Around(
            tool=self.tool,
            kind=self.catalog.kinds.all()[self.tool.kind],
            live={one.id: one for one in outlines},
        )
        self.catalog.readings.add(compose(around, judged))
        return added.id

    @property
    def reading(self):
        return self.tool.reading(self.tool.surfaces[0].id, Stage.AS_FOUND)


@pytest.fixture
def bench(sample):
    return Bench(sample, "LOT7-003")


def test_one_outline_gives_its_own_share_and_says_how(bench):
    bench.view(0, "top").judge(0, 0.8)

    assert bench.reading.share.value == Decimal("0.8000")
    assert bench.reading.share.basis is Basis.MEASURED
    assert bench.reading.method == "outlined on one photograph, judged with no stroke"


def test_views_weigh_by_their_true_area_however_large_they_were_photographed(bench):
    bench.view(0, "top", 0.2).view(1, "back", 0.1)
    bench.judge(0, 0.9)
    bench.judge(1, 0.4)
    areas = [one.area_mm2 for one in bench.reading.areas]

    assert sorted(areas) == [Decimal("600.0"), Decimal("2400.0")]
    assert bench.reading.share.value == Decimal("0.8000")
    assert "2 outlines on 2 photographs, weighted by area in mm²" in bench.reading.method


def test_without_a_scale_on_each_photograph_pixels_weigh_and_that_is_said(bench):
    bench.view(0, "top", 0.2).view(1, "back")
    bench.judge(0, 0.9, pixels=30_000)
    bench.judge(1, 0.4, pixels=90_000)

    assert bench.reading.share.value == Decimal("0.5250")
    assert "weighted by pixels, because not every photograph has a scale" in bench.reading.method


def test_two_photographs_of_one_view_count_once_by_the_surer_one(bench):
    bench.view(0, "top", 0.2).view(1, "top", 0.2)
    bench.judge(0, 0.9, spread=0.02)
    bench.judge(1, 0.6, spread=0.1)

    assert len(bench.reading.areas) == 2
    assert bench.reading.share.value == Decimal("0.9000")


def test_an_outline_drawn_over_another_goes_round_the_same_area_and_counts_once(bench):
    bench.view(0, "top", 0.2)
    bench.judge(0, 0.9, spread=0.02)
    bench.judge((0, 100), 0.5, spread=0.1)
    over = bench.reading.share.value
    bench.judge((0, 400), 0.5, spread=0.1)

    assert over == Decimal("0.9000")
    assert bench.reading.share.value == Decimal("0.7000")


def test_stretches_seen_twice_are_matched_from_the_left_in_whichever_order_they_were_judged(bench):
    bench.view(0, "top", 0.2).view(1, "top", 0.2)
    bench.judge(0, 0.9, spread=0.02)
    bench.judge((0, 500), 0.5, spread=0.02)
    bench.judge((1, 500), 0.4, spread=0.1)
    bench.judge(1, 0.8, spread=0.1)

    assert len(bench.reading.areas) == 4
    assert bench.reading.share.value == Decimal("0.7000")


def test_a_close_up_is_not_counted_beside_a_whole_view(bench):
    bench.view(0, "top", 0.2).view(1, "detail", 0.02)
    bench.judge(0, 0.9)
    bench.judge(1, 0.1)

    assert bench.reading.share.value == Decimal("0.9000")


def test_close_ups_alone_count_each_for_itself(bench):
    bench.view(0, "detail", 0.2).view(1, "detail", 0.2)
    bench.judge(0, 0.9)
    bench.judge(1, 0.5)

    assert bench.reading.share.value == Decimal("0.7000")


def test_an_outline_put_in_the_bin_counts_no_more_in_the_next_reading(bench):
    bench.view(0, "top", 0.2).view(1, "back", 0.2)
    first = bench.judge(0, 0.9)
    bench.catalog.outlines.bin(first)
    bench.judge(1, 0.4)

    assert bench.reading.share.value == Decimal("0.4000")


def test_rust_is_read_by_itself(bench):
    bench.view(0, "top")
    bench.judge(0, 0.9)
    bench.judge(0, 0.3, finish="rust")
    surface = bench.tool.surfaces[0].id

    assert bench.reading.share.value == Decimal("0.9000")
    assert bench.tool.reading(surface, Stage.AS_FOUND, rust=True).share.value == Decimal("0.3000")


def test_what_was_lost_is_kept_as_rings_in_pixels_of_the_photograph(bench):
    bench.view(0, "top").judge(0, 0.8)
    ring = np.array(bench.reading.areas[0].share["lost"][0])

    assert ring.min(axis=0) == pytest.approx([104.5, 104.5])
    assert ring.max(axis=0) == pytest.approx([154.5, 294.5])
