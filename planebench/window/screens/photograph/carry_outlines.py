"""Carrying outlines to the photograph of the same view at the other stage."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from planebench.catalog.changes import Changes
from planebench.catalog.ids import OutlineId, new_id
from planebench.catalog.pair_alignment import (
    PairAlignment,
    align_photographs,
    describe_alignment,
    pair_alignment,
)
from planebench.catalog.pair_copying import copy_outlines
from planebench.catalog.values import Outline, Photograph
from planebench.photo.align import AlignmentQuality
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.jobs import Job
from planebench.window.screens.photograph.photograph_model import PhotographModel


@dataclass(frozen=True, slots=True, kw_only=True)
class _Carried:
    """The alignment, the photograph after, how many outlines were copied, one of them."""

    alignment: PairAlignment
    after: Photograph
    count: int
    outline: OutlineId | None
    changes: Changes


class OutlineTransfer(QObject):
    """Copies outlines. Signals: `arrived(Route)` to the photograph that outlines were copied to."""

    arrived = Signal(object)

    def __init__(self, context: ScreenContext, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context

    def carry(
        self, model: PhotographModel, after: Photograph | None, chosen: Outline | None
    ) -> None:
        """Align the two photographs and copy the outlines; takes a second or two."""
        if after is None or model.tool is None:
            return
        catalog, before, outlines = self._context.catalog, model.photograph, model.outlines
        pairs = model.tool.pairs
        pair = next((p for p in pairs if p.before == before.id and p.after == after.id), None)

        run = new_id()  # linking and copying are one step to undo

        def work(job: Job) -> _Carried:
            changes = Changes()
            if pair is None:
                alignment = align_photographs(catalog, before, after, job.step)
            else:
                alignment = pair_alignment(catalog, pair, job.step)
            if pair is None and alignment.quality is not AlignmentQuality.NONE:
                changes = catalog.pairs.add(before.id, after.id, run=run).changes
            count = 0
            if alignment.quality is not AlignmentQuality.NONE:
                count, carried = copy_outlines(catalog, alignment, outlines, after, run=run)
                changes |= carried
            alike = _alike(catalog.photographs.outlines(after.id), chosen)
            return _Carried(
                alignment=alignment, after=after, count=count, outline=alike, changes=changes
            )

        self._context.jobs.edit(
            work, done=self._done, owner=self, text="Aligning the two photographs"
        )

    def _done(self, carried: _Carried) -> None:
        self._context.edits.happened.emit(carried.changes)
        if carried.alignment.quality is AlignmentQuality.NONE:
            self._context.notices.advise(
                "The two photographs could not be aligned.",
                remedy="Nothing was copied. Draw the outline on the other photograph.",
            )
            return
        way = routes.PhotographRoute(
            photograph=carried.after.id,
            outline=carried.outline,
            message=_describe(carried),
            replaces=True,
        )
        self.arrived.emit(way)


def _describe(carried: _Carried) -> str:
    """Return what was copied and how well it fits, then, on a line of its own, what to do."""
    copied = "1 outline" if carried.count == 1 else f"{carried.count} outlines"
    if not carried.count:
        copied = "No outlines"
    fit = describe_alignment(carried.alignment, carried.after)
    remedy = (
        "If an outline is off, press O: drag a point, or move the whole outline with Ctrl "
        "and the arrows."
    )
    return f"{copied} copied. {fit}.\n{remedy}"


def _alike(outlines: tuple[Outline, ...], wanted: Outline | None) -> OutlineId | None:
    """Return the outline of the same surface and finish, else the first."""
    here = (one for one in outlines if wanted is not None and _of(one) == _of(wanted))
    alike = next(here, next(iter(outlines), None))
    return None if alike is None else alike.id


def _of(outline: Outline) -> tuple[str, str]:
    return outline.surface, outline.finish
