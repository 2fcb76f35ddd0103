"""The verbs of the dating screen, each one edit of the catalog."""

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


def count_or_leave_out(evidence: EvidenceEntry) -> Verb:
    """Count a sign that was left out, or leave it out."""
    return lambda catalog: catalog.evidence.change(evidence.id, counted=not evidence.counted)


def say_how_sure(evidence: EvidenceId, code: str) -> Verb:
    """Write how sure a sign is, by the code of its words."""
    weight = weight_of(code)
    return lambda catalog: catalog.evidence.change(evidence, sure=weight)


def doubt(all_evidence: Sequence[EvidenceEntry]) -> Verb:
    """Lower how sure signs are to doubtful."""
    return _of_each(all_evidence, lambda _evidence: EvidenceFields(sure=weight_of(DOUBTFUL)))


def leave_open(all_evidence: Sequence[EvidenceEntry], *, left_open: bool) -> Verb:
    """Leave it open whether signs agree, for the sheet to say so; or answer it after all."""
    return _of_each(
        all_evidence,
        lambda evidence: EvidenceFields(mark=left_open_mark(evidence, left_open=left_open)),
    )


def call_not_original(part: PartId) -> Verb:
    """Say of a part that it is not original."""
    return lambda catalog: catalog.parts.change(part, status=PartStatus.NOT_ORIGINAL)


def put_in_bin(evidence: EvidenceId) -> Verb:
    """Put a sign in the bin."""
    return lambda catalog: catalog.evidence.bin(evidence)


def set_pin(wanted: PinSet) -> Verb:
    """Set a sign's pin, or move the one it has on that photograph."""
    return lambda catalog: (
        catalog.pins.add_evidence(wanted.photograph, wanted.evidence, wanted.spot).changes
    )


def weight_of(code: str) -> Decimal:
    """Return the share of trust for the code of how sure."""
    return Decimal(str(open_list("sureness")[code].more["weight"]))


def _of_each(
    all_evidence: Sequence[EvidenceEntry], fields: Callable[[EvidenceEntry], EvidenceFields]
) -> Verb:
    return lambda catalog: catalog.evidence.change_each(
        {evidence.id: fields(evidence) for evidence in all_evidence}
    )
