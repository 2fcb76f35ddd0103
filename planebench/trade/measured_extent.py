"""What a measured share was read on, and what of its surface it tells nothing of."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from planebench.trade.counted_areas import CountedAreas, MeasuredArea
from planebench.trade.wording import join_words

_Area = TypeVar("_Area", bound=MeasuredArea)


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceViews:
    """The codes of the views that show a surface, and the views photographed at one stage.

    `expected` is empty where nothing tells which views show it; `of_photographs` are the views of
    the photographs that count. `hidden` says in words what no usual view shows whole.
    """

    expected: Sequence[str]
    of_photographs: Sequence[str]
    taken: Sequence[str]
    hidden: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredExtent:
    """The views that a share was read on, by name, and those that show more of the surface.

    `views` are whole views; `unnamed` counts photographs without a view, `close_ups` those that
    stand in for whole views, `left_out` close-ups that are not in the share. `not_measured` were
    photographed, `not_photographed` were not. `hidden` is what no usual view shows whole. `known`
    is False where nothing tells which views show the surface, so the rest is not known.
    """

    views: tuple[str, ...]
    unnamed: int = 0
    close_ups: int = 0
    left_out: int = 0
    not_measured: tuple[str, ...] = ()
    not_photographed: tuple[str, ...] = ()
    hidden: str = ""
    known: bool = True


def extent_of(
    counted: CountedAreas[_Area], of: SurfaceViews, name: Callable[[str], str]
) -> MeasuredExtent | None:
    """Return what the counted areas cover of a surface; None where none counts.

    `name` gives the words for a view's code.
    """
    if not counted.areas:
        return None
    on = list(of.of_photographs)
    missing = [view for view in of.expected if view not in on]
    taken, untaken = _divided(missing, of.taken)
    return MeasuredExtent(
        views=() if counted.close_up else _names(on, of.expected, name),
        unnamed=on.count(""),
        close_ups=len(on) if counted.close_up else 0,
        left_out=len({one.photograph for one in counted.left_out}),
        not_measured=tuple(map(name, taken)),
        not_photographed=tuple(map(name, untaken)),
        hidden=of.hidden,
        known=bool(of.expected),
    )


def format_extent(extent: MeasuredExtent) -> str:
    """Return it as a sentence: "Measured on the top view; not photographed: back."."""
    parts = [f"Measured on {_measured_on(extent)}", *_rest(extent)]
    if extent.left_out:
        close = "a close-up" if extent.left_out == 1 else f"{extent.left_out} close-ups"
        parts.append(f"not counted: {close}, which may show the same places again")
    return f"{'; '.join(parts)}."


def _measured_on(extent: MeasuredExtent) -> str:
    parts = []
    if extent.views:
        word = "view" if len(extent.views) == 1 else "views"
        parts.append(f"the {join_words(extent.views)} {word}")
    if extent.close_ups:
        parts.append(
            "a close-up only" if extent.close_ups == 1 else f"{extent.close_ups} close-ups"
        )
    if extent.unnamed:
        several = f"{extent.unnamed} photographs whose views are not named"
        parts.append("a photograph whose view is not named" if extent.unnamed == 1 else several)
    return " and ".join(parts)


def _rest(extent: MeasuredExtent) -> Iterator[str]:
    """Yield what else there is of the surface, as far as that is known."""
    if not extent.known:
        yield "what other views show of it is not known"
        return
    if extent.not_measured:
        yield f"not measured: {join_words(extent.not_measured)}"
    if extent.not_photographed:
        yield f"not photographed: {join_words(extent.not_photographed)}"
    if extent.hidden:
        yield f"not seen whole on any view: {extent.hidden}"


def _divided(views: Sequence[str], among: Sequence[str]) -> tuple[list[str], list[str]]:
    """Return the views that are among others, and those that are not."""
    return [v for v in views if v in among], [v for v in views if v not in among]


def _names(
    views: Sequence[str], expected: Sequence[str], name: Callable[[str], str]
) -> tuple[str, ...]:
    """Return the names of views, those expected first and in their order."""
    others = [view for view in views if view and view not in expected]
    ordered = dict.fromkeys([*(view for view in expected if view in views), *others])
    return tuple(name(view) for view in ordered)
