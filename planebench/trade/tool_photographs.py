"""Which photographs of a tool are still to be taken, and which one stands for it in a list."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from planebench.trade.terms import LATEST_FIRST, Stage, ToolStatus

_WORK_DONE = frozenset(
    {ToolStatus.FINISHED, ToolStatus.OFFERED, ToolStatus.SOLD, ToolStatus.NOT_FOR_SALE}
)


_MAIN_VIEW = "top"
"""The view that shows most of a plane at once, so the one to know it by in a list."""


class ToolPhotograph(Protocol):
    """What is read of a photograph to choose one."""

    @property
    def id(self) -> str:
        """Its own id."""

    @property
    def stage(self) -> Stage:
        """When it was taken."""

    @property
    def view(self) -> str:
        """The code of its view, "" where it is not named."""

    @property
    def position(self) -> int:
        """Its place among the tool's photographs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingViews:
    """Views not photographed yet, as found and finished, in the order expected."""

    as_found: tuple[str, ...]
    finished: tuple[str, ...]


def missing_views(
    expected: Sequence[str], there: Iterable[tuple[Stage, str]], status: ToolStatus
) -> MissingViews:
    """Return what is missing; finished views are asked for once the work is done.

    A view that was not taken as found cannot be taken any more once the work is done, so it is
    not asked for then.
    """
    seen = set(there)
    done = status in _WORK_DONE

    def without(stage: Stage) -> tuple[str, ...]:
        return tuple(view for view in expected if (stage, view) not in seen)

    return MissingViews(
        as_found=() if done else without(Stage.AS_FOUND),
        finished=without(Stage.FINISHED) if done else (),
    )


def latest_photograph(photographs: Iterable[ToolPhotograph]) -> str | None:
    """Return the id of the photograph that shows the tool as it is now, None where there is none.

    The latest stage first, within it the main view, then the first in order.
    """
    best = min(
        photographs,
        key=lambda one: (LATEST_FIRST.index(one.stage), one.view != _MAIN_VIEW, one.position),
        default=None,
    )
    return None if best is None else best.id
