"""Currencies by their ISO 4217 code, from the table among the resources."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from planebench.catalog.rating_tables import load_currencies
from planebench.catalog.reference import resources_folder
from planebench.errors import InputError
from planebench.trade.money import Currency


@cache
def currencies() -> Mapping[str, Currency]:
    """Return every currency by its code."""
    return load_currencies(resources_folder() / "money" / "iso4217.csv")


def currency_of(code: str) -> Currency:
    """Return a currency; raise InputError for a code that ISO 4217 does not have."""
    known = currencies().get(code.strip().upper())
    if known is None:
        raise InputError(
            f"“{code}” is not a currency code.",
            remedy="Enter a code of three letters, such as USD, GBP or EUR.",
            subject="currency",
        )
    return known
