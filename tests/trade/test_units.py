"""Lengths are read as people write them and refused with a value that would do."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.trade.units import (
    Length,
    LengthUnit,
    format_inches,
    format_length,
    format_millimeters,
    parse_length,
)

INCH, MM = LengthUnit.INCH, LengthUnit.MILLIMETER


def mm_of(text: str, unit: LengthUnit = INCH) -> Decimal:
    return parse_length(text, field="cutter width", default_unit=unit).mm


@pytest.mark.parametrize(
    "text",
    [
        '1 5/8"',
        "1-5/8 in",
        "1 5/8",
        "1 5 / 8 inches",
        "1⅝",
        "1 ⅝″",
        "1 5/8''",
        "1\N{NO-BREAK SPACE}5\N{FRACTION SLASH}8 in.",
        "1⁵\N{FRACTION SLASH}₈ in",
        "13/8 in",
        "1.625 in",
        "0' 1 5/8\"",
        "1 5/8 IN",
        "41.275 mm",
        "4,1275 cm",
    ],
)
def test_one_width_written_in_many_ways_is_one_width(text: str) -> None:
    assert Decimal("41.275") == mm_of(text)


@pytest.mark.parametrize(
    "text",
    ["2' 3\"", "2 ft 3 in", "2\N{PRIME}3\N{DOUBLE PRIME}", "2' 3", "2'-3\"", "2 1/4 feet", "27"],
)
def test_feet_and_inches_add_up(text: str) -> None:
    assert Decimal("685.8") == mm_of(text)


def test_the_default_unit_holds_only_where_none_is_typed() -> None:
    assert Decimal(6) == mm_of("6", MM)
    assert Decimal("152.4") == mm_of("6", INCH)
    assert Decimal("152.4") == mm_of("6 in", MM)
    assert Decimal(6) == mm_of("6 mm", INCH)


def test_what_was_typed_is_kept_beside_the_millimeters() -> None:
    read = parse_length("  4.1 cm ", field="width", default_unit=MM)

    assert Length(mm=Decimal(41), as_typed="4.1 cm") == read


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('1 5/0"', "cutter width: the fraction divides by 0. Try 1 5/8."),
        ("5/0", "cutter width: the fraction divides by 0. Try 5/8."),
        (
            "1 13/8",
            "cutter width: the fraction after a whole number must be less than 1. Try 2 5/8.",
        ),
        ("1 16/8", "cutter width: the fraction after a whole number must be less than 1. Try 3."),
        ("-5 mm", "cutter width: a length cannot be negative. Try 5 mm."),
        ("1,625", "cutter width: “1,625” could be 1.625 or 1625. Try 1.625."),
        ("", "cutter width: no length was typed. Try 1 5/8."),
        ("broad", "cutter width: “broad” cannot be read as a length. Try 1 5/8."),
        ("1 5 8", "cutter width: “1 5 8” cannot be read as a length. Try 1 5/8."),
        ("6 x 2 in", "cutter width: “6 x 2 in” cannot be read as a length. Try 1 5/8."),
        ("19200 in", "cutter width: no bench tool is longer than ten meters. Try 1 5/8."),
        ("2' 14\"", "cutter width: after feet, inches go up to 11. Try 2' 3\"."),
        ("2' 3 mm", "cutter width: feet go with inches, not with millimeters. Try 2' 3\"."),
    ],
)
def test_a_slip_is_refused_with_the_field_and_a_value_that_would_do(text: str, told: str) -> None:
    with pytest.raises(InputError) as refused:
        mm_of(text)

    assert told == str(refused.value)
    assert refused.value.subject == "cutter width"


@given(st.text(max_size=400))
def test_any_text_is_a_length_in_range_or_refused_with_words(text: str) -> None:
    told = answer_to(text)

    assert len(told) < 200
    assert told.startswith("length: ") or 0 <= Decimal(told) <= 10_000


def answer_to(text: str) -> str:
    try:
        return str(parse_length(text, field="length", default_unit=MM).mm)
    except InputError as refused:
        return str(refused)


def test_an_endless_number_is_refused_not_computed() -> None:
    with pytest.raises(InputError, match="cannot be read"):
        mm_of("1" * 6000)


def test_the_value_offered_would_do() -> None:
    for text in ("3/0", "9/0", "2 1/0", "1 13/8", "-3/4", "1,625", "x"):
        with pytest.raises(InputError) as refused:
            mm_of(text)
        offered = refused.value.remedy.removeprefix("Try ").removesuffix(".")

        assert mm_of(offered) > 0


def test_a_length_is_printed_in_the_readers_unit_with_the_other_in_brackets() -> None:
    assert format_length(Decimal("237.33125"), INCH) == "9 11/32 in (237.3 mm)"
    assert format_length(Decimal("237.33125"), MM) == "237.3 mm (9 11/32 in)"


@pytest.mark.parametrize(
    ("mm", "denominator", "printed"),
    [
        ("0", 64, "0 in"),
        ("25.4", 64, "1 in"),
        ("12.7", 64, "1/2 in"),
        ("0.1", 64, "0.004 in"),
        ("0.1", 32, "under 1/32 in"),
        ("1", 64, "0.039 in"),
        ("1", 32, "1/32 in"),
        ("1.6", 64, "1/16 in"),
        ("3.2", 64, "1/8 in"),
        ("25.3", 64, "1 in"),
        ("1.5875", 8, "1/8 in"),
        ("41", 16, "1 5/8 in"),
    ],
)
def test_inches_are_the_nearest_reduced_fraction(mm: str, denominator: int, printed: str) -> None:
    assert printed == format_inches(Decimal(mm), denominator=denominator)


@pytest.mark.parametrize(
    ("mm", "printed"),
    [
        ("0", "0 mm"),
        ("0.25", "0.25 mm"),
        ("0.004", "under 0.01 mm"),
        ("1.70", "1.7 mm"),
        ("100", "100 mm"),
        ("41.25", "41.3 mm"),
        ("9999.96", "10000 mm"),
    ],
)
def test_millimeters_carry_no_idle_zeros(mm: str, printed: str) -> None:
    assert printed == format_millimeters(Decimal(mm))


@given(st.integers(min_value=0, max_value=20_000))
def test_a_printed_fraction_reads_back_as_the_same_length(sixty_fourths: int) -> None:
    mm = Decimal(sixty_fourths) * Decimal("25.4") / 64

    assert mm == mm_of(format_inches(mm), MM)


@given(st.decimals(min_value=10, max_value=10_000, places=1))
def test_printed_tenths_of_a_millimeter_read_back_as_the_same_length(mm: Decimal) -> None:
    assert mm == mm_of(format_millimeters(mm), INCH)
