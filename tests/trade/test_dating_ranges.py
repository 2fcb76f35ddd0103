"""The likeliest years: the fewest that hold most of belief, and what is told where they cannot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from planebench.trade.dating import DateEstimate, DatingSettings, Evidence, date_tool
from planebench.trade.dating_ranges import likeliest_years

SETTINGS = DatingSettings()


def evidence(name: str, first: int | None, last: int | None, sure: float = 0.8) -> Evidence:
    return Evidence(
        id=name,
        part="body",
        kind="years",
        what=name,
        not_before=first,
        not_after=last,
        looseness=2,
        sure=sure,
    )


def dated(*all_evidence: Evidence) -> DateEstimate:
    return date_tool({"body": all_evidence}).whole


def ranges_of(weights: Sequence[float], settings: DatingSettings = SETTINGS) -> object:
    shares = np.array(weights, dtype=float)
    return likeliest_years(1900, shares / shares.sum(), settings).runs


def test_one_piece_of_open_evidence_begins_where_the_evidence_does_and_its_doubt_is_told() -> None:
    whole = dated(evidence("patent", 1902, None))

    assert whole.in_words == "about 1902 or later"
    assert whole.edtf == "1902/.."
    assert (whole.percent, whole.falls_short) == (87, True)


def test_one_piece_of_evidence_before_a_year_ends_where_the_evidence_does() -> None:
    whole = dated(evidence("paper", None, 1924))

    assert whole.in_words == "before about 1925"
    assert whole.edtf == "../1924"


def test_a_piece_of_evidence_that_is_fairly_sure_dates_by_its_own_years_and_not_by_far_ones() -> (
    None
):
    whole = dated(evidence("casting", 1909, 1918))

    assert whole.ranges == ((1908, 1919),)
    assert whole.percent == round(100 * sum(whole.shares[1908 - 1780 : 1920 - 1780]))
    assert whole.falls_short


def test_two_pieces_of_evidence_from_two_sides_bound_the_years_between() -> None:
    whole = dated(evidence("patent", 1903, None), evidence("paper", None, 1924))

    assert whole.ranges == ((1903, 1924),)
    assert not whole.open_start
    assert not whole.open_end


@pytest.mark.parametrize("sure", [0.5, 0.8, 0.95])
def test_contradicting_evidence_gives_the_years_of_either_and_none_between(sure: float) -> None:
    whole = dated(evidence("one", 1894, 1902, sure), evidence("other", 1925, 1930, sure))

    (first, second) = whole.ranges
    assert (1892 <= first[0] <= 1894, 1902 <= first[1] <= 1904) == (True, True)
    assert (1923 <= second[0] <= 1925, 1930 <= second[1] <= 1932) == (True, True)
    assert whole.range90 == (first[0], second[1])
    assert " or between about 192" in whole.in_words


@pytest.mark.parametrize(
    "all_evidence",
    [
        [(1894, 1902, 0.95), (1925, 1930, 0.8)],
        [(1909, 1918, 0.8), (1913, None, 0.95), (1905, 1930, 0.5)],
        [(1903, None, 0.8), (None, 1924, 0.8), (1907, 1911, 0.8)],
        [(1920, 1924, 0.8), (1923, 1934, 0.8), (1945, 1950, 0.5)],
    ],
)
def test_no_year_left_out_is_likelier_than_one_inside(
    all_evidence: list[tuple[int | None, int | None, float]],
) -> None:
    whole = dated(*(evidence(str(n), *years) for n, years in enumerate(all_evidence)))

    inside = {year for first, last in whole.ranges for year in range(first, last + 1)}
    shares = dict(zip(whole.years, whole.shares, strict=True))
    least = min(shares[year] for year in inside)
    most = max(share for year, share in shares.items() if year not in inside)
    assert most <= least * (1 + 1e-9)


def test_the_share_told_is_what_the_ranges_hold() -> None:
    whole = dated(evidence("one", 1894, 1902), evidence("other", 1925, 1930))

    inside = [year for first, last in whole.ranges for year in range(first, last + 1)]
    shares = dict(zip(whole.years, whole.shares, strict=True))
    assert sum(shares[year] for year in inside) == pytest.approx(whole.held)


def test_a_doubtful_evidence_alone_dates_nothing() -> None:
    whole = dated(evidence("hearsay", 1907, 1911, sure=0.25))

    assert whole.in_words == "at a date not known"
    assert whole.edtf == "../.."


def test_a_doubtful_end_does_not_close_a_side_that_is_open() -> None:
    whole = dated(
        evidence("patent", 1903, None, sure=0.95), evidence("hearsay", 1909, 1918, sure=0.25)
    )

    assert whole.in_words == "about 1903 or later"


def test_a_piece_of_evidence_near_the_last_year_asked_about_still_ends() -> None:
    whole = dated(evidence("paper", 1975, 1979, sure=0.95))

    assert not whole.open_end


def test_years_are_taken_from_the_likeliest_down() -> None:
    """Worked by hand: 40 + 30 + 20 = 90 of 100."""
    assert ranges_of([4, 20, 40, 30, 6]) == ((1901, 1903),)


def test_of_equally_likely_years_those_nearest_to_the_range_are_taken() -> None:
    """Worked by hand: 60 + 20 need 10 more; of the years of 5 the two at the sides are nearest."""
    assert ranges_of([5, 5, 20, 60, 5, 5]) == ((1901, 1904),)


def test_years_all_alike_are_all_given() -> None:
    assert ranges_of([1] * 30) == ((1900, 1929),)


def test_a_gap_of_two_years_is_closed_and_one_of_three_is_told() -> None:
    assert ranges_of([50, 0, 0, 50]) == ((1900, 1903),)
    assert ranges_of([50, 0, 0, 0, 50]) == ((1900, 1900), (1904, 1904))


def test_of_too_many_ranges_the_narrowest_gaps_are_closed() -> None:
    weights = [1, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 1]

    assert ranges_of(weights) == ((1900, 1904), (1909, 1909), (1915, 1915))
    assert ranges_of(weights, replace(SETTINGS, most_runs=2)) == ((1900, 1909), (1915, 1915))
