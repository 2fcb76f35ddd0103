from decimal import Decimal

import pytest

from planebench.errors import InputError
from planebench.trade.share_parsing import parse_share
from planebench.trade.terms import Basis


@pytest.mark.parametrize(
    ("typed", "value", "low", "high"),
    [
        ("70", "0.7", "0.6", "0.8"),
        ("about 70%", "0.7", "0.6", "0.8"),
        ("60 to 80", "0.7", "0.6", "0.8"),
        ("60-80%", "0.7", "0.6", "0.8"),
        ("60 – 80", "0.7", "0.6", "0.8"),
        ("between 60 and 80", "0.7", "0.6", "0.8"),
        ("75 (60 to 80)", "0.75", "0.6", "0.8"),
        ("70 ± 5", "0.7", "0.65", "0.75"),
        ("82.5", "0.825", "0.725", "0.925"),
        ("97", "0.97", "0.87", "1"),
        ("4", "0.04", "0", "0.14"),
        ("all", "1", "1", "1"),
        ("none", "0", "0", "0"),
        ("half", "0.5", "0.4", "0.6"),
    ],
)
def test_a_share_is_read_as_people_say_it(typed, value, low, high):
    share = parse_share(typed, field="left")

    assert (Decimal(value), Decimal(low), Decimal(high)) == (share.value, share.low, share.high)
    assert share.basis is Basis.BY_EYE


@pytest.mark.parametrize("typed", ["", "x", "120", "80 to 60", "50 (60 to 80)", "-5", "6 0", "1/2"])
def test_what_is_no_share_is_refused_with_one_that_would_do(typed):
    with pytest.raises(InputError) as refused:
        parse_share(typed, field="left")

    assert refused.value.subject == "left"
    assert "70 or 60 to 80" in refused.value.remedy
