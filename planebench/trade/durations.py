"""Time spent at the bench, typed as people write it: 45, 1 h 30, 1:30, 1.5 h, 2 hours."""

from __future__ import annotations

import re
import unicodedata
from decimal import ROUND_HALF_UP, Decimal

from planebench.errors import InputError

LONGEST = 1000 * 60
"""A thousand hours; a longer entry is a slip of the finger."""

_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)")
_HOURS = re.compile(
    r"(\d{1,4}(?:\.\d{1,2})?)\s*(?:h|hrs?|hours?)\.?"
    r"(?:\s*(?:and\s*)?(\d{1,2})\s*(?:m|mins?|minutes?)?\.?)?"
)
_MINUTES = re.compile(r"(\d{1,5})\s*(?:m|mins?|minutes?)?\.?")
_PER_HOUR = 60


def read_minutes(text: str, *, field: str) -> int:
    """Read a time spent, in minutes, 0 to 60,000; a bare number is minutes.

    Raises InputError naming `field` and a value that would do.
    """
    plain = " ".join(unicodedata.normalize("NFKC", text).casefold().replace(",", ".").split())
    minutes = _minutes(plain)
    if minutes is None or minutes > LONGEST:
        reason = "is no time at a bench" if minutes else "cannot be read as a time spent"
        raise InputError(
            f"{field}: “{text.strip()[:40]}” {reason}.",
            remedy="Try 45 min or 1 h 30.",
            subject=field,
        )
    return minutes


def say_minutes(minutes: int) -> str:
    """Tell a time spent: "3 h 40 min", "45 min", "2 h"."""
    hours, rest = divmod(minutes, _PER_HOUR)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def _minutes(plain: str) -> int | None:
    if found := _CLOCK.fullmatch(plain):
        return int(found[1]) * _PER_HOUR + int(found[2])
    if found := _HOURS.fullmatch(plain):
        whole = (Decimal(found[1]) * _PER_HOUR).to_integral_value(ROUND_HALF_UP)
        return int(whole) + int(found[2] or 0)
    if found := _MINUTES.fullmatch(plain):
        return int(found[1])
    return None
