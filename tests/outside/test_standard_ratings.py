"""Ratings against the tables of ISO 4628-3 and -5, ISO 10289 and ASTM D610, row by row with edges.

The figures stand here a second time, apart from the shipped tables: those of ISO 10289 as read in
GB/T 6461-2002 (limits of ratings 5 and 4 from memory), of ASTM D610-08(2012) and ISO 4628-3:2016
as read in public copies, of ISO 4628-5:2016 from memory.
"""

from decimal import Decimal
from math import log10
from pathlib import Path

import pytest

from planebench.catalog.rating_tables import load_currencies, load_rating_tables
from planebench.trade.ratings import (
    flaking_class,
    protection_rating,
    rust_degree,
    rust_grade,
)

RESOURCES = Path(__file__).parents[2] / "resources"
TABLES = load_rating_tables(RESOURCES / "ratings")
JUST = Decimal("0.000001")

ISO_10289 = [
    ("0", 10), ("0.1", 9), ("0.25", 8), ("0.5", 7), ("1", 6), ("2.5", 5),
    ("5", 4), ("10", 3), ("25", 2), ("50", 1), ("100", 0),
]  # fmt: skip
ASTM_D610 = [
    ("0.01", 10), ("0.03", 9), ("0.1", 8), ("0.3", 7), ("1", 6), ("3", 5),
    ("10", 4), ("16", 3), ("33", 2), ("50", 1), ("100", 0),
]  # fmt: skip
ISO_4628_3 = [("0", 0), ("0.05", 1), ("0.5", 2), ("1", 3), ("8", 4), ("50", 5)]
ISO_4628_5 = [("0", 0), ("0.1", 1), ("0.3", 2), ("1", 3), ("3", 4), ("15", 5)]


@pytest.mark.parametrize(("limit", "grade"), ISO_10289)
def test_iso_10289_table_1_takes_the_upper_limit_into_the_class(limit: str, grade: int) -> None:
    at = protection_rating(Decimal(limit), TABLES.protection)

    assert grade == at.grade
    assert at.said == f"{grade}/-"
    if grade:
        assert grade - 1 == protection_rating(Decimal(limit) + JUST, TABLES.protection).grade


@pytest.mark.parametrize(("limit", "grade"), ISO_10289[1:])
def test_iso_10289_formula_rounds_to_the_class_at_every_upper_limit(limit: str, grade: int) -> None:
    formula = 3 * (2 - log10(float(limit)))
    told = protection_rating(Decimal(limit), TABLES.protection).exact

    assert told is not None
    assert formula == pytest.approx(float(told), abs=0.005)
    assert grade == round(told)


def test_iso_10289_table_decides_where_the_formula_would_round_to_another_class() -> None:
    inside = protection_rating(Decimal("0.12"), TABLES.protection)

    assert inside.grade == 8
    assert inside.exact == Decimal("8.76")


def test_iso_10289_formula_is_not_used_for_very_small_areas() -> None:
    assert protection_rating(Decimal("0.0464"), TABLES.protection).exact is None
    assert protection_rating(Decimal("0.0465"), TABLES.protection).exact == Decimal("10.00")
    assert protection_rating(JUST, TABLES.protection).grade == 9


@pytest.mark.parametrize(("limit", "grade"), ASTM_D610)
def test_astm_d610_grades_go_from_greater_than_up_to_and_including(limit: str, grade: int) -> None:
    assert grade == rust_grade(Decimal(limit), TABLES.rust_grade).grade
    assert grade == rust_grade(Decimal(limit) - JUST, TABLES.rust_grade).grade
    if grade:
        assert grade - 1 == rust_grade(Decimal(limit) + JUST, TABLES.rust_grade).grade


def test_astm_d610_calls_no_rust_grade_10() -> None:
    assert rust_grade(Decimal(0), TABLES.rust_grade).grade == 10


@pytest.mark.parametrize(("nominal", "degree"), ISO_4628_3)
def test_iso_4628_3_pictures_have_their_own_degree(nominal: str, degree: int) -> None:
    at = rust_degree(Decimal(nominal), TABLES.rust_degree)

    assert degree == at.grade
    assert at.said == f"Ri {degree}"
    assert min(degree + 1, 5) == rust_degree(Decimal(nominal) + JUST, TABLES.rust_degree).grade


def test_between_the_pictures_of_iso_4628_3_the_rule_is_told_to_be_the_programs_own() -> None:
    between = rust_degree(Decimal("0.2"), TABLES.rust_degree)

    assert between.said == "Ri 2"
    assert "a rule of this program" in between.rule


def test_more_rust_than_any_picture_of_iso_4628_3_is_told_to_be_beyond_it() -> None:
    most = rust_degree(Decimal(90), TABLES.rust_degree)

    assert most.grade == 5
    assert "larger than any" in most.rule
    assert "larger than any" not in rust_degree(Decimal(45), TABLES.rust_degree).rule


@pytest.mark.parametrize(("nominal", "grade"), ISO_4628_5)
def test_iso_4628_5_classes_take_their_area_as_upper_limit(nominal: str, grade: int) -> None:
    assert grade == flaking_class(Decimal(nominal), TABLES.flaking).grade
    assert min(grade + 1, 5) == flaking_class(Decimal(nominal) + JUST, TABLES.flaking).grade


def test_iso_4628_5_from_memory_is_told_to_be_so() -> None:
    assert flaking_class(Decimal(2), TABLES.flaking).from_memory
    assert "larger than any" in flaking_class(Decimal(40), TABLES.flaking).rule


def test_ri_and_d610_agree_as_the_nominal_areas_say() -> None:
    """ISO 4628-3, table B.2 by area, as read at coatingsradar.com: Ri 0 to 4 are 10, 8, 6, 6, 4."""
    areas = [Decimal(nominal) for nominal, _ in ISO_4628_3[:5]]

    assert [rust_grade(area, TABLES.rust_grade).grade for area in areas] == [10, 8, 6, 6, 4]


@pytest.mark.parametrize(
    ("code", "digits"),
    [
        ("USD", 2),
        ("GBP", 2),
        ("EUR", 2),
        ("JPY", 0),
        ("KWD", 3),
        ("CLF", 4),
        ("XAF", 0),
        ("MGA", 2),
    ],
)
def test_minor_units_are_those_of_iso_4217(code: str, digits: int) -> None:
    """ISO 4217 list one, published 2024-06-25."""
    assert digits == load_currencies(RESOURCES / "money" / "iso4217.csv")[code].digits
