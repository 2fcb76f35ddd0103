"""Years as people say them in a shop or museum: centuries, wars, loose words, brackets."""

from __future__ import annotations

import pytest

from planebench.errors import InputError
from planebench.trade.years import parse_years

SAID = [
    ("1800s", 1800, 1899),
    ("late 1800s", 1867, 1899),
    ("early 1900s", 1900, 1933),
    ("mid 1800's", 1834, 1866),
    ("the 1900s decade", 1900, 1909),
    ("1900s (decade)", 1900, 1909),
    ("1900s-1920s", 1900, 1929),
    ("1890s-1900s", 1890, 1909),
    ("late 1890s to early 1900s", 1897, 1903),
    ("last quarter of the 1800s", 1875, 1899),
    ("18th-19th century", 1700, 1899),
    ("18th & 19th centuries", 1700, 1899),
    ("late 19th-early 20th century", 1867, 1933),
    ("late 18th or early 19th century", 1767, 1833),
    ("second half of the 19th century", 1850, 1899),
    ("2nd quarter, 19th century", 1825, 1849),
    ("first third of the 19th century", 1800, 1833),
    ("mid- to late-19th century", 1834, 1899),
    ("mid-nineteenth century", 1834, 1866),
    ("XIX century", 1800, 1899),
    ("19thC", 1800, 1899),
    ("turn of the century", 1890, 1910),
    ("turn of the 20th century", 1890, 1910),
    ("first decade of the 20th century", 1900, 1909),
    ("'20s", 1920, 1929),
    ("early 60s", 1960, 1963),
    ("60s-70s", 1960, 1979),
    ("1920s or 30s", 1920, 1939),
    ("1950s/60s", 1950, 1969),
    ("early to mid 1960s", 1960, 1966),
    ("the twenties", 1920, 1929),
    ("'58 - '65", 1958, 1965),
    ("1910 or so", 1905, 1915),
    ("1961-ish", 1956, 1966),
    ("1920-1935 or so", 1915, 1940),
    ("~1915", 1910, 1920),
    ("1640 (circa)", 1635, 1645),
    ("<1910", None, 1909),
    ("> 1910", 1911, None),
    ("in or before 1900", None, 1900),
    ("after 1850, before 1870", 1851, 1869),
    ("1870-", 1870, None),
    ("1880s to present", 1880, None),
    ("3/24/1929", 1929, 1929),
    ("24.3.1929", 1929, 1929),
    ("8/1959", 1959, 1959),
    ("May-June 1890", 1890, 1890),
    ("1913 March 3", 1913, 1913),
    ("1860/70", 1860, 1870),
    ("designed 1944, made 1999", 1999, 1999),
    ("1882 (designed) 1885 (made)", 1885, 1885),
    ("1850-1900 (made), 1920 (altered)", 1850, 1900),
    ("sold 1925", None, 1925),
    ("Edo period (1603-1867)", 1603, 1867),
    ("Meiji period (1868–1912), late 19th century", 1867, 1899),
    ("Pat'd Feb 14 1888", 1888, None),
    ("Patented 1888", 1888, None),
    ("1876 (patented)", 1876, None),
    ("postwar", 1945, None),
    ("after WW2", 1945, None),
    ("before WWI", None, 1914),
    ("during World War II", 1939, 1945),
    ("interwar", 1918, 1939),
    ("Victorian", 1837, 1901),
    ("[1890]", 1890, 1890),
    ("A.D. 1840", 1840, 1840),
    ("1898/9", 1898, 1899),
    ("nineteen-twenties", 1920, 1929),
    ("1920's/1930's", 1920, 1939),
    ("sometime before 1910", None, 1909),
    ("ca 1875-1900 or so", 1870, 1905),
    ("last quarter 19th", 1875, 1899),
    ("end of the 19th century", 1867, 1899),
    ("end of 19th to beginning of 20th century", 1867, 1933),
    ("1916 patent", 1916, None),
    ("1910 thru 1918", 1910, 1918),
    ("1910...1918", 1910, 1918),
    ("1910 ca.", 1905, 1915),
    ("1910 approx.", 1905, 1915),
    ("late 1910", 1910, 1910),
    ("1867-1903 (Meiji)", 1867, 1903),
    ("19th c.", 1800, 1899),
]


@pytest.mark.parametrize(("text", "first", "last"), SAID, ids=[row[0] for row in SAID])
def test_years_are_read_as_people_say_them(text: str, first: int | None, last: int | None) -> None:
    span = parse_years(text)

    assert (span.not_before, span.not_after) == (first, last)


def test_of_a_design_and_a_making_the_making_counts_and_that_is_said() -> None:
    assert parse_years("designed 1944, made 1999").note == "when it was made, not designed 1944"


def test_a_patent_date_typed_as_years_says_which_day_it_is() -> None:
    assert "14 February 1888" in parse_years("Pat’d Feb 14 1888").note


@pytest.mark.parametrize("text", ["modern", "late Victorian", "20th", "a while ago", "late 1800"])
def test_what_names_no_years_is_refused_rather_than_guessed(text: str) -> None:
    with pytest.raises(InputError, match="cannot be read as years"):
        parse_years(text)


def test_a_give_or_take_in_words_is_one() -> None:
    assert parse_years("1925 give or take 5").give_or_take == 5
