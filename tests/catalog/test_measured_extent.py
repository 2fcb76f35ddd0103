"""What a measured share says of the rest of its surface."""

from __future__ import annotations

from decimal import Decimal

import pytest

from planebench.catalog.ids import OutlineId
from planebench.catalog.measuring import measured_extent
from planebench.catalog.values import ReadingArea
from planebench.trade.measured_extent import MeasuredExtent, format_extent
from planebench.trade.terms import Stage


@pytest.fixture
def tool_id(sample):
    """Take a smoothing plane photographed as found and finished."""
    return sample.tools.by_stock_number("LOT7-003")


@pytest.fixture
def say(sample, tool_id):
    """Say what of a surface is covered by outlines on the photographs as found of these views."""

    def said(surface, *views, at=(), code=None):
        tool = sample.tools.one(tool_id)
        found = [one.id for one in tool.photographs][: max(len(views), len(at))]
        sample.photographs.change([one.id for one in tool.photographs], stage=Stage.FINISHED)
        for photograph, view in zip(found, views, strict=False):
            sample.photographs.change([photograph], stage=Stage.AS_FOUND, view=view)
        tool = sample.tools.one(tool_id)
        one = next(one for one in tool.surfaces if one.code == surface)
        share = {"value": "0.8", "low": "0.7", "high": "0.9"}
        areas = [
            ReadingArea(
                outline=OutlineId(str(number)),
                photograph=found[number],
                kept_px=8,
                lost_px=2,
                cannot_tell_px=0,
                area_mm2=Decimal(100),
                share=share,
            )
            for number in at
        ]
        told = measured_extent(
            tool, sample.kinds.all()[code or tool.kind], areas, (one.id, Stage.AS_FOUND)
        )
        return "" if told is None else format_extent(told)

    return said


def test_a_view_that_was_photographed_but_not_measured_is_told_from_one_that_was_not(say):
    assert say("handle_knob", "left_side", at=(0,)) == (
        "Measured on the left side view; not photographed: right side."
    )
    assert say("handle_knob", "left_side", "right_side", at=(0,)) == (
        "Measured on the left side view; not measured: right side."
    )
    assert say("handle_knob", "left_side", "right_side", at=(0, 1)) == (
        "Measured on the left side and right side views."
    )


def test_what_no_usual_view_shows_is_said_in_words(say):
    assert say("bed_cheeks", "top", at=(0,)) == (
        "Measured on the top view; not seen whole on any view: the inner faces of the cheeks and "
        "what is under the frog."
    )


def test_where_nothing_tells_which_views_show_a_surface_that_is_said(say):
    assert say("bed_cheeks", "top", at=(0,), code="plow") == (
        "Measured on the top view; what other views show of it is not known."
    )


def test_a_photograph_without_a_view_is_named_as_such(say):
    assert say("handle_knob", "", at=(0,)).startswith(
        "Measured on a photograph whose view is not named; not photographed: left side and right"
    )


def test_a_close_up_beside_a_whole_view_is_said_not_to_count(say):
    assert say("handle_knob", "left_side", "detail", at=(0, 1)) == (
        "Measured on the left side view; not photographed: right side; not counted: a close-up, "
        "which may show the same places again."
    )
    assert say("handle_knob", "left_side", "detail", at=(1,)) == (
        "Measured on a close-up only; not measured: left side; not photographed: right side."
    )


def test_nothing_is_said_where_nothing_was_measured(say):
    assert say("bed_cheeks", "top") == ""


def test_several_of_a_sort_are_counted():
    many = MeasuredExtent(views=(), close_ups=2, known=False)
    unnamed = MeasuredExtent(views=("top",), unnamed=2, left_out=3)

    assert format_extent(many) == (
        "Measured on 2 close-ups; what other views show of it is not known."
    )
    assert format_extent(unnamed) == (
        "Measured on the top view and 2 photographs whose views are not named; not counted: 3 "
        "close-ups, which may show the same places again."
    )
