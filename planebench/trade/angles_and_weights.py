"""Angles and weights as people type them: 25, 25°, 25.5 deg; 1150 g, 1.15 kg, 2 lb 8 oz."""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal

from planebench.errors import InputError

GRAMS_PER_POUND = Decimal("453.59237")
"""Exactly: the avoirdupois pound of 1959 (NIST SP 811, appendix B)."""

GRAMS_PER_OUNCE = GRAMS_PER_POUND / 16
MOST_DEGREES = 180
MOST_GRAMS = 100_000

_N = r"(\d{1,6}(?:\.\d{1,3})?)"
_ANGLE = re.compile(rf"{_N}\s*(?:°|deg(?:rees?)?\.?)?")
_METRIC = re.compile(rf"{_N}\s*(kg|kilos?|kilograms?|g|gr|grams?)?\.?")
_POUNDS = re.compile(rf"{_N}\s*(?:lbs?|pounds?)\.?(?:\s*{_N}\s*(?:oz|ounces?)\.?)?")
_OUNCES = re.compile(rf"{_N}\s*(?:oz|ounces?)\.?")


def parse_degrees(text: str, *, field: str) -> Decimal:
    """Read an angle of 0 to 180 degrees. Raises InputError naming `field`."""
    found = _ANGLE.fullmatch(_plain(text))
    if found is None or Decimal(found[1]) > MOST_DEGREES:
        raise _refusal(field, text, "an angle", "25")
    return Decimal(found[1])


def parse_grams(text: str, *, field: str) -> Decimal:
    """Read a weight in grams, 0 to 100 kg. Raises InputError naming `field`."""
    grams = _grams(_plain(text))
    if grams is None or grams > MOST_GRAMS:
        raise _refusal(field, text, "a weight up to 100 kg", "1150 g or 2 lb 8 oz")
    return grams


def _grams(plain: str) -> Decimal | None:
    if found := _METRIC.fullmatch(plain):
        return Decimal(found[1]) * (1000 if (found[2] or "").startswith("k") else 1)
    if found := _POUNDS.fullmatch(plain):
        return Decimal(found[1]) * GRAMS_PER_POUND + Decimal(found[2] or 0) * GRAMS_PER_OUNCE
    if found := _OUNCES.fullmatch(plain):
        return Decimal(found[1]) * GRAMS_PER_OUNCE
    return None


def _plain(text: str) -> str:
    one = unicodedata.normalize("NFKC", text).casefold().replace(",", ".")
    return " ".join(one.split())


def _refusal(field: str, text: str, what: str, example: str) -> InputError:
    shown = text.strip()[:40]
    reason = f"“{shown}” cannot be read as {what}" if shown else "nothing was typed"
    return InputError(f"{field}: {reason}.", remedy=f"Try {example}.", subject=field)
