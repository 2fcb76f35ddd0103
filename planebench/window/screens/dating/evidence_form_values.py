"""The values in the evidence form: empty, or those of existing evidence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from planebench.catalog.entries import EvidenceFields
from planebench.catalog.values import EvidenceEntry
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.record_dating import LEFT_OPEN, TYPED_YEARS
from planebench.trade.terms import Basis
from planebench.window.screens.dating.dating_model import sure_words

LINE_OF = {
    **dict.fromkeys((*TYPED_YEARS, PRODUCTION), "value"),
    **dict.fromkeys(("patent_us", "design_us", "reissue_us", "design_uk"), "number"),
    "patent_date": "text",
}
"""The field a mark is typed into, by kind of evidence."""
_TELLING = {**LINE_OF, "diamond_uk": "top", "clue": "row"}
_UNASKED = (LEFT_OPEN, "study", "forms")


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceFormValues:
    """The values of the form; the defaults are those of new evidence."""

    title: str = "Add evidence"
    kind: str = "years"
    mark: Mapping[str, str] = field(default_factory=dict)
    part: str = ""
    seen: str = ""
    sure: str = ""
    looseness: str = ""
    basis: str = Basis.READ_OFF
    source: str = ""


_MARK = "mark "
_TYPED = ("seen", "looseness", "source")


def draft_of(values: EvidenceFormValues) -> dict[str, str]:
    """Return what is typed as texts by key, to be kept; empty where nothing is typed yet."""
    mark = {f"{_MARK}{key}": text for key, text in values.mark.items() if text.strip()}
    typed = {key: str(getattr(values, key)) for key in _TYPED if str(getattr(values, key)).strip()}
    if not mark and not typed:
        return {}
    return {"kind": values.kind, "part": values.part, "basis": values.basis, **mark, **typed}


def values_of_draft(draft: Mapping[str, str]) -> EvidenceFormValues:
    """Return the values of a draft that was kept, for new evidence."""
    mark = {key.removeprefix(_MARK): text for key, text in draft.items() if key.startswith(_MARK)}
    return EvidenceFormValues(
        title="Add evidence (draft)",
        kind=draft.get("kind", "years"),
        mark=mark,
        part=draft.get("part", ""),
        seen=draft.get("seen", ""),
        looseness=draft.get("looseness", ""),
        basis=draft.get("basis", Basis.READ_OFF),
        source=draft.get("source", ""),
    )


def form_values_of(evidence: EvidenceEntry | None) -> EvidenceFormValues:
    """Return what was typed for evidence; its years where only those were saved."""
    if evidence is None:
        return EvidenceFormValues()
    kind, mark = _marked(evidence)
    return EvidenceFormValues(
        title=f"Edit evidence {evidence.number}",
        kind=kind,
        mark=mark,
        part=evidence.part or "",
        seen=evidence.seen,
        sure=sure_words(float(evidence.sure)),
        looseness=str(evidence.looseness),
        basis=evidence.basis,
        source=evidence.source,
    )


def with_unasked(evidence: EvidenceEntry, fields: EvidenceFields) -> EvidenceFields:
    """Return the fields with what the form does not ask for kept from the old evidence."""
    mark = {key: evidence.mark[key] for key in _UNASKED if key in evidence.mark} | fields["mark"]
    same = fields["source"] == evidence.source
    status = evidence.source_status if same else fields["source_status"]
    return EvidenceFields(**{**fields, "mark": mark, "source_status": status})


def _marked(evidence: EvidenceEntry) -> tuple[str, dict[str, str]]:
    mark = {key: value for key, value in evidence.mark.items() if isinstance(value, str) and value}
    if "own_row" in mark:
        mark["row"] = mark["own_row"]
    if _TELLING.get(evidence.kind, "") in mark:
        return evidence.kind, mark
    kind = evidence.kind if evidence.kind in {*TYPED_YEARS, PRODUCTION} else "years"
    return kind, {"value": evidence.edtf or _edtf(evidence)}


def _edtf(evidence: EvidenceEntry) -> str:
    low, high = evidence.not_before, evidence.not_after
    if low == high:
        return "" if low is None else f"{low}"
    return f"{'..' if low is None else low}/{'..' if high is None else high}"
