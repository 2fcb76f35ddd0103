"""Years as people write them: read, kept as EDTF, shown in words, refused with what would do."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.trade.years import YearConventions, parse_years, words_of

WRITTEN = [
    ("1915", 1915, 1915, "1915", "1915"),
    ("1920s", 1920, 1929, "192X", "the 1920s"),
    ("the 1920's", 1920, 1929, "192X", "the 1920s"),
    ("early 1920s", 1920, 1923, "1920/1923", "1920 to 1923"),
    ("mid-1930s", 1934, 1936, "1934/1936", "1934 to 1936"),
    ("late 1920s to mid-1930s", 1927, 1936, "1927/1936", "1927 to 1936"),
    ("c. 1915", 1910, 1920, "1915~", "about 1915"),
    ("c1915", 1910, 1920, "1915~", "about 1915"),
    ("circa 1905-1908", 1900, 1913, "1905~/1908~", "about 1905 to about 1908"),
    ("around the 1920s", 1915, 1934, "192X~", "about the 1920s"),
    ("before 1910", None, 1909, "../1909", "1909 or before"),
    ("until 1911", None, 1911, "../1911", "1911 or before"),
    ("1910 or earlier", None, 1910, "../1910", "1910 or before"),
    ("after 1913", 1914, None, "1914/..", "1914 or later"),
    ("1913 or later", 1913, None, "1913/..", "1913 or later"),
    ("1900+", 1900, None, "1900/..", "1900 or later"),
    ("1907-11", 1907, 1911, "1907/1911", "1907 to 1911"),
    ("1907–8", 1907, 1908, "1907/1908", "1907 to 1908"),
    ("between 1907 and 1911", 1907, 1911, "1907/1911", "1907 to 1911"),
    ("from 1907 to 1911", 1907, 1911, "1907/1911", "1907 to 1911"),
    ("1894 or 1904", 1894, 1904, "1894/1904", "1894 to 1904"),
    ("1831 or 33", 1831, 1833, "1831/1833", "1831 to 1833"),
    ("19th century", 1800, 1899, "18XX", "1800 to 1899"),
    ("late 19th century", 1867, 1899, "1867/1899", "1867 to 1899"),
    ("first half of the 19th century", 1800, 1849, "1800/1849", "1800 to 1849"),
    ("last quarter of the 19th c.", 1875, 1899, "1875/1899", "1875 to 1899"),
    ("1915?", 1915, 1915, "1915?", "perhaps 1915"),
    ("probably 1915", 1915, 1915, "1915?", "perhaps 1915"),
    ("?c. 1915", 1910, 1920, "1915%", "perhaps about 1915"),
    ("March 1915", 1915, 1915, "1915", "1915"),
    ("Jan 28, 1913", 1913, 1913, "1913", "1913"),
    ("1913-01-28", 1913, 1913, "1913-01-28", "28 January 1913"),
    ("1899-05", 1899, 1899, "1899-05", "May 1899"),
    ("1893, reprinted 1910", 1893, 1893, "1893", "1893"),
    ("1984~/2004-06", 1979, 2004, "1984~/2004-06", "about 1984 to June 2004"),
    ("not known", None, None, "", "not known"),
]


@pytest.mark.parametrize(
    ("text", "first", "last", "edtf", "words"), WRITTEN, ids=[row[0] for row in WRITTEN]
)
def test_years_are_read_kept_and_said(
    text: str, first: int | None, last: int | None, edtf: str, words: str
) -> None:
    span = parse_years(text)

    assert (first, last) == (span.not_before, span.not_after)
    assert edtf == span.edtf
    assert words == span.words


def test_what_could_be_a_month_in_edtf_is_told() -> None:
    assert parse_years("1907-11").note == "November 1907, if a month was meant"


def test_a_give_or_take_keeps_its_width() -> None:
    span = parse_years("1915 ± 3")

    assert (span.not_before, span.not_after, span.give_or_take) == (1915, 1915, 3)
    assert span.edtf == "1912/1918"
    assert span.words == "1915 give or take 3 years"


def test_the_width_of_circa_is_a_setting() -> None:
    wide = parse_years("c. 1915", YearConventions(circa=8))
    none = parse_years("c. 1915", YearConventions(circa=0))

    assert (wide.not_before, wide.not_after) == (1907, 1923)
    assert (none.not_before, none.not_after) == (1915, 1915)
    assert wide.edtf == none.edtf == "1915~"


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("19200", "Try 1920"),
        ("12", "Try 1912"),
        ("", "Try c. 1915"),
        ("1918-1913", "Try 1913 to 1918"),
        ("1915/1912", "Try 1912/1915"),
        ("2016-02-39", "Try 2016-02-29"),
        ("1984-13-01", "Try 1984-12-01"),
        ("old", "Try 1915"),
        ("\N{SLIGHTLY SMILING FACE}" * 300, "Try 1915"),
        ("[1667,1668]", "Try 1915"),
        ("/", "Try 1913/1918"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_what_would_do(text: str, remedy: str) -> None:
    with pytest.raises(InputError) as refused:
        parse_years(text)

    assert refused.value.remedy.startswith(remedy)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_but_never_breaks(text: str) -> None:
    try:
        span = parse_years(text)
    except InputError:
        return

    assert span.not_before is None or span.not_after is None or span.not_before <= span.not_after


@given(st.integers(1000, 2090), st.integers(0, 9))
def test_a_range_written_as_edtf_reads_back(first: int, length: int) -> None:
    span = parse_years(f"{first} to {first + length}")

    again = parse_years(span.edtf)

    assert (span.not_before, span.not_after) == (again.not_before, again.not_after)
    assert words_of(span.edtf) == span.words
