"""Photographs: filing, naming views, pairing, pins."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import TypedDict

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session
from typing_extensions import Unpack

from planebench.catalog.changes import Changes
from planebench.catalog.ids import (
    BatchId,
    DefectId,
    EvidenceId,
    PairId,
    PhotographId,
    PinId,
    ToolId,
    new_id,
)
from planebench.catalog.records import outline_from, photograph_from, pin_from
from planebench.catalog.repository import Added, Repository, get_row
from planebench.catalog.tables import (
    OriginalRow,
    OutlineRow,
    PairRow,
    PhotographRow,
    PinRow,
    ToolRow,
)
from planebench.catalog.values import Json, Outline, Photograph, Pin
from planebench.errors import InputError
from planebench.trade.terms import Stage

PhotographsAsked = Select[PhotographRow, OriginalRow]


class PhotographFields(TypedDict, total=False):
    """The fields of photographs that can be changed, for one or for many at once."""

    stage: Stage
    view: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PinPosition:
    """Where a pin stands and where its balloon does, 0 to 1 of the upright picture."""

    x: float
    y: float
    balloon_x: float
    balloon_y: float

    def __post_init__(self) -> None:
        for value in (self.x, self.y, self.balloon_x, self.balloon_y):
            if not 0 <= value <= 1:
                raise InputError(
                    "A pin lies outside its photograph.",
                    remedy="Place it inside the picture.",
                    subject="pin",
                )


class PhotographRepository(Repository):
    """Photographs of the catalog; their originals are never changed."""

    def one(self, photograph: PhotographId) -> Photograph:
        """Return one photograph, also from the bin."""
        with self._store.read() as session:
            row = get_row(session, PhotographRow, photograph)
            return photograph_from(row, session.get_one(OriginalRow, row.sha256))

    def some(self, photographs: Collection[PhotographId]) -> dict[PhotographId, Photograph]:
        """Return several photographs by id."""
        with self._store.read() as session:
            asked = _with_file().where(PhotographRow.id.in_(photographs))
            return {value.id: value for value in _values(session, asked)}

    def unfiled(self, batch: BatchId | None = None) -> tuple[Photograph, ...]:
        """List photographs not yet filed under a tool, in the order they were taken."""
        asked = _with_file().where(
            PhotographRow.tool_id.is_(None), PhotographRow.binned_at.is_(None)
        )
        if batch is not None:
            asked = asked.where(PhotographRow.batch_id == batch)
        asked = asked.order_by(PhotographRow.taken_at, PhotographRow.original_name)
        with self._store.read() as session:
            return tuple(_values(session, asked))

    def waiting(self, batch: BatchId | None = None) -> int:
        """Count photographs not yet filed under a tool."""
        asked = select(func.count()).where(
            PhotographRow.tool_id.is_(None), PhotographRow.binned_at.is_(None)
        )
        if batch is not None:
            asked = asked.where(PhotographRow.batch_id == batch)
        with self._store.read() as session:
            return session.scalar(asked) or 0

    def change(
        self, photographs: Collection[PhotographId], **fields: Unpack[PhotographFields]
    ) -> Changes:
        """Change stage, view or caption of many photographs at once."""
        with self._store.edit(_many(photographs, "changed")) as edit:
            for row in _rows(edit.session, photographs):
                for name, value in fields.items():
                    setattr(row, name, value)
        return edit.changes

    def file_under(
        self,
        photographs: Collection[PhotographId],
        tool: ToolId,
        *,
        by: str,
        stage: Stage | None = None,
    ) -> Changes:
        """File photographs under a tool; `by` is what decided it ("hand", "card", …).

        With `stage` they get that stage too; None leaves it.
        """
        with self._store.edit("filed") as edit:
            owner = get_row(edit.session, ToolRow, tool)
            for row in _rows(edit.session, photographs):
                row.tool_id = owner.id
                row.batch_id = owner.batch_id
                row.filed_by = by
                row.stage = row.stage if stage is None else stage
                # What was noted while it was unfiled no longer applies.
                row.filed_reason = row.suggested_stock_number = ""
            edit.words = f"{_many(photographs, 'filed under')} {owner.stock_number}"
        return edit.changes

    def set_order(self, photographs: Sequence[PhotographId]) -> Changes:
        """Put the photographs of a tool in the order given."""
        with self._store.edit("Photographs reordered") as edit:
            for position, photograph in enumerate(photographs):
                get_row(edit.session, PhotographRow, photograph).position = position
        return edit.changes

    def set_scale(self, photograph: PhotographId, scale: Json | None) -> Changes:
        """Set what gives a photograph its scale."""
        return self._change(PhotographRow, photograph, {"scale": scale}, "scale set")

    def bin(self, photographs: Collection[PhotographId]) -> Changes:
        """Delete photographs, into the bin; their originals stay."""
        with self._store.edit(_many(photographs, "deleted")) as edit:
            for row in _rows(edit.session, photographs):
                row.binned_at = edit.at
                pairs = select(PairRow).where(
                    (PairRow.before_id == row.id) | (PairRow.after_id == row.id),
                    PairRow.binned_at.is_(None),
                )
                for pair in edit.session.scalars(pairs):
                    pair.binned_at = edit.at
        return edit.changes

    def pins(self, photograph: PhotographId) -> tuple[Pin, ...]:
        """List the pins on a photograph."""
        with self._store.read() as session:
            asked = select(PinRow).where(PinRow.photograph_id == photograph)
            return tuple(pin_from(row) for row in session.scalars(asked))

    def outlines(self, photograph: PhotographId) -> tuple[Outline, ...]:
        """List the outlines on a photograph."""
        with self._store.read() as session:
            asked = select(OutlineRow).where(
                OutlineRow.photograph_id == photograph, OutlineRow.binned_at.is_(None)
            )
            return tuple(outline_from(row) for row in session.scalars(asked))

    def outlines_of(self, tool: ToolId) -> tuple[Outline, ...]:
        """List the outlines on all photographs of a tool."""
        with self._store.read() as session:
            asked = (
                select(OutlineRow)
                .join(PhotographRow, PhotographRow.id == OutlineRow.photograph_id)
                .where(PhotographRow.tool_id == tool, PhotographRow.binned_at.is_(None))
                .where(OutlineRow.binned_at.is_(None))
            )
            return tuple(outline_from(row) for row in session.scalars(asked))


class PinRepository(Repository):
    """Pins of defects and evidence on photographs."""

    def add_defect(
        self, photograph: PhotographId, defect: DefectId, spot: PinPosition
    ) -> Added[PinId]:
        """Place a defect's pin on a photograph; a second call moves it."""
        return self._set(photograph, spot, defect=defect, evidence=None)

    def add_evidence(
        self, photograph: PhotographId, evidence: EvidenceId, spot: PinPosition
    ) -> Added[PinId]:
        """Place the pin of a piece of evidence on a photograph; a second call moves it."""
        return self._set(photograph, spot, defect=None, evidence=evidence)

    def move(self, pin: PinId, spot: PinPosition) -> Changes:
        """Move a pin or its balloon."""
        return self._change(PinRow, pin, _spot_fields(spot), "pin moved")

    def take_off(self, pin: PinId) -> Changes:
        """Remove a pin from its photograph; undo brings it back."""
        with self._store.edit("Pin removed") as edit:
            edit.session.delete(get_row(edit.session, PinRow, pin))
        return edit.changes

    def _set(
        self,
        photograph: PhotographId,
        spot: PinPosition,
        *,
        defect: DefectId | None,
        evidence: EvidenceId | None,
    ) -> Added[PinId]:
        with self._store.edit("Pin placed") as edit:
            asked = select(PinRow).where(
                PinRow.photograph_id == photograph,
                PinRow.defect_id == defect if defect else PinRow.evidence_id == evidence,
            )
            row = edit.session.scalars(asked).first()
            if row is None:
                row = PinRow(
                    id=new_id(),
                    photograph_id=photograph,
                    defect_id=defect,
                    evidence_id=evidence,
                    **_spot_fields(spot),
                )
                edit.session.add(row)
            else:
                for name, value in _spot_fields(spot).items():
                    setattr(row, name, value)
        return Added(id=PinId(row.id), changes=edit.changes)


