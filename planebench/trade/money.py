"""Amounts of money: read as people type them, and written."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from babel.numbers import format_currency, get_currency_symbol

from planebench.errors import InputError

_OTHERS = ("EUR", "GBP", "JPY", "USD")
"""Currencies whose sign in a field of another currency is a slip worth naming."""

_LOCALE = "en_US"
"""The program speaks American English, so amounts are written as it writes them."""

LARGEST = Decimal(1_000_000_000)
"""An entry over a billion is a slip of the finger."""

_LONGEST_TEXT = 40
_MARK = r"[ .,'\N{RIGHT SINGLE QUOTATION MARK}]"
_AMOUNT = re.compile(rf"\d+(?:{_MARK}\d+)*[.,]?|[.,]\d+")
_GROUP = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Currency:
    """A currency of ISO 4217: three-letter code, decimals of its minor unit (0 to 4), name."""

    code: str
    digits: int
    name: str

    @property
    def smallest(self) -> Decimal:
        """The smallest amount that can be paid: 0.01 for two decimals."""
        return Decimal(1).scaleb(-self.digits)


def parse_money(text: str, *, field: str, currency: Currency) -> Decimal:
    """Read one amount as typed: 165, $165.00, 1,250.50, 1.250,50 or 1 250 EUR.

    Raises InputError naming `field` and a value that would do, for what is not an amount, is in
    another currency, is negative, ambiguous, or finer than the currency's smallest coin.
    """
    plain = " ".join(unicodedata.normalize("NFKC", text).split())
    example = f"{Decimal(165).quantize(currency.smallest)}"
    if plain.startswith(("-", "\N{MINUS SIGN}", "(")):
        raise _refusal(field, "an amount cannot be negative", example)
    bare = _without_sign(plain, field, currency)
    if not bare:
        raise _refusal(field, "no amount was typed", example)
    if len(bare) > _LONGEST_TEXT or _AMOUNT.fullmatch(bare) is None:
        shown = bare if len(bare) <= _LONGEST_TEXT else f"{bare[:_LONGEST_TEXT]}…"
        raise _refusal(field, f"“{shown}” cannot be read as an amount", example)
    amount = _value(bare, field, currency)
    if amount > LARGEST:
        raise _refusal(field, "the amount is over a billion", example)
    return amount.quantize(currency.smallest)


def format_money(amount: Decimal, currency: Currency) -> str:
    """Return an amount to the currency's smallest coin, halves away from zero: $1,250.50.

    A currency without a symbol of its own is written with its code: 1,250.50 CHF. Decimals are
    those of ISO 4217, which for a few currencies differ from local habit.
    """
    rounded = amount.quantize(currency.smallest, rounding=ROUND_HALF_UP)
    number = f"#,##0.{'0' * currency.digits}" if currency.digits else "#,##0"
    has_symbol = symbol_of(currency.code) != currency.code
    pattern = f"¤{number}" if has_symbol else f"{number} ¤¤"
    return format_currency(rounded, currency.code, pattern, locale=_LOCALE, currency_digits=False)


def symbol_of(code: str) -> str:
    """Return a currency's symbol as Americans write it: $, CA$, €; its code where it has none."""
    return get_currency_symbol(code, locale=_LOCALE)


def _refusal(field: str, reason: str, example: str) -> InputError:
    return InputError(f"{field}: {reason}.", remedy=f"Try {example}.", subject=field)


def _without_sign(plain: str, field: str, currency: Currency) -> str:
    """Take off the currency's own sign or code; refuse another's."""
    for code in (currency.code, *_OTHERS):
        for mark in (symbol_of(code), code):
            if mark not in plain.upper():
                continue
            bare = re.sub(re.escape(mark), "", plain, count=1, flags=re.IGNORECASE).strip()
            if code != currency.code and mark != symbol_of(currency.code):
                raise _refusal(field, f"amounts here are in {currency.code}, not {code}", bare)
            return bare
    return plain


def _value(bare: str, field: str, currency: Currency) -> Decimal:
    """Tell the decimal mark from marks between thousands, and refuse where both could be meant."""
    pieces = re.split(_MARK, bare)
    marks = re.findall(_MARK, bare)
    whole, part = "".join(pieces), ""
    _refuse_the_doubtful(pieces, marks, field, currency)
    if marks and _ends_in_decimals(pieces, marks, currency):
        whole, part = "".join(pieces[:-1]), pieces[-1]
    elif any(len(piece) != _GROUP for piece in pieces[1:]):
        raise _refusal(
            field, f"{currency.code} has {currency.digits} decimal places", pieces[0] or "0"
        )
    return Decimal(f"{whole or '0'}.{part or '0'}")


def _refuse_the_doubtful(
    pieces: Sequence[str], marks: Sequence[str], field: str, currency: Currency
) -> None:
    """Refuse one mark before three digits where it may be either: 1,250 dinars, 1.250 dollars."""
    if len(marks) != 1 or len(pieces[1]) != _GROUP:
        return
    comma = marks[0] == "," and currency.digits >= _GROUP
    point = marks[0] == "." and 0 < currency.digits < _GROUP
    if comma or point:
        whole = "".join(pieces)
        part = pieces[1] if comma else pieces[1].rstrip("0")
        bare = marks[0].join(pieces)
        reason = f"“{bare}” could be {f'{pieces[0]}.{part}'.rstrip('.')} or {whole}"
        raise _refusal(field, reason, whole)


def _ends_in_decimals(pieces: Sequence[str], marks: Sequence[str], currency: Currency) -> bool:
    """Return whether the last mark is the decimal one: point or comma, not used before it."""
    last = marks[-1]
    fits = len(pieces[-1]) <= currency.digits and last in ".,"
    grouped = all(len(piece) == _GROUP for piece in pieces[1:-1])
    return fits and grouped and last not in marks[:-1]
