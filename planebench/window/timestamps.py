"""Points in time as lists show them."""

from __future__ import annotations

import datetime as dt

from planebench.trade.days import DayOrder, format_day


def format_timestamp(at: dt.datetime, order: DayOrder) -> str:
    """Return day and time in this computer's time zone: "September 3, 2026, 14:05".

    A naive `at` is taken as local time.
    """
    local = at.astimezone()
    return f"{format_day(local.date(), order)}, {local:%H:%M}"
