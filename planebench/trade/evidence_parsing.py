"""Parses entries of evidence as written (marks, years, known features) into what is weighed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from planebench.errors import InputError
from planebench.trade.dating_span import Production
from planebench.trade.evidence import WHOLE, DatingSettings, Evidence
from planebench.trade.marks import (
    IssueTable,
    MarkReading,
    NumberKind,
    read_number,
    split_number,
)
from planebench.trade.marks_diamond import Diamond, DiamondTables, read_diamond
from planebench.trade.marks_patent_date import PatentDateRules, read_patent_date
from planebench.trade.years import YearConventions, YearSpan, parse_years

KINDS = (
    *("years", "patent_us", "design_us", "reissue_us", "design_uk"),
    *("patent_date", "diamond_uk", "clue"),
)
"""Kinds of entry, in the order in which they are offered."""

_ONE_WITNESS = dict.fromkeys(("patent_us", "reissue_us", "patent_date"), "patent")
"""A patent's number and its date on one part say the same thing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceKindRule:
    """How sure an entry of one kind is unless it says so, how loose (years), how long usual.

    `usual_use` counts years from its terminus post quem, None where nothing is known.
    """

    sure: float
    looseness: float
    usual_use: int | None
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownFeature:
    """A row of the table of known features: wording, material or fastener, and its years.

    `bounds` says what it bounds: the mark, the part, or the whole tool; `market` where.
    `never_before` is True where nothing of the sort can be older. `status` says whether the row
    was found in a public copy of its source or written from memory.
    """

    id: str
    clue: str
    wording: str
    family: str
    bounds: str
    market: str
    not_before: int | None
    not_after: int | None
    never_before: bool
    sure: float
    looseness: float
    source: str
    status: str
    use: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceTables:
    """All tables that entries are read by. `sureness` gives the chance by its words."""

    numbers: Mapping[NumberKind, IssueTable]
    diamond: DiamondTables
    clues: Mapping[str, KnownFeature]
    rules: Mapping[str, EvidenceKindRule]
    sureness: Mapping[str, float]
    conventions: YearConventions
    patent_dates: PatentDateRules
    not_tuesday_sure: float
    settings: DatingSettings


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """One entry as written, with its id and the part it stands under."""

    id: str
    part: str
    kind: str
    fields: Mapping[str, object]

    def text(self, name: str, *, needed: bool = True) -> str:
        value = self.fields.get(name)
        if value is None and not needed:
            return ""
        if isinstance(value, bool) or not isinstance(value, str | int):
            raise InputError(
                f"{self.id}: an entry of kind {self.kind} needs “{name}”.",
                remedy=f"Write {name} as text.",
                subject=self.id,
            )
        return str(value)

    def figure(self, name: str, usual: float) -> float:
        value = self.fields.get(name, usual)
        if isinstance(value, bool) or not isinstance(value, int | float) or not value >= 0:
            raise InputError(
                f"{self.id}: {name} is {value!r}.",
                remedy=f"Write {name} as a number, 0 or more.",
                subject=self.id,
            )
        return float(value)


def read_evidence(
    parts: Mapping[str, Sequence[Mapping[str, object]]], tables: EvidenceTables
) -> dict[str, list[Evidence]]:
    """Read all entries, by part. An entry without an id is called after its part and its place.

    Raises InputError naming the entry for an unknown kind, an impossible mark, or a value that
    cannot be meant.
    """
    rows = [str(e.get("id")) for entries in parts.values() for e in entries if _names_row(e)]
    return {
        part: [
            read_entry(part, _own_id(entry, rows, name), tables, name)
            for name, entry in ((f"{part}-{n}", e) for n, e in enumerate(entries, start=1))
        ]
        for part, entries in parts.items()
    }


def _names_row(entry: Mapping[str, object]) -> bool:
    """Return whether the id of an entry is that of its row in the table of known features."""
    return entry.get("kind") == "clue" and "row" not in entry


def _own_id(entry: Mapping[str, object], rows: Sequence[str], name: str) -> Mapping[str, object]:
    """Return an entry an id of its own where the same known feature was seen twice."""
    if _names_row(entry) and rows.count(str(entry.get("id"))) > 1:
        return {**entry, "id": name, "row": entry.get("id")}
    return entry


def read_entry(
    part: str, fields: Mapping[str, object], tables: EvidenceTables, name: str
) -> Evidence:
    """Read one entry; `name` is its id where it has none of its own."""
    entry = _Entry(
        id=str(fields.get("id") or name), part=part, kind=str(fields.get("kind", "")), fields=fields
    )
    reader = _READERS.get(entry.kind)
    if reader is None:
        raise InputError(
            f"{entry.id}: “{entry.kind}” is not a kind of evidence.",
            remedy=f"The kinds are {', '.join(KINDS)}.",
            subject=entry.id,
        )
    return _as_entered(reader(entry, tables), entry, tables)


def read_production(text: str, tables: EvidenceTables) -> Production:
    """Read known production years; "about" is not widened. Raises InputError naming production."""
    plain = replace(tables.conventions, circa=0)
    span = parse_years(text, plain, field="production")
    return (span.not_before, span.not_after)


def _years(entry: _Entry, tables: EvidenceTables) -> Evidence:
    span = parse_years(entry.text("value"), tables.conventions, field=entry.id)
    return evidence_from_years(span, entry.id, entry.part, tables)


