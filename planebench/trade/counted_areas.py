"""Takes one share from the areas read on several photographs, each place counted once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Generic, Protocol, TypeVar

from planebench.trade.shares import MeasuredPatch, Share, combine
from planebench.trade.terms import Basis

_KEPT_PLACES = Decimal("0.0001")
"""Shares are kept to a hundredth of a percent: finer than any reading is sure, so nothing is lost
in rounding, and short enough to compare as text."""


class MeasuredArea(Protocol):
    """What one outline on one photograph adds to a reading; `share` has value, low and high."""

    @property
    def photograph(self) -> str:
        """The id of the photograph."""

    @property
    def kept_px(self) -> int:
        """Pixels judged kept."""

    @property
    def lost_px(self) -> int:
        """Pixels judged lost."""

    @property
    def cannot_tell_px(self) -> int:
        """Pixels that could not be judged."""

    @property
    def area_mm2(self) -> Decimal | None:
        """The true area, None where the photograph has no scale."""

    @property
    def share(self) -> Mapping[str, object]:
        """The share read in it, as recorded."""


_Area = TypeVar("_Area", bound=MeasuredArea)
_Area_contra = TypeVar("_Area_contra", bound=MeasuredArea, contravariant=True)


class AreaGeometry(Protocol[_Area_contra]):
    """Where outlines lie on their photographs, as far as counting each place once needs it."""

    def left_edge_distance(self, area: _Area_contra) -> float:
        """Return how far from the left an outline lies, in pixels; 0 where it is gone."""

    def is_same_place(self, one: _Area_contra, other: _Area_contra) -> bool:
        """Return whether two outlines on one photograph go around much of the same area."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedAreas(Generic[_Area]):
    """The areas that count toward a share over all photographs, each with the view it is seen on.

    `close_up` is True when they are on close-ups because there is no whole view; `left_out` are
    close-ups beside whole views, which may show the same places a second time. `by_area` is True
    when all true areas are known and weigh; else pixels do.
    """

    areas: tuple[tuple[str, _Area], ...]
    close_up: bool
    left_out: tuple[_Area, ...]
    by_area: bool

    @property
    def photographs(self) -> tuple[str, ...]:
        """The photographs that count, each once."""
        return tuple(dict.fromkeys(area.photograph for _, area in self.areas))


def exact_share(share: float, low: float, high: float) -> Share:
    """Return a measured share, 0 to 1, to four places; an interval that ends short is extended."""
    value = _exact(share)
    return Share(
        value=value,
        low=min(value, _exact(low)),
        high=max(value, _exact(high)),
        basis=Basis.MEASURED,
    )


def share_in(area: MeasuredArea) -> Share | None:
    """Return the share read in one outline; None where it was not recorded."""
    try:
        value, low, high = (Decimal(str(area.share[name])) for name in ("value", "low", "high"))
    except (KeyError, ArithmeticError):
        return None
    return Share(value=value, low=low, high=high, basis=Basis.MEASURED)


def count_areas(
    areas: Sequence[_Area], views: Mapping[str, str], is_close_up: Callable[[str], bool]
) -> CountedAreas[_Area]:
    """Choose which areas of a surface count, and name the view that each is seen on.

    `views` gives the view of each photograph of the tool, "" where it is not named; `is_close_up`
    tells views that show a stretch of the surface that a whole view may show again. Photographs
    of one view show the same; each photograph without a view shows its own.
    """
    known = _read_on(areas, views)
    close = [one for one in known if is_close_up(views[one.photograph])]
    whole = [one for one in known if one not in close]
    counting = whole or close
    return CountedAreas(
        areas=_seen_on(counting, views if whole else {}),
        close_up=not whole,
        left_out=tuple(close) if whole else (),
        by_area=_have_areas(counting),
    )


def share_over_all(counted: CountedAreas[_Area], geometry: AreaGeometry[_Area]) -> Share | None:
    """Return the share over all counted areas, each place once; None where none weighs anything."""
    patches = [
        MeasuredPatch(place=place, share=share, area_mm2=weight)
        for place, one in _places(counted, geometry)
        if (share := share_in(one)) is not None
        and (weight := _weight(one, by_area=counted.by_area)) > 0
    ]
    if not patches:
        return None
    over = combine(patches)
    return exact_share(float(over.value), float(over.low), float(over.high))


def format_method(counted: CountedAreas[_Area], strokes: int) -> str:
    """Return how a share was read: "2 outlines on one photograph, weighted by area in mm²; ..."."""
    with_strokes = {0: "no stroke", 1: "1 stroke"}.get(strokes, f"{strokes} strokes")
    outlines = len(counted.areas)
    if outlines <= 1:
        return f"outlined on one photograph, judged with {with_strokes}"
    photographs = len(counted.photographs)
    on = "one photograph" if photographs == 1 else f"{photographs} photographs"
    weighted = format_weighting(counted)
    return f"{outlines} outlines on {on}, {weighted}; the last judged with {with_strokes}"


def format_weighting(counted: CountedAreas[_Area]) -> str:
    """Return what the areas are weighted by, in words."""
    if counted.by_area:
        return "weighted by area in mm²"
    return "weighted by pixels, because not every photograph has a scale"


def _read_on(areas: Sequence[_Area], views: Mapping[str, str]) -> list[_Area]:
    """Return the areas on photographs of the tool whose share was recorded."""
    return [one for one in areas if one.photograph in views and share_in(one) is not None]


def _seen_on(areas: Sequence[_Area], views: Mapping[str, str]) -> tuple[tuple[str, _Area], ...]:
    return tuple((views.get(one.photograph) or one.photograph, one) for one in areas)


def _have_areas(areas: Sequence[_Area]) -> bool:
    return all(one.area_mm2 for one in areas)


def _places(
    counted: CountedAreas[_Area], geometry: AreaGeometry[_Area]
) -> Iterator[tuple[str, _Area]]:
    """Yield the place of each area, numbered from the left on each photograph.

    An outline drawn over another goes around the same place; so do those of photographs of one
    view that have the same number.
    """
    for photograph in counted.photographs:
        here = [pair for pair in counted.areas if pair[1].photograph == photograph]
        numbered: list[tuple[int, _Area]] = []
        for view, one in sorted(here, key=lambda pair: geometry.left_edge_distance(pair[1])):
            drawn_over = (n for n, other in numbered if geometry.is_same_place(one, other))
            number = next(drawn_over, len(numbered) + 1)
            numbered.append((number, one))
            yield f"{view} {number}", one


def _weight(area: MeasuredArea, *, by_area: bool) -> Decimal:
    """Return what an area counts for: its mm² where all have them, else its pixels."""
    if by_area and area.area_mm2:
        return area.area_mm2
    return Decimal(area.kept_px + area.lost_px + area.cannot_tell_px)


def _exact(value: float) -> Decimal:
    exact = Decimal(str(min(1.0, max(0.0, value))))
    return exact.quantize(_KEPT_PLACES, rounding=ROUND_HALF_UP)
