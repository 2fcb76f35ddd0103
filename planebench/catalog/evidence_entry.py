"""Understands a sign of date as a person enters it, before and when it is written down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.entries import EvidenceFields
from planebench.catalog.tool_dating import AS_YEARS
from planebench.catalog.values import Json
from planebench.errors import InputError
from planebench.trade.dating import WHOLE, Evidence
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.evidence_parsing import EvidenceTables, read_entry, read_production
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
    "clue": "a clue of the reference tables",
    "type_study": "a type study",
    "document": "a document",
    "word": "a person’s word",
    PRODUCTION: "years in which the model was made",
}
"""Kinds of sign in words, in the order in which they are offered."""
_ID = "sign"
_CORNERS = ("top", "right", "bottom", "left")
_TOLD = frozenset({"word"})
_DOCUMENTED_SURE = 0.8
_WORD_SURE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceInput:
    """A sign as a person gives it.

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


@dataclass(frozen=True, slots=True, kw_only=True)
class ParsedEvidence:
    """What a sign means: how it was read, other ways to read it, and the fields to write down."""

    read_as: str
    alternatives: tuple[str, ...]
    bounds: str
    status: str
    fields: EvidenceFields

    @property
    def from_memory(self) -> bool:
        """Whether any of the rows it rests on was written from memory."""
        return "memory" in self.status


def parse_evidence(seen: EvidenceInput, tables: EvidenceTables) -> ParsedEvidence:
    """Read a sign. Raises InputError, with the nearest that would do, for what cannot be meant."""
    try:
        evidence = _production(seen, tables) if seen.kind == PRODUCTION else _evidence(seen, tables)
    except InputError as error:
        raise _plain(error) from error
    return ParsedEvidence(
        read_as=evidence.read_as,
        alternatives=evidence.alternatives,
        bounds=bounds_in_words(evidence),
        status=evidence.status,
        fields=_fields(seen, evidence, tables),
    )


def bounds_in_words(evidence: Evidence) -> str:
    """Say which years a sign allows: "not before 1913, usual until about 1933"."""
    low, high = evidence.not_before, evidence.not_after
    if low is None and high is None:
        return "no years: kept, but not counted"
    if high is None:
        usual = f", usual until about {evidence.usual_until}" if evidence.usual_until else ""
        return f"not before {low}{usual}"
    if low is None:
        return f"not after {high}"
    return f"{low}" if low == high else f"{low} to {high}"


def _evidence(seen: EvidenceInput, tables: EvidenceTables) -> Evidence:
    entry: Json = {key: text for key, text in seen.mark.items() if text.strip()}
    entry |= {"id": _ID, "kind": "years" if seen.kind in AS_YEARS else seen.kind}
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


def _fields(seen: EvidenceInput, evidence: Evidence, tables: EvidenceTables) -> EvidenceFields:
    source = seen.source.strip()
    return EvidenceFields(
        kind=seen.kind,
        seen=seen.seen.strip() or _seen(seen, evidence),
        mark=_mark(seen, evidence, tables),
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
    """Say what was seen where the person did not: the mark itself."""
    if seen.mark.get("text", "").strip():
        return f"“{seen.mark['text'].strip()}”"
    if seen.mark.get("number", "").strip():
        return f"“{seen.mark['number'].strip()}”, {KIND_WORDS[seen.kind]}"
    if seen.kind == "diamond_uk":
        corners = (seen.mark.get(key, "").strip() for key in ("class", *_CORNERS))
        return f"Diamond mark {' '.join(filter(None, corners))}"
    return evidence.what or evidence.read_as


def _mark(seen: EvidenceInput, evidence: Evidence, tables: EvidenceTables) -> Json:
    mark: Json = {key: text.strip() for key, text in seen.mark.items() if text.strip()}
    row = str(mark.get("row", ""))
    if seen.kind == "clue" and tables.clues.get(row) != dating_tables().clues.get(row):
        # A row of the user's own may go with its table: the sign keeps what it needs of it.
        return {"own_row": row, "group": evidence.group, "never_before": evidence.never_before}
    return mark


def _usual_basis(kind: str) -> Basis:
    return Basis.TOLD if kind in _TOLD else Basis.READ_OFF


def _edtf(seen: EvidenceInput, evidence: Evidence, tables: EvidenceTables) -> str:
    """Write the years in EDTF: as they were typed, else by the bounds the mark gives."""
    if seen.kind in AS_YEARS or seen.kind == PRODUCTION:
        return parse_years(seen.mark.get("value", ""), tables.conventions).edtf
    return _edtf_of_bounds(evidence)


def _edtf_of_bounds(evidence: Evidence) -> str:
    if evidence.not_before is None and evidence.not_after is None:
        return ""
    low = ".." if evidence.not_before is None else f"{evidence.not_before:04d}"
    high = ".." if evidence.not_after is None else f"{evidence.not_after:04d}"
    return low if low == high else f"{low}/{high}"


def _plain(error: InputError) -> InputError:
    """Take the entry's name off: the sentence stands under the field itself."""
    happened = error.happened
    for name in (_ID, "production"):
        happened = happened.removeprefix(f"{name}: ")
    return InputError(
        happened[:1].upper() + happened[1:], remedy=error.remedy, subject=error.subject
    )
