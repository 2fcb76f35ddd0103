"""What a measured share was read on, and what of its surface it tells nothing of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from planebench.catalog.ids import SurfaceId
from planebench.catalog.measuring import count_areas, surface_known
from planebench.catalog.reference import Kind, name_of
from planebench.catalog.values import ReadingArea, Tool
from planebench.trade.terms import Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredExtent:
    """The views that a share was read on, in words, and those that show more of the surface.

    `views` names whole views; `unnamed` counts photographs without a view, `close_ups` those that
    stand in for whole views, `left_out` close-ups that are not in the share. `not_measured` were
    photographed, `not_photographed` were not. `hidden` is what no usual view shows whole. `known`
    False: nothing tells which views show the surface, so the rest is not known.
    """

    views: tuple[str, ...]
    unnamed: int = 0
    close_ups: int = 0
    left_out: int = 0
    not_measured: tuple[str, ...] = ()
    not_photographed: tuple[str, ...] = ()
    hidden: str = ""
    known: bool = True


def measured_extent(
    tool: Tool, kind: Kind | None, areas: Sequence[ReadingArea], of: tuple[SurfaceId, Stage]
) -> MeasuredExtent | None:
    """Say what the areas of a reading cover of a surface at a stage; None where none is told."""
    surface, stage = of
    counted = count_areas(tool, kind, surface, areas)
    if not counted.areas:
        return None
    known = surface_known(tool, kind, surface)
    on = [one.view for one in tool.photographs if one.id in counted.photographs]
    taken = _views_at(tool, stage)
    return MeasuredExtent(
        views=() if counted.close_up else _names(on, known.views),
        unnamed=on.count(""),
        close_ups=len(on) if counted.close_up else 0,
        left_out=len({one.photograph for one in counted.left_out}),
        not_measured=_missing(known.views, on, among=taken),
        not_photographed=_missing(known.views, taken + on),
        hidden=known.hidden,
        known=bool(known.views),
    )


def format_extent(said: MeasuredExtent) -> str:
    """Say it in a sentence: "Measured on the top view; not photographed: back."."""
    parts = [f"Measured on {_on(said)}", *_rest(said)]
    if said.left_out:
        close = "a close-up" if said.left_out == 1 else f"{said.left_out} close-ups"
        parts.append(f"not counted: {close}, which may show the same places again")
    return f"{'; '.join(parts)}."


def _on(said: MeasuredExtent) -> str:
    parts = []
    if said.views:
        parts.append(f"the {_list(said.views)} {'view' if len(said.views) == 1 else 'views'}")
    if said.close_ups:
        parts.append("a close-up only" if said.close_ups == 1 else f"{said.close_ups} close-ups")
    if said.unnamed:
        several = f"{said.unnamed} photographs whose views are not named"
        parts.append("a photograph whose view is not named" if said.unnamed == 1 else several)
    return " and ".join(parts)


def _rest(said: MeasuredExtent) -> Iterator[str]:
    """Say what else there is of the surface, as far as that is known."""
    if not said.known:
        yield "what other views show of it is not known"
        return
    if said.not_measured:
        yield f"not measured: {_list(said.not_measured)}"
    if said.not_photographed:
        yield f"not photographed: {_list(said.not_photographed)}"
    if said.hidden:
        yield f"not seen whole on any view: {said.hidden}"


def _views_at(tool: Tool, stage: Stage) -> list[str]:
    return [one.view for one in tool.photographs if one.stage == stage]


def _missing(
    views: Sequence[str], but: Sequence[str], *, among: Sequence[str] | None = None
) -> tuple[str, ...]:
    return _named(view for view in views if view not in but and (among is None or view in among))


def _names(views: Sequence[str], expected: Sequence[str]) -> tuple[str, ...]:
    """Name views, those expected first and in their order."""
    others = [view for view in views if view and view not in expected]
    return _named(dict.fromkeys([*(view for view in expected if view in views), *others]))


def _named(views: Iterable[str]) -> tuple[str, ...]:
    return tuple(name_of("views", view) for view in views)


def _list(names: Sequence[str]) -> str:
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
