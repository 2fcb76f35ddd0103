"""Stock numbers by the pattern a person sets."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from itertools import count

from planebench.errors import InputError

FIRST_PATTERN = "{batch}-{n:03}"
_HOLE = re.compile(r"\{(batch|n(?::0?[1-9])?)\}")
_COUNTED = re.compile(r"(.*?)(\d{1,6})")
_LONGEST = 60


def check_pattern(pattern: str) -> None:
    """Raise InputError unless a pattern counts: text with `{n}` or `{n:03}` and maybe `{batch}`."""
    holes = _HOLE.findall(pattern)
    rest = _HOLE.sub("", pattern)
    if not any(hole.startswith("n") for hole in holes) or "{" in rest or "}" in rest:
        raise InputError(
            f"“{pattern}” cannot be used as a stock number pattern.",
            remedy=f"Write {{n}} or {{n:03}} where the number goes, as in {FIRST_PATTERN}.",
            subject="stock number pattern",
        )


def stock_numbers(pattern: str, batch: str, taken: Collection[str]) -> Iterator[str]:
    """Return free stock numbers of a batch, in order, endlessly; upper and lower case are alike."""
    check_pattern(pattern)
    used = {number.casefold() for number in taken}
    for n in count(1):
        number = pattern.format(batch=batch, n=n)[:_LONGEST]
        if number.casefold() not in used:
            yield number


def clean_stock_number(text: str) -> str:
    """Return a typed stock number without stray spaces; raise InputError if empty or too long."""
    number = " ".join(text.split())
    if not number or len(number) > _LONGEST:
        raise InputError(
            "A stock number has 1 to 60 characters.",
            remedy="Type a shorter one, such as LOT7-003.",
            subject="stock number",
        )
    return number


def free_batch_code(taken: Collection[str]) -> str:
    """Return a code for a new batch's code: the newest one's letters with the next number, LOT1 at first."""
    numbered = [match for code in taken if (match := _COUNTED.fullmatch(code)) is not None]
    if not numbered:
        return "LOT1"
    newest = max(numbered, key=lambda match: int(match[2]))
    return f"{newest[1]}{int(newest[2]) + 1:0{len(newest[2])}}"
