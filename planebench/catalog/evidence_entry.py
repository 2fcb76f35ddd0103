"""Reads evidence of date as a person enters it, by the tables in resources/dating."""

from __future__ import annotations

from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.entries import EvidenceFields
from planebench.trade.evidence_input import (
    EvidenceInput,
    EvidenceValues,
    ParsedEvidence,
    parse_evidence_input,
)
from planebench.trade.evidence_parsing import EvidenceTables


def parse_evidence(seen: EvidenceInput, tables: EvidenceTables) -> ParsedEvidence:
    """Read a piece of evidence; see `parse_evidence_input`."""
    return parse_evidence_input(seen, tables, built_in=dating_tables())


def fields_from(values: EvidenceValues) -> EvidenceFields:
    """Return what was read of evidence as the catalog records it, to be completed by its part."""
    return EvidenceFields(
        kind=values["kind"],
        seen=values["seen"],
        mark=values["mark"],
        years=values["years"],
        edtf=values["edtf"],
        not_before=values["not_before"],
        not_after=values["not_after"],
        sure=values["sure"],
        looseness=values["looseness"],
        basis=values["basis"],
        source=values["source"],
        source_status=values["source_status"],
    )
