import datetime as dt

import pytest

from planebench.errors import InputError
from planebench.trade.days import format_day, parse_day

TODAY = dt.date(2026, 5, 12)


@pytest.mark.parametrize(
    "text",
    [
        "14 March 2026",
        "14. mar 2026",
        "March 14, 2026",
        "Mar 14th 2026",
        "2026-03-14",
        "14/3/2026",
        "3/14/2026",
        "14 March",
    ],
)
def test_a_day_is_read_as_people_write_it(text):
    assert parse_day(text, field="Bought on", today=TODAY) == dt.date(2026, 3, 14)


def test_a_day_without_a_year_is_the_last_such_day():
    assert parse_day("24 December", field="Bought on", today=TODAY) == dt.date(2025, 12, 24)


def test_yesterday_is_the_day_before():
    assert parse_day("yesterday", field="Bought on", today=TODAY) == dt.date(2026, 5, 11)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("3/4/2026", "can be 3 April or 4 March"),
        ("31 February 2026", "not a day of the calendar"),
        ("14 Marchember 2026", "not a month"),
        ("1 May 19200", "is not a day"),
        ("1 May 1492", "1492 cannot be meant"),
        ("soon", "is not a day"),
    ],
)
def test_what_is_no_day_is_refused_naming_the_field(text, reason):
    with pytest.raises(InputError, match=reason) as refused:
        parse_day(text, field="Bought on", today=TODAY)

    assert refused.value.subject == "Bought on"


def test_a_day_said_is_read_again():
    for offset in range(366):
        day = TODAY - dt.timedelta(days=offset)
        assert parse_day(format_day(day), field="day", today=TODAY) == day
