import datetime as dt

import pytest

from planebench.errors import InputError
from planebench.trade.days import (
    DayOrder,
    format_day,
    order_for_paper,
    parse_day,
)

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
        ("1 May 1492", "1492 cannot be right"),
        ("1 December 2026", "1 December 2026 is in the future"),
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


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [
        ("11/20/25", DayOrder.MONTH_FIRST, dt.date(2025, 11, 20)),
        ("3/4/26", DayOrder.MONTH_FIRST, dt.date(2026, 3, 4)),
        ("3/4/26", DayOrder.DAY_FIRST, dt.date(2026, 4, 3)),
        ("3-4-2026", DayOrder.MONTH_FIRST, dt.date(2026, 3, 4)),
        ("3.4.2026", DayOrder.MONTH_FIRST, dt.date(2026, 4, 3)),
        ("20.11.2025", DayOrder.MONTH_FIRST, dt.date(2025, 11, 20)),
        ("5/6/98", DayOrder.MONTH_FIRST, dt.date(1998, 5, 6)),
    ],
)
def test_figures_are_read_in_the_order_in_which_days_are_written(text, order, day):
    assert parse_day(text, field="Bought on", today=TODAY, order=order) == day


def test_a_day_is_written_month_first_or_day_first():
    day = dt.date(2026, 9, 3)

    assert format_day(day, DayOrder.MONTH_FIRST) == "September 3, 2026"
    assert format_day(day, DayOrder.DAY_FIRST) == "3 September 2026"
    assert format_day(day, DayOrder.MONTH_FIRST, with_year=False) == "September 3"


def test_letter_paper_goes_with_the_month_first():
    assert order_for_paper("letter") is DayOrder.MONTH_FIRST
    assert order_for_paper("a4") is DayOrder.DAY_FIRST
