"""Lengths as people write them: inches with fractions, feet, millimeters; printed the same way."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from math import floor

from planebench.errors import InputError

MM_PER_INCH = Fraction(127, 5)
"""Exactly 25.4 mm: the international inch of 1959 (NIST SP 811, appendix B)."""

LONGEST_MM = Fraction(10_000)
"""Ten meters. No bench tool is longer; a longer entry is a slip of the finger."""

_FINE = Fraction(1, 8)
_FINEST = 64
_THOUSANDTH = Fraction(1, 1000)
_LONGEST_TEXT = 60
_SHOWN = 40


class LengthUnit(Enum):
    """The unit a person reads lengths in."""

    MILLIMETER = "mm"
    INCH = "in"


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A length in millimeters, 0 to 10,000, and the words it was typed in."""

    mm: Decimal
    as_typed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Typed:
    """What stands in the field, and how to refuse it: which field, and a value that would do."""

    text: str
    field: str
    example: str

    def refuse(self, reason: str, example: str = "") -> InputError:
        return InputError(
            f"{self.field}: {reason}.", remedy=f"Try {example or self.example}.", subject=self.field
        )

    def unreadable(self) -> InputError:
        shown = self.text if len(self.text) <= _SHOWN else f"{self.text[:_SHOWN]}…"
        return self.refuse(f"“{shown}” cannot be read as a length")


_NUMBER = r"\d+\s*/\s*\d+|\d+(?:\s+|\s*-\s*)\d+\s*/\s*\d+|\d+[.,]\d*|[.,]\d+|\d+"
_FEET = r"feet|foot|ft\.?|'(?!')"
_UNIT = r"millimet(?:er|re)s?|mm\.?|centimet(?:er|re)s?|cm\.?|inch(?:es)?|in\.?|\"|''"
_PATTERN = re.compile(
    rf"(?:(?P<feet>{_NUMBER})\s*(?:{_FEET})\s*-?\s*)?(?:(?P<number>{_NUMBER})\s*(?P<unit>{_UNIT})?)?"
)
_MM_PER_UNIT = {"m": Fraction(1), "c": Fraction(10), "i": MM_PER_INCH}
_SINGLE = (
    "\N{PRIME}\N{MODIFIER LETTER PRIME}\N{LEFT SINGLE QUOTATION MARK}"
    "\N{RIGHT SINGLE QUOTATION MARK}\N{GRAVE ACCENT}\N{ACUTE ACCENT}"
)
_DOUBLE = (
    "\N{DOUBLE PRIME}\N{MODIFIER LETTER DOUBLE PRIME}\N{LEFT DOUBLE QUOTATION MARK}"
    "\N{RIGHT DOUBLE QUOTATION MARK}\N{DOUBLE LOW-9 QUOTATION MARK}"
)
_SLASH = "\N{FRACTION SLASH}\N{DIVISION SLASH}"
_DASH = "\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{EN DASH}\N{EM DASH}\N{MINUS SIGN}"
_ALIKE = {
    ord(sign): plain
    for plain, signs in (("'", _SINGLE), ('"', _DOUBLE), ("/", _SLASH), ("-", _DASH))
    for sign in signs
}
_BEFORE_RAISED = re.compile(r"(?<=\d)(?=[\u2070\u00b9\u00b2\u00b3\u2074-\u2079])")


def parse_length(text: str, *, field: str, default_unit: LengthUnit) -> Length:
    """Read one length as typed: 1 5/8", 1-5/8 in, 1½, 2' 3", 41 mm, 4,1 cm.

    `default_unit` holds where no unit is typed. Raises InputError naming `field` and a value that
    would do, for what is not a length, is ambiguous, negative, or longer than ten meters.
    """
    example = "1 5/8" if default_unit is LengthUnit.INCH else "41"
    typed = _Typed(text=text.strip(), field=field, example=example)
    if not typed.text:
        raise typed.refuse("no length was typed")
    if len(typed.text) > _LONGEST_TEXT:
        raise typed.unreadable()
    plain = _plain(typed.text)
    if plain.startswith("-"):
        raise typed.refuse("a length cannot be negative", plain.lstrip("- ") or example)
    found = _PATTERN.fullmatch(plain)
    if found is None:
        raise typed.unreadable()
    mm = _millimeters(found, typed, default_unit)
    if mm > LONGEST_MM:
        raise typed.refuse("no bench tool is longer than ten meters")
    return Length(mm=Decimal(mm.numerator) / Decimal(mm.denominator), as_typed=typed.text)


def format_length(mm: Decimal, unit: LengthUnit, *, denominator: int = 64) -> str:
    """Write a length in the reader's unit with the other in brackets: 9 11/32 in (237.3 mm)."""
    inches, metric = format_inches(mm, denominator=denominator), format_millimeters(mm)
    return f"{inches} ({metric})" if unit is LengthUnit.INCH else f"{metric} ({inches})"


