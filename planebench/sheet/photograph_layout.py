"""How large each photograph is printed, so that the first page is filled and nothing is cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planebench.sheet.content import Paper

POINTS_PER_INCH = 72.0
POINTS_PER_MM = 72 / 25.4

GAP = 12.0
CAPTION = 15.0
"""Points that a caption of one line takes under a photograph."""

_TALLEST_MAIN = 240.0
_TALLEST_TIGHT = 170.0
"""Points. Higher and the defects no longer fit below on the first page."""

_ACROSS = 3
_TALLEST_FURTHER = 150.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PageSize:
    """A page and its margin, in points of 1/72 inch."""

    width: float
    height: float
    margin: float

    @property
    def text_width(self) -> float:
        """The width between the margins; the rule along the top is as long."""
        return self.width - 2 * self.margin


PAGES: dict[Paper, PageSize] = {
    # ANSI/ASME Y14.1: size A is 8.5 x 11 in. The margin leaves a rule of 7 1/2 in.
    Paper.LETTER: PageSize(width=612.0, height=792.0, margin=36.0),
    # ISO 216: A4 is 210 x 297 mm. The margin leaves a rule of 18.5 cm.
    Paper.A4: PageSize(
        width=210 * POINTS_PER_MM, height=297 * POINTS_PER_MM, margin=12.5 * POINTS_PER_MM
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographLayout:
    """Sizes (width, height) in points; `beside` puts the others in a column beside the first."""

    beside: bool
    sizes: tuple[tuple[float, float], ...]


def lay_out_first_page(
    aspects: Sequence[float], width: float, *, tight: bool = False
) -> PhotographLayout:
    """Return the sizes of up to three photographs; `aspects` are widths over heights.

    The others stand in a column at the right of the first. The block is as wide as the page,
    unless a photograph would grow too tall; `tight` makes all smaller.
    """
    if not aspects:
        return PhotographLayout(beside=False, sizes=())
    main, *others = aspects
    if not others:
        tallest = _TALLEST_TIGHT if tight else _TALLEST_MAIN
        return PhotographLayout(beside=False, sizes=(_within(main, width, tallest),))
    return _column(main, others, width, _TALLEST_TIGHT if tight else _TALLEST_MAIN)


def size_further(aspects: Sequence[float], width: float) -> tuple[tuple[float, float], ...]:
    """Return the sizes of the photographs at the end, three across, in points."""
    cell = (width - (_ACROSS - 1) * GAP) / _ACROSS
    return tuple(_within(aspect, cell, _TALLEST_FURTHER) for aspect in aspects)


def _column(main: float, others: Sequence[float], width: float, tallest: float) -> PhotographLayout:
    """Return a layout whose column ends level with the first photograph."""
    captions = CAPTION * (len(others) - 1)
    flat = 1 / main + sum(1 / aspect for aspect in others)
    column = ((width - GAP) / main - captions) / flat
    height = (width - GAP - column) / main
    if height > tallest:
        height = tallest
        column = (height - captions) / sum(1 / aspect for aspect in others)
    sizes = ((height * main, height), *((column, column / aspect) for aspect in others))
    return PhotographLayout(beside=True, sizes=sizes)


def _within(aspect: float, width: float, height: float) -> tuple[float, float]:
    shown = min(width, height * aspect)
    return (shown, shown / aspect)
