"""Patent dates as they are cast and stamped."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.trade.marks_patent_date import MONTHS, patent_dates, read_patent_date

CAST = [
    ("PAT. JAN. 28. 13", date(1913, 1, 28)),
    ("Pat. Apr 19 92", date(1892, 4, 19)),
    ("PAT'D APR.l9.92", date(1892, 4, 19)),
    ("PAT. APR. I9. 92.", date(1892, 4, 19)),
    ("Pat\N{RIGHT SINGLE QUOTATION MARK}d Ap'l 19th 1892", date(1892, 4, 19)),
    ("PATENTED MARCH 25 1902", date(1902, 3, 25)),
    ("Apr. 19, '92", date(1892, 4, 19)),
    ("MAR.25,O2", date(1902, 3, 25)),
    ("3-25-02", date(1902, 3, 25)),
    ("Patd 19 April 1892", date(1892, 4, 19)),
    ("PAT. JU1Y 7 36", date(1936, 7, 7)),
    ("PAT. 0CT. 8. 12", date(1912, 10, 8)),
    ("PAT. SEPT. 1st 1885", date(1885, 9, 1)),
    ("PATENTED AUGT. 6 67", date(1867, 8, 6)),
    ("Feb. 11 1845", date(1845, 2, 11)),
]


@pytest.mark.parametrize(("text", "day"), CAST, ids=[row[0] for row in CAST])
def test_a_date_is_read_as_cast(text: str, day: date) -> None:
    reading = read_patent_date(text)

    assert [one.day for one in patent_dates(text)] == [day]
    assert reading.not_before == day.year


def test_of_several_dates_the_latest_is_the_bound() -> None:
    reading = read_patent_date("PAT. MAR-25-02, AUG-19-02 & OCT-4-10")

    assert reading.not_before == 1910
    assert reading.read_as.count("a Tuesday") == 3


def test_two_digits_are_resolved_by_the_weekday_and_the_other_century_is_told() -> None:
    reading = read_patent_date("pat'd aug 31 58")

    assert reading.not_before == 1858
    assert reading.alternatives == ("31 August 1958, a Sunday: patents were issued on Tuesdays",)


def test_a_day_that_is_no_tuesday_is_doubted_but_kept() -> None:
    reading = read_patent_date("Pat. Apr 20 92")

    assert reading.doubtful
    assert reading.not_before == 1892
    assert "was a Wednesday" in reading.note


def test_before_1848_no_weekday_is_asked_for() -> None:
    assert not read_patent_date("Pat. Feb 12 1845").doubtful


def test_day_and_month_are_told_apart_by_the_weekday() -> None:
    """3-4-02: 4 March 1902 was a Tuesday, 3 April 1902 a Thursday (calendar)."""
    assert [one.day for one in patent_dates("3-4-02")] == [date(1902, 3, 4)]
    assert [one.day for one in patent_dates("8-7-90")] == [date(1890, 7, 8)]


@pytest.mark.parametrize("text", ["PAT. PEND.", "Patent applied for", "PATS. PENDING"])
def test_a_mark_without_a_date_bounds_nothing(text: str) -> None:
    reading = read_patent_date(text)

    assert reading.not_before is None
    assert reading.read_as == "no date in it"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("PAT. Feb 30 92", "nearest is February 29, 92"),
        ("PAT. APR 31 1892", "nearest is April 30, 1892"),
        ("PAT. APR 0 1892", "nearest is April 1, 1892"),
        ("Aug 4 2025", "dates run from 1836 to 1990"),
        ("PAT. APR 19", "Type what is stamped"),
        ("1234567", "choose US patent"),
        ("", "Type what is stamped"),
    ],
)
def test_an_impossible_date_is_refused_with_the_nearest(text: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        read_patent_date(text, field="body-1")


@given(st.integers(0, 4700), st.sampled_from(["{m}. {d}. {y}", "{m}-{d}-{y}", "{d} {m} {y}"]))
def test_any_tuesday_stamped_with_two_digits_reads_back(weeks: int, form: str) -> None:
    day = date(1848, 1, 4) + timedelta(weeks=weeks)
    if day.year > 1930:
        return
    text = form.format(m=MONTHS[day.month - 1][:3].upper(), d=day.day, y=f"{day.year % 100:02d}")

    read = patent_dates(f"PAT. {text}")[0]

    assert (day.month, day.day) == (read.day.month, read.day.day)
    assert day.year == read.day.year or any(str(day.year) in other for other in read.others)


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused_but_never_breaks(text: str) -> None:
    try:
        reading = read_patent_date(text)
    except InputError:
        return

    assert reading.not_before is None or 1836 <= reading.not_before <= 1990