def evidence_from_years(
    span: YearSpan, evidence_id: str, part: str, tables: EvidenceTables
) -> Evidence:
    """Return typed years as evidence; 1915 +/- 3 falls off as a bell."""
    rule = tables.rules["years"]
    width = span.give_or_take
    return Evidence(
        id=evidence_id,
        part=part,
        kind="years",
        not_before=span.not_before,
        not_after=span.not_after,
        give_or_take=width is not None,
        sure=min(rule.sure, tables.sureness["half_trusted"]) if span.uncertain else rule.sure,
        looseness=rule.looseness if width is None else float(width),
        read_as=span.words,
        alternatives=(span.note,) if span.note else (),
    )


def _number(entry: _Entry, tables: EvidenceTables) -> Evidence:
    text = entry.text("number")
    kind = NumberKind(entry.kind)
    said, _ = split_number(text)
    if kind is NumberKind.PATENT_US and "design" in said:
        kind = NumberKind.DESIGN_US
    if kind is NumberKind.PATENT_US and "reissue" in said:
        kind = NumberKind.REISSUE_US
    reading = read_number(text, tables.numbers[kind], field=entry.id)
    return _from_mark(reading, entry, tables.rules[kind.value])


def _patent_date(entry: _Entry, tables: EvidenceTables) -> Evidence:
    reading = read_patent_date(entry.text("text"), tables.patent_dates, field=entry.id)
    evidence = _from_mark(reading, entry, tables.rules["patent_date"])
    return replace(evidence, sure=tables.not_tuesday_sure) if reading.doubtful else evidence


def _diamond(entry: _Entry, tables: EvidenceTables) -> Evidence:
    mark = Diamond(
        class_=entry.text("class", needed=False),
        top=entry.text("top"),
        right=entry.text("right", needed=False),
        bottom=entry.text("bottom", needed=False),
        left=entry.text("left", needed=False),
    )
    reading = read_diamond(mark, tables.diamond, field=entry.id)
    return _from_mark(reading, entry, tables.rules["diamond_uk"])


def _clue(entry: _Entry, tables: EvidenceTables) -> Evidence:
    """Read a row of the table of known features, named by `id`, or by `row` if it has an id.

    What bounds the whole tool still stands on the part that it was seen on.
    """
    wanted = str(entry.fields.get("row", entry.id))
    row = tables.clues.get(wanted)
    if row is None:
        raise InputError(
            f"{entry.id}: the table of known features has no row “{wanted}”.",
            remedy=_nearest(wanted, tables.clues),
            subject=entry.id,
        )
    return Evidence(
        id=entry.id,
        part=entry.part,
        kind="clue",
        what=row.clue,
        not_before=row.not_before,
        not_after=row.not_after,
        never_before=row.never_before,
        sure=row.sure,
        looseness=row.looseness,
        group=f"clue:{row.family}",
        read_as=f"{row.clue}: {row.use}" if row.use else row.clue,
        source=row.source,
        status=row.status,
    )


def _from_mark(reading: MarkReading, entry: _Entry, rule: EvidenceKindRule) -> Evidence:
    """Return a mark as evidence: a terminus post quem, usual for some years after it."""
    begun = reading.not_before
    until = None if begun is None or rule.usual_use is None else begun + rule.usual_use
    notes = (reading.note,) if reading.note else ()
    return Evidence(
        id=entry.id,
        part=entry.part,
        kind=entry.kind,
        not_before=begun,
        usual_until=until,
        never_before=True,
        sure=rule.sure,
        looseness=rule.looseness,
        group=_ONE_WITNESS.get(entry.kind, entry.kind),
        read_as=reading.read_as,
        alternatives=(*reading.alternatives, *notes),
        source=reading.source,
        status=reading.status,
    )


def _as_entered(evidence: Evidence, entry: _Entry, tables: EvidenceTables) -> Evidence:
    """Put what the entry itself says of sureness and looseness in place of what is usual."""
    return replace(
        evidence,
        what=entry.text("what", needed=False) or evidence.what,
        sure=_sure(entry, evidence.sure, tables.sureness),
        looseness=entry.figure("looseness", evidence.looseness),
        counted=entry.fields.get("counted", True) is not False,
        basis=entry.text("basis", needed=False),
        source=entry.text("source", needed=False) or evidence.source,
    )


def _sure(entry: _Entry, usual: float, words: Mapping[str, float]) -> float:
    value = entry.fields.get("sure")
    if value is None:
        return usual
    if isinstance(value, str):
        share = words.get(value.strip().lower().replace(" ", "_"))
        if share is not None:
            return share
    if not isinstance(value, bool) and isinstance(value, int | float) and 0 <= value <= 1:
        return float(value)
    raise InputError(
        f"{entry.id}: sure is {value!r}.",
        remedy=f"Write a number from 0 to 1, or {', '.join(words).replace('_', ' ')}.",
        subject=entry.id,
    )


def _nearest(wanted: str, clues: Mapping[str, KnownFeature]) -> str:
    """Name the row whose id shares most with what was asked for."""
    parts = set(wanted.casefold().replace("-", "_").split("_"))
    best = max(clues, key=lambda name: len(parts & set(name.split("_"))), default="")
    return f"The nearest row is {best}." if best else "The table is empty."


_READERS: dict[str, Callable[[_Entry, EvidenceTables], Evidence]] = {
    "years": _years,
    **dict.fromkeys((kind.value for kind in NumberKind), _number),
    "patent_date": _patent_date,
    "diamond_uk": _diamond,
    "clue": _clue,
}

__all__ = [
    "KINDS",
    "WHOLE",
    "EvidenceKindRule",
    "EvidenceTables",
    "KnownFeature",
    "evidence_from_years",
    "read_entry",
    "read_evidence",
    "read_production",
]
