import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.trade.durations import LONGEST, format_minutes, parse_minutes


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("45", 45),
        ("45 min", 45),
        ("1 h 30", 90),
        ("1h30m", 90),
        ("1:30", 90),
        ("1.5 h", 90),
        ("1,5 hours", 90),
        ("2 hours and 5 minutes", 125),
        ("two hours", 120),
        ("an hour", 60),
        ("half an hour", 30),
        ("Two and a half hours", 150),
        ("an hour and a half", 90),
        ("a quarter of an hour", 15),
        ("ten minutes", 10),
    ],
)
def test_time_at_the_bench_is_read_as_people_write_it(typed, minutes):
    assert parse_minutes(typed, field="time") == minutes


@pytest.mark.parametrize("typed", ["", "long", "1:75", "-3", "2000 h"])
def test_what_is_no_time_is_refused(typed):
    with pytest.raises(InputError, match="time"):
        parse_minutes(typed, field="time")


@given(st.integers(0, LONGEST))
def test_what_is_said_can_be_typed_again(minutes):
    assert parse_minutes(format_minutes(minutes), field="time") == minutes