class PairRepository(Repository):
    """Photographs as found and finished that show the same view."""

    def add(
        self, before: PhotographId, after: PhotographId, *, run: str | None = None
    ) -> Added[PairId]:
        """Link two photographs of one tool; raise InputError when they cannot be a pair."""
        with self._store.edit("Photographs paired", run=run) as edit:
            first = get_row(edit.session, PhotographRow, before)
            second = get_row(edit.session, PhotographRow, after)
            if first.tool_id is None or first.tool_id != second.tool_id or before == after:
                raise InputError(
                    "These two photographs do not show the same tool.",
                    remedy="Choose one photograph from before the work and one after, "
                    "of the same tool.",
                    subject="pair",
                )
            row = PairRow(id=new_id(), tool_id=first.tool_id, before_id=before, after_id=after)
            edit.words = self._of_tool(edit.session, row, "photographs paired")
            edit.session.add(row)
        return Added(id=PairId(row.id), changes=edit.changes)

    def set_alignment(self, pair: PairId, alignment: Json | None) -> Changes:
        """Save how the two lie on each other."""
        return self._change(PairRow, pair, {"alignment": alignment}, "photographs aligned")

    def set_on_sheet(self, pair: PairId, *, on_sheet: bool) -> Changes:
        """Set whether the pair is shown on the condition sheet."""
        words = "pair put on the sheet" if on_sheet else "pair taken off the sheet"
        return self._change(PairRow, pair, {"on_sheet": on_sheet}, words)

    def bin(self, pair: PairId) -> Changes:
        """Delete the pair, into the bin; the photographs stay."""
        return self._bin(PairRow, pair, "pair deleted")


def _values(session: Session, asked: PhotographsAsked) -> Iterator[Photograph]:
    for row, stored in session.execute(asked):
        yield photograph_from(row, stored)


def _with_file() -> PhotographsAsked:
    return select(PhotographRow, OriginalRow).join(
        OriginalRow, OriginalRow.sha256 == PhotographRow.sha256
    )


def _rows(session: Session, photographs: Collection[PhotographId]) -> list[PhotographRow]:
    return [get_row(session, PhotographRow, photograph) for photograph in photographs]


def _many(photographs: Collection[PhotographId], words: str) -> str:
    count = len(photographs)
    return f"Photograph {words}" if count == 1 else f"{count} photographs {words}"


def _spot_fields(spot: PinPosition) -> dict[str, float]:
    return {"x": spot.x, "y": spot.y, "balloon_x": spot.balloon_x, "balloon_y": spot.balloon_y}
