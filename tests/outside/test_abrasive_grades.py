"""Grades of abrasives against values quoted from the standards and their public copies."""

from __future__ import annotations

import pytest

from planebench.catalog.abrasive_tables import grit_table
from planebench.trade.abrasives import GritSystem, parse_grit

QUOTED = [
    # FEPA 43-1 / ISO 6344, mean grain size, as printed in public copies of the table.
    ("P60", None, 269, "found"),
    ("P120", None, 125, "found"),
    ("P400", None, 35.0, "found"),
    ("P2500", None, 8.4, "found"),
    # JIS R 6001:1987, d50 by electrical resistance, complete public table.
    ("1000", GritSystem.JIS, 11.5, "found"),
    ("4000", GritSystem.JIS, 3.0, "found"),
    ("8000", GritSystem.JIS, 1.2, "found"),
    # ANSI B74.18, average particle size, public copy.
    ("180", GritSystem.CAMI, 82, "found"),
    ("600", GritSystem.CAMI, 16, "found"),
    # ISO 8486-2 ds50, from memory.
    ("F1200", None, 3.0, "memory"),
    # Steel wool fiber width, trade table from memory.
    ("0000", None, 25, "memory"),
]


@pytest.mark.parametrize(("text", "system", "um", "status"), QUOTED, ids=[q[0] for q in QUOTED])
def test_a_grade_has_the_grain_that_its_standard_gives(
    text: str, system: GritSystem | None, um: float, status: str
) -> None:
    found = parse_grit(text, grit_table(), system=system)

    assert found.um == um
    assert found.from_memory == (status == "memory")


def test_grades_rise_in_number_as_grains_get_smaller() -> None:
    for system in (GritSystem.FEPA_P, GritSystem.FEPA_F, GritSystem.CAMI, GritSystem.JIS):
        numbers = [int(row.grade.lstrip("PF")) for row in grit_table().of(system)]

        assert numbers == sorted(numbers)


def test_micro_grades_of_fepa_p_lie_where_iso_6344_3_has_them_within_its_tolerance() -> None:
    """ds50 of P240 58.5 +- 2, P600 25.8 +- 1, P1500 12.6 +- 1 (tolerances from memory)."""
    for grade, um, within in (("P240", 58.5, 2), ("P600", 25.8, 1), ("P1500", 12.6, 1)):
        assert abs(parse_grit(grade, grit_table()).um - um) <= within
