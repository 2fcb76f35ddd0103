"""Money is read as people write it and shared out so that the cents add up."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.trade.money import (
    Currency,
    format_money,
    parse_money,
)

USD = Currency(code="USD", digits=2, name="US Dollar")
GBP = Currency(code="GBP", digits=2, name="Pound Sterling")
CHF = Currency(code="CHF", digits=2, name="Swiss Franc")
JPY = Currency(code="JPY", digits=0, name="Yen")
KWD = Currency(code="KWD", digits=3, name="Kuwaiti Dinar")


@pytest.mark.parametrize(
    ("text", "currency", "amount"),
    [
        ("165", USD, "165"),
        ("$165.00", USD, "165"),
        ("165.5", USD, "165.5"),
        ("usd 165,50", USD, "165.5"),
        ("1,250", USD, "1250"),
        ("1,250.50", USD, "1250.5"),
        ("1.250,50", USD, "1250.5"),
        ("1 250,50 USD", USD, "1250.5"),
        ("CHF 1'250.05", CHF, "1250.05"),
        ("1\N{NARROW NO-BREAK SPACE}250", USD, "1250"),
        (".5", USD, "0.5"),
        ("5.", USD, "5"),
        ("£ 12", GBP, "12"),
        ("¥1,250", JPY, "1250"),
        ("1.250", JPY, "1250"),
        ("1.250", KWD, "1.25"),
        ("0", USD, "0"),
    ],
)
def test_an_amount_is_read_as_people_write_it(text: str, currency: Currency, amount: str) -> None:
    assert Decimal(amount) == parse_money(text, field="price", currency=currency)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "price: no amount was typed. Try 165.00."),
        ("dear", "price: “dear” cannot be read as an amount. Try 165.00."),
        ("-5", "price: an amount cannot be negative. Try 165.00."),
        ("£12", "price: amounts here are in USD, not GBP. Try 12."),
        ("12 EUR", "price: amounts here are in USD, not EUR. Try 12."),
        ("12.3456", "price: USD has 2 decimal places. Try 12."),
        ("1.250", "price: “1.250” could be 1.25 or 1250. Try 1250."),
        ("99999999999", "price: the amount is over a billion. Try 165.00."),
    ],
)
def test_a_slip_is_refused_with_the_field_and_an_amount_that_would_do(text: str, told: str) -> None:
    with pytest.raises(InputError) as refused:
        parse_money(text, field="price", currency=USD)

    assert told == str(refused.value)


def test_a_comma_before_three_digits_is_not_guessed_where_the_coin_has_three_decimals() -> None:
    with pytest.raises(InputError, match=r"could be 1.250 or 1250. Try 1250"):
        parse_money("1,250", field="price", currency=KWD)


@given(st.text(max_size=200))
def test_any_text_is_an_amount_in_whole_cents_or_refused_with_words(text: str) -> None:
    told = answer_to(text)

    assert told.startswith("price: ") or 0 <= Decimal(told) * 100 == int(Decimal(told) * 100)


def answer_to(text: str) -> str:
    try:
        return str(parse_money(text, field="price", currency=USD))
    except InputError as refused:
        return str(refused)


@pytest.mark.parametrize(
    ("amount", "currency", "printed"),
    [
        ("165", USD, "$165.00"),
        ("1250.5", GBP, "£1,250.50"),
        ("1250", JPY, "¥1,250"),
        ("1250.5", CHF, "1,250.50 CHF"),
        ("1.2345", KWD, "1.235 KWD"),
        ("-3", USD, "-$3.00"),
        ("1250.5", Currency(code="CAD", digits=2, name="Canadian Dollar"), "CA$1,250.50"),
    ],
)
def test_an_amount_is_printed_to_its_smallest_coin(
    amount: str, currency: Currency, printed: str
) -> None:
    assert printed == format_money(Decimal(amount), currency)


@given(st.decimals(0, 999_999_999, places=2), st.sampled_from([USD, GBP, CHF]))
def test_a_printed_amount_reads_back_as_the_same_amount(
    amount: Decimal, currency: Currency
) -> None:
    printed = format_money(amount, currency)

    assert amount == parse_money(printed, field="price", currency=currency)
