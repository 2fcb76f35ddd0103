"""Which photographs of a tool are still to be taken, by the views that a buyer expects."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planebench.trade.terms import Stage, ToolStatus

_WORK_DONE = frozenset({ToolStatus.FINISHED, ToolStatus.OFFERED, ToolStatus.SOLD, ToolStatus.KEPT})


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingViews:
    """Views not photographed yet, as found and finished, in the order expected."""

    as_found: tuple[str, ...]
    finished: tuple[str, ...]


def missing_views(
    expected: Sequence[str], there: Iterable[tuple[Stage, str]], status: ToolStatus
) -> MissingViews:
    """Tell what is missing; finished views are asked for once the work is done.

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