def format_inches(mm: Decimal, *, denominator: int = 64) -> str:
    """Return the nearest fraction of an inch, reduced, halves upward: 9 11/32 in.

    Under 1/8 in, a length that no fraction meets within half a thousandth is written in
    thousandths, as a feeler gauge or caliper reads it: a mouth of 1 mm is 0.039 in, not 3/64.
    Not so with a coarser `denominator`, which says that the instrument is no finer. `mm` is not
    negative; what rounds to zero is written as less than the finest graduation, for a length that
    exists must not read as zero.
    """
    inches = Fraction(mm) / MM_PER_INCH
    steps = floor(inches * denominator + Fraction(1, 2))
    if denominator >= _FINEST and _wants_thousandths(inches, Fraction(steps, denominator)):
        return _format_thousandths(inches)
    if steps == 0 and mm > 0:
        return f"under 1/{denominator} in"
    whole, rest = divmod(steps, denominator)
    if rest == 0:
        return f"{whole} in"
    part = Fraction(rest, denominator)
    return f"{whole} {part} in" if whole else f"{part} in"


def _wants_thousandths(inches: Fraction, nearest: Fraction) -> bool:
    return 0 < inches < _FINE and abs(nearest - inches) > _THOUSANDTH / 2


def _format_thousandths(inches: Fraction) -> str:
    steps = floor(inches * 1000 + Fraction(1, 2))
    return f"{Decimal(steps).scaleb(-3):.3f} in"


def format_millimeters(mm: Decimal) -> str:
    """Write tenths from 10 mm up and hundredths below, halves upward, no idle zeros: 237.3 mm."""
    places = 1 if mm >= 10 else 2  # noqa: PLR2004 - stated in the docstring
    scaled = floor(Fraction(mm) * 10**places + Fraction(1, 2))
    if scaled == 0 and mm > 0:
        return "under 0.01 mm"
    digits = f"{Decimal(scaled).scaleb(-places):f}"
    return f"{digits.rstrip('0').rstrip('.') if '.' in digits else digits} mm"


def _plain(text: str) -> str:
    """Turn what looks alike into one form: vulgar fractions, primes, dashes, odd spaces, case."""
    apart = "".join(_spread(sign) for sign in _BEFORE_RAISED.sub(" ", text))
    return " ".join(unicodedata.normalize("NFKC", apart).translate(_ALIKE).lower().split())


def _spread(sign: str) -> str:
    """Set a fraction that is one sign apart from the number before it; leave all else alone."""
    return f" {sign} " if unicodedata.decomposition(sign).startswith("<fraction>") else sign


def _millimeters(found: re.Match[str], typed: _Typed, default_unit: LengthUnit) -> Fraction:
    feet, number, unit = found["feet"], found["number"], found["unit"]
    if feet is None:
        if number is None:
            raise typed.unreadable()
        return _number(number, typed) * _MM_PER_UNIT[_letter(unit, default_unit)]
    inches = Fraction(0) if number is None else _number(number, typed)
    if _letter(unit, LengthUnit.INCH) != "i":
        raise typed.refuse("feet go with inches, not with millimeters", "2' 3\"")
    if number is not None and inches >= 12:  # noqa: PLR2004 - inches in a foot
        raise typed.refuse("after feet, inches go up to 11", "2' 3\"")
    return (_number(feet, typed) * 12 + inches) * MM_PER_INCH


def _letter(unit: str | None, default_unit: LengthUnit) -> str:
    """Return the first letter of the unit typed, or of the one that holds where none is typed."""
    return (unit or default_unit.value)[0].replace('"', "i").replace("'", "i")


def _number(number: str, typed: _Typed) -> Fraction:
    if "/" not in number:
        return _decimal(number, typed)
    mixed, _, below = number.rpartition("/")
    *whole, above = re.split(r"[\s-]+", mixed.strip())
    numerator, denominator = int(above), int(below)
    before = int(whole[0]) if whole else 0
    if denominator == 0:
        raise typed.refuse("the fraction divides by 0", _in_eighths(numerator, whole))
    part = Fraction(numerator, denominator)
    if whole and part >= 1:
        up, rest = divmod(part, 1)
        example = f"{before + up} {rest}" if rest else f"{before + up}"
        raise typed.refuse("the fraction after a whole number must be less than 1", example)
    return before + part


def _in_eighths(numerator: int, whole: Sequence[str]) -> str:
    """Offer eighths, the commonest graduation, for a fraction of nothing."""
    eighths = 8
    likely = Fraction(numerator if 0 < numerator < eighths else 5, eighths)
    return " ".join((*whole, str(likely)))


def _decimal(number: str, typed: _Typed) -> Fraction:
    """Read a decimal point or comma; refuse the comma that could part thousands: 1,625."""
    before, comma, after = number.partition(",")
    if comma and len(after) == 3 and before not in {"", "0"}:  # noqa: PLR2004 - a group of thousands
        reason = f"“{number}” could be {before}.{after} or {before}{after}"
        raise typed.refuse(reason, f"{before}.{after}")
    return Fraction(f"0{number.replace(',', '.')}".rstrip("."))
