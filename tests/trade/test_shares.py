"""A share carries its interval and basis, and is told so that by eye never passes for measured."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.trade.shares import (
    Basis,
    MeasuredPatch,
    Share,
    combine,
    format_interval,
    format_percent,
    format_share,
)


def share(value: str, low: str, high: str, basis: Basis = Basis.MEASURED) -> Share:
    return Share(value=Decimal(value), low=Decimal(low), high=Decimal(high), basis=basis)


def patch(place: str, read: Share, area: str) -> MeasuredPatch:
    return MeasuredPatch(place=place, share=read, area_mm2=Decimal(area))


@pytest.mark.parametrize(
    ("value", "low", "high"),
    [("0.9", "0.95", "1"), ("0.9", "0.8", "0.85"), ("1.1", "0", "1.2"), ("0", "-0.1", "1")],
)
def test_a_share_outside_its_interval_cannot_be_made(value: str, low: str, high: str) -> None:
    with pytest.raises(ValueError, match="share out of order"):
        share(value, low, high)


def test_measured_and_by_eye_are_told_differently() -> None:
    assert format_share(share("0.97", "0.95", "0.99")) == "97% (95 to 99) measured"
    assert format_share(share("0.7", "0.6", "0.8", Basis.BY_EYE)) == "about 70% (60 to 80) by eye"
    assert format_share(share("0.7", "0.6", "0.8", Basis.TOLD)) == "about 70% (60 to 80) told"


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("1", "100%"),
        ("0.9996", "over 99%"),
        ("0", "0%"),
        ("0.0004", "under 1%"),
        ("0.885", "89%"),
    ],
)
def test_only_all_is_a_hundred_and_only_nothing_is_nought(value: str, told: str) -> None:
    assert told == format_percent(share(value, "0", "1"))


def test_an_interval_is_rounded_outward_never_inward() -> None:
    assert format_interval(share("0.883", "0.8512", "0.9011")) == "(85 to 91)"


def test_what_is_lost_is_the_rest_of_what_is_kept() -> None:
    assert share("0.2", "0.1", "0.25") == share("0.8", "0.75", "0.9").rest


def test_photographs_are_weighted_by_true_area() -> None:
    both = combine(
        [
            patch("bed", share("1", "1", "1"), "300"),
            patch("cheek", share("0.5", "0.4", "0.6"), "100"),
        ]
    )

    assert share("0.875", "0.85", "0.9") == both


def test_a_place_seen_twice_counts_once_by_its_surest_reading() -> None:
    first = patch("bed", share("0.8", "0.6", "0.9"), "300")
    surer = patch("bed", share("0.82", "0.8", "0.85"), "290")
    other = patch("cheek", share("0.5", "0.4", "0.6"), "290")

    assert share("0.66", "0.6", "0.725") == combine([first, surer, other])


def test_the_weakest_basis_speaks_for_the_whole() -> None:
    mixed = combine(
        [
            patch("bed", share("0.8", "0.7", "0.9"), "1"),
            patch("cheek", share("0.8", "0.7", "0.9", Basis.BY_EYE), "1"),
        ]
    )

    assert mixed.basis is Basis.BY_EYE


def test_nothing_cannot_be_combined() -> None:
    with pytest.raises(ValueError, match="no patch"):
        combine([])
    with pytest.raises(ValueError, match="area above 0"):
        patch("bed", share("1", "1", "1"), "0")


_PARTS = st.lists(
    st.tuples(
        st.lists(st.decimals(0, 1, places=4), min_size=3, max_size=3).map(sorted),
        st.decimals(min_value="0.1", max_value=50_000, places=1),
    ),
    min_size=1,
    max_size=8,
)


@given(_PARTS)
def test_the_combined_share_is_the_exact_weighted_mean(
    parts: list[tuple[list[Decimal], Decimal]],
) -> None:
    patches = [
        MeasuredPatch(
            place=str(number),
            share=Share(low=ends[0], value=ends[1], high=ends[2], basis=Basis.MEASURED),
            area_mm2=area,
        )
        for number, (ends, area) in enumerate(parts)
    ]
    total = sum(Fraction(area) for _, area in parts)
    exact = sum(Fraction(ends[1]) * Fraction(area) for ends, area in parts) / total

    assert float(exact) == pytest.approx(float(combine(patches).value), abs=1e-12)
