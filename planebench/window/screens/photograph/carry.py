"""Carrying outlines to the photograph of the same view at the other stage."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId
from planebench.catalog.values import Photograph
from planebench.photo.align import Trust
from planebench.window.given import Given
from planebench.window.jobs import Job
from planebench.window.laying import carry_outlines, laid_pair, lay_together
from planebench.window.screens.photograph.model import Shown

Carried = tuple[PhotographId | None, Changes]


class Carrying(QObject):
    """Signals: `arrived(str)` with the id of the photograph to which outlines were carried."""

    arrived = Signal(str)

    def __init__(self, given: Given, parent: QObject) -> None:
        super().__init__(parent)
        self._given = given

    def carry(self, shown: Shown, after: Photograph | None) -> None:
        """Lay the two photographs together and carry the outlines over; a second or two."""
        if after is None or shown.tool is None:
            return
        catalog, before, outlines = self._given.catalog, shown.photograph, shown.outlines
        pairs = shown.tool.pairs
        pair = next((p for p in pairs if p.before == before.id and p.after == after.id), None)

        def work(job: Job) -> Carried:
            if pair is None:
                laid, changes = lay_together(catalog, before, after, job), Changes()
            else:
                laid, changes = laid_pair(catalog, pair, job)
            if laid.trust is Trust.NONE:
                return None, changes
            _, carried = carry_outlines(catalog, laid, outlines, after)
            return after.id, changes | carried

        self._given.jobs.edit(
            work, done=self._done, owner=self, text="Laying the two photographs together"
        )

    def _done(self, carried: Carried) -> None:
        photograph, changes = carried
        self._given.edits.happened.emit(changes)
        if photograph is None:
            self._given.notices.advise(
                "The two photographs could not be laid on each other.",
                remedy="Nothing was carried over. Draw the outline on the other photograph anew.",
            )
            return
        self.arrived.emit(photograph)
