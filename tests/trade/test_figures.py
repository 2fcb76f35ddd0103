from decimal import Decimal

import pytest

from planebench.errors import InputError
from planebench.trade.angles_and_weights import parse_degrees, parse_grams


@pytest.mark.parametrize(("typed", "degrees"), [("25", "25"), ("25.5°", "25.5"), ("45 deg", "45")])
def test_an_angle_is_read(typed, degrees):
    assert parse_degrees(typed, field="bevel") == Decimal(degrees)


@pytest.mark.parametrize(
    ("typed", "grams"),
    [("1150 g", "1150"), ("1.15 kg", "1150"), ("1,15 kg", "1150"), ("2 lb", "907.18474")],
)
def test_a_weight_is_read_in_grams(typed, grams):
    assert parse_grams(typed, field="weight") == Decimal(grams)


def test_sixteen_ounces_are_a_pound():
    assert parse_grams("16 oz", field="weight") == parse_grams("1 lb", field="weight")


@pytest.mark.parametrize("typed", ["", "steep", "200"])
def test_what_is_no_angle_is_refused(typed):
    with pytest.raises(InputError, match="bevel"):
        parse_degrees(typed, field="bevel")


@pytest.mark.parametrize("typed", ["", "heavy", "200 kg"])
def test_what_is_no_weight_of_a_plane_is_refused(typed):
    with pytest.raises(InputError, match="weight"):
        parse_grams(typed, field="weight")
