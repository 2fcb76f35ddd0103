"""The edits of the dating screen, each one edit of the catalog."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.entries import EvidenceFields
from planebench.catalog.ids import EvidenceId, PartId
from planebench.catalog.reference import open_list
from planebench.catalog.values import EvidenceEntry
from planebench.trade.terms import PartStatus
from planebench.window.screens.dating.dating_photos import PinSet
from planebench.window.screens.dating.disagreements import left_open_mark

DOUBTFUL = "doubtful"
Verb = Callable[[Catalog], Changes]


def toggle_counted(evidence: EvidenceEntry) -> Verb:
    """Count evidence that was left out, or leave it out."""
    return lambda catalog: catalog.evidence.change(evidence.id, counted=not evidence.counted)


def set_sureness(evidence: EvidenceId, code: str) -> Verb:
    """Set how sure evidence is, by a code of the list `sureness`."""
    weight = weight_of(code)
    return lambda catalog: catalog.evidence.change(evidence, sure=weight)


def set_doubtful(entries: Sequence[EvidenceEntry]) -> Verb:
    """Set evidence to doubtful."""
    return _change_each(entries, lambda _evidence: EvidenceFields(sure=weight_of(DOUBTFUL)))


def set_left_open(entries: Sequence[EvidenceEntry], *, left_open: bool) -> Verb:
    """Mark a disagreement as left open, to be stated on the sheet, or take the mark off."""
    return _change_each(
        entries,
        lambda evidence: EvidenceFields(mark=left_open_mark(evidence, left_open=left_open)),
    )


def set_not_original(part: PartId) -> Verb:
    """Set a part to not original."""
    return lambda catalog: catalog.parts.change(part, status=PartStatus.NOT_ORIGINAL)


def delete_evidence(evidence: EvidenceId) -> Verb:
    """Delete a piece of evidence."""
    return lambda catalog: catalog.evidence.bin(evidence)


def set_pin(wanted: PinSet) -> Verb:
    """Set the pin of evidence, or move the one it has on that photograph."""
    return lambda catalog: (
        catalog.pins.add_evidence(wanted.photograph, wanted.evidence, wanted.spot).changes
    )


def weight_of(code: str) -> Decimal:
    """Return the weight, 0 to 1, for a code of the list `sureness`."""
    return Decimal(str(open_list("sureness")[code].more["weight"]))


def _change_each(
    entries: Sequence[EvidenceEntry], fields: Callable[[EvidenceEntry], EvidenceFields]
) -> Verb:
    return lambda catalog: catalog.evidence.change_each(
        {evidence.id: fields(evidence) for evidence in entries}
    )
