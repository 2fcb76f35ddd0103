"""A share lost is rated by the standards that fit its finish, interval and all."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.catalog.rating_tables import load_rating_tables
from planebench.trade.ratings import Grade, GradeTable, rate, rate_share
from planebench.trade.shares import Basis, Share

TABLES = load_rating_tables(Path(__file__).parents[2] / "resources" / "ratings")


@pytest.mark.parametrize(
    ("finish", "standards"),
    [
        ("japanning", ["ISO 4628-5"]),
        ("lacquer", ["ISO 4628-5"]),
        ("nickel", ["ISO 10289"]),
        ("rust", ["ISO 4628-3", "ASTM D610"]),
        ("oil", []),
    ],
)
def test_each_finish_has_its_own_standards(finish: str, standards: list[str]) -> None:
    assert standards == [rating.standard for rating in rate(finish, Decimal(2), TABLES)]


def test_the_ratings_of_both_ends_of_the_interval_are_told() -> None:
    rusted = Share(
        value=Decimal("0.009"), low=Decimal("0.004"), high=Decimal("0.02"), basis=Basis.MEASURED
    )
    degree, grade = rate_share("rust", rusted, TABLES)

    assert degree.said == "Ri 3 (Ri 2 to Ri 4)"
    assert grade.said == "6 (6 to 5)"


def test_ends_in_one_class_are_told_once() -> None:
    lost = Share(
        value=Decimal("0.2"), low=Decimal("0.18"), high=Decimal("0.22"), basis=Basis.MEASURED
    )

    assert [rated.said for rated in rate_share("nickel", lost, TABLES)] == ["2/-"]


@given(st.decimals(0, 100, places=4), st.decimals(0, 100, places=4))
def test_more_loss_never_rates_better(one: Decimal, other: Decimal) -> None:
    less, more = sorted((one, other))

    assert rate("japanning", less, TABLES)[0].grade <= rate("japanning", more, TABLES)[0].grade
    assert rate("nickel", less, TABLES)[0].grade >= rate("nickel", more, TABLES)[0].grade
    assert rate("rust", less, TABLES)[0].grade <= rate("rust", more, TABLES)[0].grade
    assert rate("rust", less, TABLES)[1].grade >= rate("rust", more, TABLES)[1].grade


@pytest.mark.parametrize("percent", ["-0.1", "100.1"])
def test_less_than_nothing_and_more_than_all_are_not_rated(percent: str) -> None:
    with pytest.raises(ValueError, match="0 to 100%"):
        rate("nickel", Decimal(percent), TABLES)


def test_a_table_whose_limits_do_not_rise_is_refused() -> None:
    row = Grade(grade=1, up_to_percent=Decimal(5), from_memory=False, source="made up")

    with pytest.raises(ValueError, match="rise"):
        GradeTable((row, row))
