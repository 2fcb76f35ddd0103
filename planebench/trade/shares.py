"""How much of a surface is still there: the share, the interval it lies in, and how it is known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from planebench.trade.terms import BASIS_WORDS, SOLID_BASES, Basis

_STRENGTH = (Basis.MEASURED, Basis.COUNTED, Basis.READ_OFF, Basis.BY_EYE, Basis.TOLD)
_PERCENT = Decimal("0.01")


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Part of an area, 0 to 1, inside the interval it surely lies in (90% where measured)."""

    value: Decimal
    low: Decimal
    high: Decimal
    basis: Basis

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.value <= self.high <= 1:
            raise ValueError(f"share out of order: {self.low}, {self.value}, {self.high}")

    @property
    def is_approximate(self) -> bool:
        """Return whether the share needs an "about": by eye, or told by someone."""
        return self.basis not in SOLID_BASES

    @property
    def rest(self) -> Share:
        """What is not in the share: the lost share of a kept one, with the interval turned over."""
        return Share(value=1 - self.value, low=1 - self.high, high=1 - self.low, basis=self.basis)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredPatch:
    """A share read on one photograph for the stretch of surface named `place`.

    `area_mm2` is the true area read, above 0. Patches of the same place show the same area, under
    another light or from another side; patches of different places do not overlap.
    """

    place: str
    share: Share
    area_mm2: Decimal

    def __post_init__(self) -> None:
        if self.area_mm2 <= 0:
            raise ValueError(f"a patch has an area above 0, not {self.area_mm2}")


def format_share(share: Share) -> str:
    """Return a share in words: "97% (95 to 99) measured", "about 70% (60 to 80) by eye"."""
    about = "about " if share.is_approximate else ""
    return f"{about}{format_percent(share)} {format_interval(share)} {BASIS_WORDS[share.basis]}"


def format_percent(share: Share) -> str:
    """Return the share alone, in whole percent; only all is 100% and only nothing is 0%."""
    percent = share.value.quantize(_PERCENT, rounding=ROUND_HALF_UP)
    if percent == 1 and share.value < 1:
        return "over 99%"
    if percent == 0 and share.value > 0:
        return "under 1%"
    return f"{_whole(percent)}%"


def format_interval(share: Share) -> str:
    """Return the interval in whole percent, rounded outward, in brackets: "(95 to 99)"."""
    low = share.low.quantize(_PERCENT, rounding=ROUND_FLOOR)
    high = share.high.quantize(_PERCENT, rounding=ROUND_CEILING)
    return f"({_whole(low)} to {_whole(high)})" if low != high else f"({_whole(low)})"


def combine(patches: Sequence[MeasuredPatch]) -> Share:
    """Take one share over several photographs, each place counted once and weighted by true area.

    The interval's ends are weighted alike: photographs of one plane by one camera err together, so
    nothing is gained by averaging. The basis is the weakest among them. Raises ValueError for none.
    """
    if not patches:
        raise ValueError("no patch to combine")
    counted = surest(patches)
    value = _mean([patch.share.value for patch in counted], counted)
    return Share(
        value=value,
        low=min(value, _mean([patch.share.low for patch in counted], counted)),
        high=max(value, _mean([patch.share.high for patch in counted], counted)),
        basis=max((patch.share.basis for patch in counted), key=_STRENGTH.index),
    )


def surest(patches: Sequence[MeasuredPatch]) -> tuple[MeasuredPatch, ...]:
    """Choose one patch for each place: the one with the narrowest interval, the first of equals."""
    chosen: dict[str, MeasuredPatch] = {}
    for patch in patches:
        known = chosen.get(patch.place)
        if known is None or _width(patch) < _width(known):
            chosen[patch.place] = patch
    return tuple(chosen.values())


def _width(patch: MeasuredPatch) -> Decimal:
    return patch.share.high - patch.share.low


def _mean(ends: Sequence[Decimal], patches: Sequence[MeasuredPatch]) -> Decimal:
    """Weight by area; held to 0 to 1, for the last digit of a quotient can step over the edge."""
    area = sum((patch.area_mm2 for patch in patches), Decimal(0))
    pairs = zip(ends, patches, strict=True)
    total = sum((end * patch.area_mm2 for end, patch in pairs), Decimal(0))
    return min(max(total / area, Decimal(0)), Decimal(1))


def _whole(share: Decimal) -> str:
    return f"{share * 100:.0f}"
