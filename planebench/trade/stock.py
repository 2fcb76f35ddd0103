"""Stock numbers by the pattern a person sets."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import count

from planebench.errors import InputError

FIRST_PATTERN = "{batch}-{n:03}"
_HOLE = re.compile(r"\{(batch|n(?::0?[1-9])?)\}")
_COUNTED = re.compile(r"(.*?)(\d{1,6})")
_SIMPLE = re.compile(r"(\{batch\})?([^{}]*)\{n(?::0([1-9]))?\}")
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


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPattern:
    """A simple pattern in parts: the batch's code or not, a text, and a number.

    `digits` is the least number of digits, padded with zeros; 1 means no padding.
    """

    with_batch: bool
    text: str
    digits: int

    @property
    def pattern(self) -> str:
        """The pattern as it is stored: "{batch}-{n:03}"."""
        number = "{n}" if self.digits <= 1 else f"{{n:0{self.digits}}}"
        return f"{'{batch}' * self.with_batch}{self.text}{number}"


def split_pattern(pattern: str) -> StockPattern | None:
    """Return a pattern in parts; None for one of another form, such as "{n}/{batch}"."""
    match = _SIMPLE.fullmatch(pattern)
    if match is None:
        return None
    return StockPattern(with_batch=bool(match[1]), text=match[2], digits=int(match[3] or 1))


def stock_numbers(
    pattern: str, batch: str, taken: Collection[str], *, start: int = 1
) -> Iterator[str]:
    """Return free stock numbers of a batch from `start` on, in order, without end.

    Upper and lower case are alike.
    """
    check_pattern(pattern)
    used = {number.casefold() for number in taken}
    for n in count(start):
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
    """Return a code for a new batch: the newest one's letters with the next number, else LOT1."""
    numbered = [match for code in taken if (match := _COUNTED.fullmatch(code)) is not None]
    if not numbered:
        return "LOT1"
    newest = max(numbered, key=lambda match: int(match[2]))
    return f"{newest[1]}{int(newest[2]) + 1:0{len(newest[2])}}"
