"""Abrasives in micrometers: read, converted, put in order."""

from __future__ import annotations

import pytest

from planebench.catalog.abrasive_tables import grit_table
from planebench.errors import InputError
from planebench.trade.abrasives import (
    GritSystem,
    StepVerdict,
    check_sequence,
    convert,
    parse_grit,
    suggest_sequence,
)

JIS = GritSystem.JIS


def grit(text, system=None):
    return parse_grit(text, grit_table(), system=system)


@pytest.mark.parametrize(
    ("text", "system", "um"),
    [
        ("P220", None, 68),
        ("p 220 grit", None, 68),
        ("F220", None, 58),
        ("220", GritSystem.CAMI, 68),
        ("JIS 1000", None, 11.5),
        ("#1000", JIS, 11.5),
        ("0000", None, 25),
        ("15 µm", None, 15),
        ("0.5 micron", None, 0.5),
        ("3", GritSystem.MICRON, 3),
    ],
)
def test_a_grade_is_read_in_the_system_that_it_names(text, system, um):
    assert grit(text, system).um == pytest.approx(um)


def test_the_same_number_is_another_grain_in_another_system():
    assert grit("1000", JIS).um < grit("P1000").um


def test_a_grade_between_two_of_the_table_lies_between_their_grains():
    found = grit("5000", JIS)

    assert not found.in_table
    assert grit("6000", JIS).um < found.um < grit("4000", JIS).um


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("1000", "several systems"),
        ("P9999", "outside FEPA P"),
        ("00000", "several systems"),
        ("coarse", "cannot be read"),
        ("0 µm", "no grain size"),
        ("steel wool 7", "not a grade of steel wool"),
    ],
)
def test_what_names_no_abrasive_is_refused(text, reason):
    with pytest.raises(InputError, match=reason):
        grit(text)


def test_a_jump_from_sandpaper_to_a_fine_stone_is_too_large():
    steps = check_sequence(
        [grit("P150"), *(grit(n, JIS) for n in ("1000", "3000", "5000", "7000"))]
    )

    assert [step.verdict for step in steps] == [
        StepVerdict.TOO_LARGE,
        StepVerdict.GOOD,
        StepVerdict.GOOD,
        StepVerdict.GOOD,
    ]
    assert steps[0].ratio == pytest.approx(100 / 11.5)


def test_a_step_that_changes_little_or_goes_back_is_named():
    small, back = check_sequence([grit("P1000"), grit("P1200"), grit("P800")])

    assert small.verdict is StepVerdict.TOO_SMALL
    assert back.verdict is StepVerdict.BACKWARD
    assert back.to_remove_um == 0


def test_what_the_user_owns_fills_the_gap_with_as_few_steps_as_do():
    owned = [grit(text) for text in ("P240", "P400", "P600", "JIS 1000", "JIS 2000", "JIS 3000")]

    found = suggest_sequence(grit("P150"), grit("JIS 6000"), owned)

    assert all(step.verdict is StepVerdict.GOOD for step in check_sequence(found))
    assert len(found) == 4


def test_nothing_owned_leaves_the_step_as_it_is():
    assert suggest_sequence(grit("P150"), grit("JIS 8000"), [])[1:] == (grit("JIS 8000"),)


def test_the_nearest_grade_of_another_system_is_the_nearest_by_ratio():
    assert convert(grit("JIS 1000"), GritSystem.FEPA_P, grit_table()).grade == "P1500"
    assert convert(grit("P220"), GritSystem.MICRON, grit_table()).um == 68
