"""Time spent at the bench, as people write it: 45, 1 h 30, 1:30, 2 hours, two and a half hours."""

from __future__ import annotations

import re
import unicodedata
from decimal import ROUND_HALF_UP, Decimal

from planebench.errors import InputError
from planebench.trade.wording import NUMBER_WORDS

LONGEST = 1000 * 60
"""A thousand hours; a longer entry is a slip of the finger."""

_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)")
_HOURS = re.compile(
    r"(\d{1,4}(?:\.\d{1,2})?)\s*(?:h|hrs?|hours?)\.?"
    r"(?:\s*(?:and\s*)?(\d{1,2})\s*(?:m|mins?|minutes?)?\.?)?"
)
_MINUTES = re.compile(r"(\d{1,5})\s*(?:m|mins?|minutes?)?\.?")
_PER_HOUR = 60
_COUNTED = {word: str(number) for number, word in enumerate(NUMBER_WORDS) if number}
_IN_WORDS = re.compile(rf"\b(?:{'|'.join(_COUNTED)})\b")
# Each is said with the hour's own word before or after: half an hour, an hour and a half.
_PARTS = (
    (re.compile(r"(\d+) and (?:a )?half hours?|(\d+) hours? and (?:a )?half"), 30),
    (re.compile(r"(\d+) and (?:a )?quarter hours?|(\d+) hours? and (?:a )?quarter"), 15),
)
_SAID = {"half hour": "30", "half 1 hour": "30", "quarter hour": "15", "quarter of 1 hour": "15"}


def parse_minutes(text: str, *, field: str) -> int:
    """Read a time spent, in minutes, 0 to 60,000; a bare number is minutes.

    Raises InputError naming `field` and a value that would do.
    """
    plain = " ".join(unicodedata.normalize("NFKC", text).casefold().replace(",", ".").split())
    minutes = _minutes(_in_figures(plain))
    if minutes is None or minutes > LONGEST:
        reason = "is longer than a thousand hours" if minutes else "cannot be read as a time"
        raise InputError(
            f"{field}: “{text.strip()[:40]}” {reason}.",
            remedy="Try 45 min or 1 h 30.",
            subject=field,
        )
    return minutes


def format_minutes(minutes: int) -> str:
    """Return a time spent: "3 h 40 min", "45 min", "2 h"."""
    hours, rest = divmod(minutes, _PER_HOUR)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def _in_figures(plain: str) -> str:
    """Turn numbers and parts of an hour said in words into figures: "2 h 30"."""
    counted = _IN_WORDS.sub(lambda found: _COUNTED[found[0]], plain)
    counted = re.sub(r"\ban? (?=hour|half hour|quarter)", "", counted).strip()
    counted = re.sub(r"(?<!\d )(?<!half )(?<!quarter )\bhour\b", "1 hour", counted)
    for pattern, minutes in _PARTS:
        if found := pattern.fullmatch(counted):
            return f"{found[1] or found[2]} h {minutes}"
    return _SAID.get(counted, counted)


def _minutes(plain: str) -> int | None:
    if found := _CLOCK.fullmatch(plain):
        return int(found[1]) * _PER_HOUR + int(found[2])
    if found := _HOURS.fullmatch(plain):
        whole = (Decimal(found[1]) * _PER_HOUR).to_integral_value(ROUND_HALF_UP)
        return int(whole) + int(found[2] or 0)
    if found := _MINUTES.fullmatch(plain):
        return int(found[1])
    return None
