"""Sizes of defects, recorded as text, written in both units with the fineness they deserve."""

from __future__ import annotations

import re
from decimal import Decimal

from planebench.sheet.length_words import FINE_BELOW_MM, inches_words, millimeters_words
from planebench.trade.units import MM_PER_INCH, LengthUnit

_NUMBER = r"\d+(?:[.,]\d+)?"
_SIZE = re.compile(
    rf"(?P<about>about\s+|ca\.?\s+)?(?P<a>{_NUMBER})"
    rf"(?:\s*(?:x|×|by)\s*(?P<b>{_NUMBER}))?\s*(?P<unit>mm|in|\"|cm)",
    re.IGNORECASE,
)
_PER_UNIT = {"mm": Decimal(1), "cm": Decimal(10)}
_INCH = Decimal(MM_PER_INCH.numerator) / Decimal(MM_PER_INCH.denominator)


def format_size(text: str, first: LengthUnit) -> tuple[str, ...]:
    """Return a size such as "1.7 x 1.6 mm" in both units, `first` first: one line each.

    Text that is no plain length, such as "18% of the face", comes back as it was typed, with a
    multiplication sign for an x between numbers. Empty text gives no line.
    """
    plain = text.strip()
    if not plain:
        return ()
    found = _SIZE.fullmatch(plain)
    if found is None:
        return (re.sub(r"(?<=\d)\s*[xX]\s*(?=\d)", " × ", plain),)
    inches, metric = _both_units(found)
    return (inches, metric) if first is LengthUnit.INCH else (metric, inches)


def _both_units(found: re.Match[str]) -> tuple[str, str]:
    unit = _PER_UNIT.get(found["unit"].lower(), _INCH)
    lengths = [Decimal(n.replace(",", ".")) * unit for n in (found["a"], found["b"]) if n]
    about = "about " if found["about"] else ""
    # One size is written in one fineness: a 64th beside a thousandth would look like a slip.
    fine = min(lengths) < FINE_BELOW_MM
    inches = _joined([inches_words(mm, fine=fine).removesuffix(" in") for mm in lengths], "in")
    metric = _joined([millimeters_words(mm).removesuffix(" mm") for mm in lengths], "mm")
    return about + inches, about + metric


def _joined(numbers: list[str], unit: str) -> str:
    return f"{' × '.join(numbers)} {unit}"
