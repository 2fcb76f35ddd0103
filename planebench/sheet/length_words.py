"""Lengths in words with the fineness of what was measured, and the ± in the same unit."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from planebench.trade.units import MM_PER_INCH, format_inches, format_millimeters

_INCH = Decimal(MM_PER_INCH.numerator) / Decimal(MM_PER_INCH.denominator)
FINE_BELOW_MM = _INCH / 8
"""Below 1/8 in a 64th is too coarse: the length is written in thousandths of an inch."""

_THOUSANDTH = Decimal("0.001")
_HUNDREDTH_MM = Decimal("0.01")
_STEPS = (64, 32, 16, 8)


def inches_words(mm: Decimal, *, fine: bool = False) -> str:
    """Return a length in inches: 64ths from 1/8 in up, thousandths below it or if `fine`."""
    if (mm >= FINE_BELOW_MM and not fine) or mm == 0:
        return format_inches(mm)
    thousandths = (mm / _INCH).quantize(_THOUSANDTH, rounding=ROUND_HALF_UP)
    return f"{thousandths} in" if thousandths else "under 0.001 in"


def millimeters_words(mm: Decimal) -> str:
    """Return a length in millimeters: tenths from 10 mm up, hundredths below."""
    return format_millimeters(mm)


def inches_margin(mm: Decimal, margin: Decimal | None) -> str:
    """Return " ±0.008" or " ±1/32", in the steps of the length before it and never too small."""
    if margin is None or margin == 0:
        return ""
    inches = margin / _INCH
    if mm < FINE_BELOW_MM:
        return f" ±{inches.quantize(_THOUSANDTH, rounding=ROUND_CEILING)}"
    steps = int((inches * _STEPS[0]).to_integral_value(rounding=ROUND_CEILING))
    return f" ±{format_inches(Decimal(steps) * _INCH / _STEPS[0]).removesuffix(' in')}"


def millimeters_margin(margin: Decimal | None) -> str:
    """Return " ±0.5", rounded up to hundredths, or nothing where none was recorded."""
    if margin is None or margin == 0:
        return ""
    shown = margin.quantize(_HUNDREDTH_MM, rounding=ROUND_CEILING).normalize()
    return f" ±{shown:f}"
