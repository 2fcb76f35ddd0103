"""Fractions of an inch against Python's own `fractions`, and the inch of NIST SP 811 (25.4 mm)."""

import unicodedata
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.trade.units import LengthUnit, format_inches, parse_length

NIST_MM_PER_INCH = Fraction(
    "25.4"
)  # NIST SP 811 (2008), appendix B.8: 1 inch is 2.54 E-02 m, exact
VULGAR = [
    chr(code)
    for code in (*range(0xBC, 0xBF), *range(0x2150, 0x215F))
    if unicodedata.decomposition(chr(code)).startswith("<fraction>")
]


def inches(text: str) -> Fraction:
    length = parse_length(text, field="length", default_unit=LengthUnit.INCH)
    return Fraction(length.mm) / NIST_MM_PER_INCH


def as_decimal(exact: Fraction) -> Decimal:
    return Decimal(exact.numerator) / Decimal(exact.denominator)


@given(st.fractions(min_value=0, max_value=300, max_denominator=128))
def test_a_fraction_is_read_as_pythons_fractions_reads_it(exact: Fraction) -> None:
    assert float(exact) == pytest.approx(float(inches(str(exact))), rel=1e-15)


@given(st.integers(0, 300), st.integers(1, 127), st.sampled_from([2, 4, 8, 16, 32, 64, 128]))
def test_a_mixed_number_is_its_whole_and_its_part(whole: int, above: int, below: int) -> None:
    above %= below

    assert whole + Fraction(above, below) == inches(f"{whole} {above}/{below} in")
    assert whole + Fraction(above, below) == inches(f'{whole}-{above}/{below}"')


@given(st.fractions(min_value=0, max_value=300, max_denominator=10_000))
def test_the_printed_fraction_is_the_nearest_there_is(exact: Fraction) -> None:
    mm = as_decimal(exact * NIST_MM_PER_INCH)
    printed = format_inches(mm).removesuffix(" in")
    told = Fraction(0) if printed == "under 1/64" else sum(map(Fraction, printed.split()))

    assert abs(told - exact) <= Fraction(1, 128) + Fraction(1, 10**20)


@given(st.integers(1, 20_000))
def test_the_printed_fraction_is_reduced_as_pythons_is(sixty_fourths: int) -> None:
    whole, part = divmod(Fraction(sixty_fourths, 64), 1)
    expected = " ".join(str(piece) for piece in (whole, part) if piece)

    assert f"{expected} in" == format_inches(
        as_decimal(Fraction(sixty_fourths, 64) * NIST_MM_PER_INCH)
    )


@pytest.mark.parametrize("sign", VULGAR)
def test_every_vulgar_fraction_of_unicode_is_worth_its_numeric_value(sign: str) -> None:
    assert unicodedata.numeric(sign) == pytest.approx(float(inches(sign)), rel=1e-15)
    assert 3 + unicodedata.numeric(sign) == pytest.approx(float(inches(f"3{sign}")), rel=1e-15)
