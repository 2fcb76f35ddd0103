"""Shares typed as people say them: 70, 70%, 60 to 80, 70 (60 to 80), 70 +- 5, all, none."""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal

from planebench.errors import InputError
from planebench.trade.shares import Share
from planebench.trade.terms import Basis

EYE_IS_OFF_BY = Decimal("0.10")
"""How far off an estimate by eye may be where no range is typed: common practice, no source."""

_NUMBER = r"(\d{1,3}(?:[.,]\d{1,2})?)"
_ABOUT = re.compile(r"^(?:about|around|roughly|circa|c\.|ca\.|~)\s*")
_RANGE = re.compile(rf"(?:between\s+)?{_NUMBER}\s*(?:-|to|and)\s*{_NUMBER}")
_AROUND = re.compile(rf"{_NUMBER}\s*(?:±|\+/-|\+-|give or take)\s*{_NUMBER}")
_WITH_RANGE = re.compile(rf"{_NUMBER}(?:\s*[(,;]\s*|\s+){_NUMBER}\s*(?:-|to)\s*{_NUMBER}\s*\)?")
_ALONE = re.compile(_NUMBER)
_WORDS = {"all": Decimal(1), "none": Decimal(0), "nothing": Decimal(0), "half": Decimal("0.5")}
_EXAMPLE = "70 or 60 to 80"


def parse_share(text: str, *, field: str, basis: Basis = Basis.BY_EYE) -> Share:
    """Read a share in percent with its range; without one it is taken as 10 points either side.

    Raises InputError naming `field`, for what is not a share, is over 100, or whose value lies
    outside of its own range.
    """
    plain = _ABOUT.sub("", _plain(text))
    if not plain:
        raise _refusal(field, "no share was typed")
    value, low, high = _ends(plain, text, field)
    if max(value, low, high) > 1:
        raise _refusal(field, "a share is 0 to 100")
    if low > high:
        raise _refusal(field, "the range ends below its start")
    if not low <= value <= high:
        raise _refusal(field, f"{value * 100:f} lies outside its own range")
    return Share(value=value, low=low, high=high, basis=basis)


def _ends(plain: str, text: str, field: str) -> tuple[Decimal, Decimal, Decimal]:
    """Return value, low and high, 0 to 1 or above where too much was typed."""
    if plain in _WORDS:
        return _given_or_taken(_WORDS[plain], EYE_IS_OFF_BY if plain == "half" else Decimal(0))
    if found := _WITH_RANGE.fullmatch(plain):
        return _part(found[1]), _part(found[2]), _part(found[3])
    if found := _RANGE.fullmatch(plain):
        low, high = _part(found[1]), _part(found[2])
        return (low + high) / 2, low, high
    if found := _AROUND.fullmatch(plain):
        return _given_or_taken(_part(found[1]), _part(found[2]))
    if found := _ALONE.fullmatch(plain):
        return _given_or_taken(_part(found[1]), EYE_IS_OFF_BY)
    raise _refusal(field, f"“{text.strip()[:40]}” cannot be read as a share")


def _given_or_taken(value: Decimal, off: Decimal) -> tuple[Decimal, Decimal, Decimal]:
    if value > 1:
        return value, value, value
    return value, max(Decimal(0), value - off), min(Decimal(1), value + off)


def _plain(text: str) -> str:
    """Lower case, one kind of dash, no percent signs."""
    one = unicodedata.normalize("NFKC", text).casefold()
    for dash in "\N{EN DASH}\N{EM DASH}\N{MINUS SIGN}\N{HYPHEN}":
        one = one.replace(dash, "-")
    return " ".join(one.replace("%", " ").replace("percent", " ").split())


def _part(number: str) -> Decimal:
    return Decimal(number.replace(",", ".")) / 100


def _refusal(field: str, reason: str) -> InputError:
    return InputError(f"{field}: {reason}.", remedy=f"Try {_EXAMPLE}.", subject=field)
