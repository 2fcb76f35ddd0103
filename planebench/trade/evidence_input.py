"""Reads evidence of date as a person enters it: what it means, and the values to record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TypedDict

from planebench.errors import InputError
from planebench.trade.dating import WHOLE, Evidence
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.evidence_parsing import EvidenceTables, read_entry, read_production
from planebench.trade.record_dating import TYPED_YEARS
from planebench.trade.terms import Basis
from planebench.trade.years import parse_years

KIND_WORDS: Mapping[str, str] = {
    "years": "years, as people write them",
    "patent_us": "US patent number",
    "design_us": "US design patent number",
    "reissue_us": "US reissued patent number",
    "patent_date": "US patent date, as stamped",
    "design_uk": "UK registered design number",
    "diamond_uk": "UK diamond mark, 1842 to 1883",
    "clue": "a known feature from the tables",
    "type_study": "a type study",
    "document": "a document",
    "word": "what someone said",
    PRODUCTION: "years in which the model was made",
}
"""Kinds of evidence in words, in the order in which they are offered."""
_ID = "evidence"
_CORNERS = ("top", "right", "bottom", "left")
_TOLD = frozenset({"word"})
_DOCUMENTED_SURE = 0.8
_WORD_SURE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceInput:
    """A piece of evidence as a person enters it.

    `mark` holds what was typed: `value` for years, `number`, `text` of a patent date, the corners
    of a diamond mark, or the `row` of a clue. What is None or empty is as usual for its kind.
    """

    kind: str
    mark: Mapping[str, str] = field(default_factory=dict)
    seen: str = ""
    sure: Decimal | None = None
    looseness: int | None = None
    basis: Basis | None = None
    source: str = ""


class EvidenceValues(TypedDict):
    """What is recorded of a piece of evidence; `edtf` keeps its years as ISO 8601-2 writes them."""

    kind: str
    seen: str
    mark: dict[str, object]
    years: str
    edtf: str
    not_before: int | None
    not_after: int | None
    sure: Decimal
    looseness: int
    basis: Basis
    source: str
    source_status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ParsedEvidence:
    """What evidence means: how it was read, other ways to read it, and the values to record."""

    read_as: str
    alternatives: tuple[str, ...]
    bounds: str
    status: str
    fields: EvidenceValues

    @property
    def from_memory(self) -> bool:
        """Return whether any of the rows it rests on was written from memory."""
        return "memory" in self.status


def parse_evidence_input(
    seen: EvidenceInput, tables: EvidenceTables, *, built_in: EvidenceTables
) -> ParsedEvidence:
    """Read a piece of evidence; `tables` are the program's (`built_in`) with the user's own rows.

    Raises InputError, with the nearest that would do, for what cannot be meant.
    """
    try:
        evidence = _production(seen, tables) if seen.kind == PRODUCTION else _evidence(seen, tables)
    except InputError as error:
        raise _plain(error) from error
    return ParsedEvidence(
        read_as=evidence.read_as,
        alternatives=evidence.alternatives,
        bounds=format_bounds(evidence),
        status=evidence.status,
        fields=_fields(seen, evidence, tables, built_in),
    )


def format_bounds(evidence: Evidence) -> str:
    """Return the years that evidence allows, in words: "not before 1913, usual to about 1933"."""
    low, high = evidence.not_before, evidence.not_after
    if low is None and high is None:
        return "no years: recorded, but not counted"
    if high is None:
        usual = f", usual until about {evidence.usual_until}" if evidence.usual_until else ""
        return f"not before {low}{usual}"
    if low is None:
        return f"not after {high}"
    return f"{low}" if low == high else f"{low} to {high}"


def _evidence(seen: EvidenceInput, tables: EvidenceTables) -> Evidence:
    entry: dict[str, object] = {key: text for key, text in seen.mark.items() if text.strip()}
    entry |= {"id": _ID, "kind": "years" if seen.kind in TYPED_YEARS else seen.kind}
    if seen.kind == "word":
        entry["sure"] = _WORD_SURE
    if seen.kind == "document":
        entry["sure"] = _DOCUMENTED_SURE
    return read_entry(WHOLE, entry, tables, _ID)


def _production(seen: EvidenceInput, tables: EvidenceTables) -> Evidence:
    text = seen.mark.get("value", "")
    low, high = read_production(text, tables)
    words = parse_years(text, replace(tables.conventions, circa=0)).words
    return Evidence(
        id=_ID, part=WHOLE, kind=PRODUCTION, not_before=low, not_after=high, sure=1, read_as=words
    )


def _fields(
    seen: EvidenceInput, evidence: Evidence, tables: EvidenceTables, built_in: EvidenceTables
) -> EvidenceValues:
    source = seen.source.strip()
    return EvidenceValues(
        kind=seen.kind,
        seen=seen.seen.strip() or _seen(seen, evidence),
        mark=_mark(seen, evidence, own_row=_is_own_row(seen, tables, built_in)),
        years=evidence.read_as,
        edtf=_edtf(seen, evidence, tables),
        not_before=evidence.not_before,
        not_after=evidence.not_after,
        sure=Decimal(str(evidence.sure)) if seen.sure is None else seen.sure,
        looseness=round(evidence.looseness) if seen.looseness is None else seen.looseness,
        basis=seen.basis or _usual_basis(seen.kind),
        source=source or evidence.source,
        source_status=evidence.status if source in {"", evidence.source} else "",
    )


def _seen(seen: EvidenceInput, evidence: Evidence) -> str:
    """Return what was seen where the person did not say: the mark itself."""
    if seen.mark.get("text", "").strip():
        return f"“{seen.mark['text'].strip()}”"
    if seen.mark.get("number", "").strip():
        return f"“{seen.mark['number'].strip()}”, {KIND_WORDS[seen.kind]}"
    if seen.kind == "diamond_uk":
        corners = (seen.mark.get(key, "").strip() for key in ("class", *_CORNERS))
        return f"Diamond mark {' '.join(filter(None, corners))}"
    return evidence.what or evidence.read_as


def _mark(seen: EvidenceInput, evidence: Evidence, *, own_row: bool) -> dict[str, object]:
    mark: dict[str, object] = {key: text.strip() for key, text in seen.mark.items() if text.strip()}
    if own_row:
        # A row of the user's own may go with its table: the evidence keeps what it needs of it.
        return {
            "own_row": str(mark.get("row", "")),
            "group": evidence.group,
            "never_before": evidence.never_before,
        }
    return mark


def _is_own_row(seen: EvidenceInput, tables: EvidenceTables, built_in: EvidenceTables) -> bool:
    row = seen.mark.get("row", "").strip()
    return seen.kind == "clue" and tables.clues.get(row) != built_in.clues.get(row)


def _usual_basis(kind: str) -> Basis:
    return Basis.TOLD if kind in _TOLD else Basis.READ_OFF


def _edtf(seen: EvidenceInput, evidence: Evidence, tables: EvidenceTables) -> str:
    """Return the years in EDTF: as they were typed, else by the bounds of the mark."""
    if seen.kind in TYPED_YEARS or seen.kind == PRODUCTION:
        return parse_years(seen.mark.get("value", ""), tables.conventions).edtf
    return _edtf_of_bounds(evidence)


def _edtf_of_bounds(evidence: Evidence) -> str:
    if evidence.not_before is None and evidence.not_after is None:
        return ""
    low = ".." if evidence.not_before is None else f"{evidence.not_before:04d}"
    high = ".." if evidence.not_after is None else f"{evidence.not_after:04d}"
    return low if low == high else f"{low}/{high}"


def _plain(error: InputError) -> InputError:
    """Return the error without the entry's name: the sentence stands under the field itself."""
    happened = error.happened
    for name in (_ID, "production"):
        happened = happened.removeprefix(f"{name}: ")
    return InputError(
        happened[:1].upper() + happened[1:], remedy=error.remedy, subject=error.subject
    )
