"""What the dating screen shows: evidence by part, the scale, and the date in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from itertools import groupby

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import EvidenceId, PartId, ToolId
from planebench.catalog.reference import open_list
from planebench.catalog.tool_dating import date_of, evidence_from_entry
from planebench.catalog.values import EvidenceEntry, Part, Tool
from planebench.trade.date_estimate import format_short_estimate, format_sureness
from planebench.trade.dating import WHOLE, DateEstimate, DatingResult, Evidence, MismatchedPart
from planebench.trade.dating_ranges import YearRange
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.record_dating import evidence_against, part_key
from planebench.trade.terms import BASIS_WORDS

WHOLE_WORDS = "Whole tool"
HALF_TRUSTED = 0.6
"""Evidence up to this weight is drawn pale: little better than even odds."""
_LEAST_SHOWN = 0.05  # of the tallest column; lower ones at the ends are left out
_NARROWEST = 30
_ROUND = 5
_USUAL_SCALE = (1850, 1950)


class EvidenceWeight(Enum):
    """How a bar is drawn."""

    FULL = "full"
    HALF = "half"
    DISAGREES = "disagrees"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceLine:
    """A row of evidence. `group` is the part's name on its first row, else empty.

    `low` and `high` are the years of the bar, inclusive, None where open; `apart` counts the years
    between a bar that does not agree and the date of the tool.
    """

    evidence: EvidenceEntry
    read: Evidence
    part: str
    group: str
    group_disagrees: bool
    told: str
    low: int | None
    high: int | None
    loose_before: int
    loose_after: int
    trust: EvidenceWeight
    apart: int = 0

    @property
    def reach(self) -> tuple[int, ...]:
        """The outermost years of bar and dashes; an open side has none."""
        low = () if self.low is None else (self.low - self.loose_before,)
        high = () if self.high is None else (self.high + self.loose_after,)
        return low + high


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartColumns:
    """Relative likelihood per year from `first` on, the tallest 1, with its label."""

    first: int
    heights: tuple[float, ...]
    words: str
    agrees: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DatingSummary:
    """The date in words: years, the parts they rest on, and any doubt about them."""

    made: str
    of: str
    by: str
    doubt: str
    hard: str
    hard_agrees: bool
    odd: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DatingModel:
    """All that the screen shows of one tool; `first` to `last` are the years of the scale.

    `bands` are the likeliest years, `band` runs from the first to the last of them.
    """

    tool: Tool
    dating: DatingResult | None
    lines: tuple[EvidenceLine, ...]
    first: int
    last: int
    bands: tuple[YearRange, ...]
    columns: tuple[ChartColumns, ...]
    result: DatingSummary

    @property
    def band(self) -> YearRange | None:
        """First and last of the likeliest years; None where they are open on both sides."""
        return (self.bands[0][0], self.bands[-1][1]) if self.bands else None

    def line_of(self, evidence: EvidenceId | None) -> EvidenceLine | None:
        """Return the row of evidence, None when it is not shown."""
        return next((line for line in self.lines if line.evidence.id == evidence), None)

    @property
    def anchor(self) -> str:
        """Lower-case name of the part that sets the date of the tool."""
        return "" if self.dating is None else part_name(self.tool, self.dating.anchor).lower()


def read_dating_model(catalog: Catalog, tool_id: ToolId) -> DatingModel:
    """Read a tool, date it and build what is shown; run it in a job."""
    return build_dating_model(catalog.tools.one(tool_id))


def build_dating_model(tool: Tool) -> DatingModel:
    """Date a tool and build what is shown."""
    read = {evidence.id: evidence_from_entry(evidence, tool.parts) for evidence in tool.evidence}
    engine = [read[evidence.id] for evidence in tool.evidence if evidence.kind != PRODUCTION]
    dating = date_of(tool, all_evidence=engine)
    bands = () if dating is None else _bands(dating.whole)
    lines = tuple(_lines(tool.evidence, read, _standing(tool, dating, bands)))
    columns = tuple(_columns(tool, dating)) if dating is not None and bands else ()
    first, last = _scale(lines, bands, columns)
    return DatingModel(
        tool=tool,
        dating=dating,
        lines=lines,
        first=first,
        last=last,
        bands=bands,
        columns=columns,
        result=_result(tool, dating),
    )


def part_name(tool: Tool, key: str) -> str:
    """Return the name of a part by its key in the dating result."""
    return next((part.name for part in tool.parts if part_key(part) == key), WHOLE_WORDS)


def sure_words(sure: float) -> str:
    """Return the words of the list `sureness` nearest to a weight."""
    rows = open_list("sureness").values()
    return min(rows, key=lambda row: abs(float(str(row.more["weight"])) - sure)).name


def years_in_words(low: int | None, high: int | None) -> str:
    """Return years for a row: "1913 or later"."""
    if low is None and high is None:
        return "no years"
    if high is None:
        return f"{low} or later"
    if low is None:
        return f"{high} or earlier"
    return f"{low}" if low == high else f"{low} to {high}"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Standing:
    """How evidence relates to the parts of a tool and to its date."""

    parts: Mapping[PartId | None, Part]
    bands: tuple[YearRange, ...]
    anchor: str = ""
    odd: frozenset[PartId | None] = frozenset()
    against: frozenset[str] = frozenset()

    def part_of(self, part_id: PartId | None) -> str:
        """Return a part's name."""
        part = self.parts.get(part_id)
        return WHOLE_WORDS if part is None else part.name

    def is_on_odd_part(self, evidence: EvidenceEntry) -> bool:
        """Return whether the evidence is on a part made at another time."""
        return evidence.part in self.odd

    def disagrees(self, evidence: EvidenceEntry) -> bool:
        """Return whether the evidence disagrees with the date of the tool."""
        return self.is_on_odd_part(evidence) or evidence.id in self.against

    def order(self, evidence: EvidenceEntry) -> tuple[int, int, int]:
        """Return the sort key: the part that dates the tool first, the whole tool last."""
        part = self.parts.get(evidence.part)
        if part is None:
            return (2, 0, evidence.number)
        return (0 if part_key(part) == self.anchor else 1, part.position, evidence.number)


def _standing(tool: Tool, dating: DatingResult | None, bands: tuple[YearRange, ...]) -> _Standing:
    parts: dict[PartId | None, Part] = {part.id: part for part in tool.parts}
    if dating is None:
        return _Standing(parts=parts, bands=bands)
    odd = {part.part for part in dating.odd_parts}
    return _Standing(
        parts=parts,
        bands=bands,
        anchor=dating.anchor,
        odd=frozenset(part.id for part in tool.parts if part_key(part) in odd),
        against=evidence_against(tool, dating),
    )


def _lines(
    entries: Iterable[EvidenceEntry], read: Mapping[EvidenceId, Evidence], standing: _Standing
) -> Iterator[EvidenceLine]:
    ordered = sorted(entries, key=standing.order)
    for part, of_part in groupby(ordered, key=lambda evidence: evidence.part):
        group = standing.part_of(part)
        for evidence in of_part:
            yield _line(evidence, read[evidence.id], standing, group=group)
            group = ""


def _line(
    evidence: EvidenceEntry, read: Evidence, standing: _Standing, *, group: str
) -> EvidenceLine:
    low = read.not_before
    high = read.usual_until if read.not_after is None else read.not_after
    loose = round(read.looseness) if evidence.kind != PRODUCTION else 0
    trust = _trust(evidence, disagrees=standing.disagrees(evidence))
    words = years_in_words(read.not_before, read.not_after)
    return EvidenceLine(
        evidence=evidence,
        read=read,
        part=standing.part_of(evidence.part),
        group=group,
        group_disagrees=standing.is_on_odd_part(evidence),
        told=", ".join((BASIS_WORDS[evidence.basis], words, _sureness(evidence))),
        low=low,
        high=high,
        loose_before=0 if low is None or read.never_before else loose,
        loose_after=0 if high is None else loose,
        trust=trust,
        apart=_apart(low, high, standing.bands) if trust is EvidenceWeight.DISAGREES else 0,
    )


def _sureness(evidence: EvidenceEntry) -> str:
    if not evidence.counted:
        return "left out"
    return "limits all" if evidence.kind == PRODUCTION else sure_words(float(evidence.sure))


def _trust(evidence: EvidenceEntry, *, disagrees: bool) -> EvidenceWeight:
    if not evidence.counted:
        return EvidenceWeight.LEFT_OUT
    if disagrees:
        return EvidenceWeight.DISAGREES
    return EvidenceWeight.HALF if evidence.sure <= HALF_TRUSTED else EvidenceWeight.FULL


def _apart(low: int | None, high: int | None, bands: tuple[YearRange, ...]) -> int:
    if not bands:
        return 0
    if low is not None and low > bands[-1][1]:
        return low - bands[-1][1]
    if high is not None and high < bands[0][0]:
        return bands[0][0] - high
    return 0


def _bands(whole: DateEstimate) -> tuple[YearRange, ...]:
    return () if whole.open_start and whole.open_end else whole.ranges


def _columns(tool: Tool, dating: DatingResult) -> Iterator[ChartColumns]:
    kind = format_sureness(dating.whole) if dating.whole.falls_short else "90% range"
    words = kind if dating.anchor == WHOLE else f"{kind}, {_lower(tool, dating.anchor)}"
    yield from _group(dating.whole, words, agrees=True)
    for odd in dating.odd_parts:
        yield from _group(dating.parts[odd.part], f"{_lower(tool, odd.part)} alone", agrees=False)


def _group(dated: DateEstimate, words: str, *, agrees: bool) -> Iterator[ChartColumns]:
    tallest = max(dated.shares, default=0.0)
    seen = [at for at, share in enumerate(dated.shares) if share > tallest * _LEAST_SHOWN]
    if seen:
        heights = [share / tallest for share in dated.shares[seen[0] : seen[-1] + 1]]
        yield ChartColumns(
            first=dated.years[seen[0]], heights=tuple(heights), words=words, agrees=agrees
        )


def _lower(tool: Tool, key: str) -> str:
    return part_name(tool, key).lower()


def _scale(
    lines: tuple[EvidenceLine, ...], bands: tuple[YearRange, ...], columns: tuple[ChartColumns, ...]
) -> tuple[int, int]:
    """Return the years of the scale: all bars and columns, rounded outward."""
    years = [year for line in lines for year in line.reach]
    years += _near(years, bands)
    years += [one.first for one in columns if not one.agrees]
    return _widened(min(years), max(years)) if years else _USUAL_SCALE


def _near(years: list[int], bands: tuple[YearRange, ...]) -> list[int]:
    """Return range ends near the years; far ones would squeeze the bars."""
    if len(years) < 2:  # noqa: PLR2004 -- one year is no span to be near to
        return []
    first, last = min(years) - _ROUND, max(years) + _ROUND
    return [year for band in bands for year in band if first <= year <= last]


def _widened(earliest: int, latest: int) -> tuple[int, int]:
    """Round years outward to a scale that is not too narrow."""
    first = (earliest - 1) // _ROUND * _ROUND
    last = -(-(latest + 2) // _ROUND) * _ROUND
    missing = max(0, _NARROWEST - (last - first))
    return first - missing // 2 // _ROUND * _ROUND, last + -(-missing // 2 // _ROUND) * _ROUND


def _result(tool: Tool, dating: DatingResult | None) -> DatingSummary:
    if dating is None:
        return DatingSummary(
            made="Not dated", of="", by="", doubt="", hard="", hard_agrees=True, odd=()
        )
    made, kind = format_short_estimate(dating.whole)
    by = _dated_parts(tool, dating)
    return DatingSummary(
        made=made[:1].upper() + made[1:],
        of=f"{by}, {kind}" if kind else by,
        by=by,
        doubt=kind if dating.whole.falls_short else "",
        hard=_hard(dating.whole, sum(evidence.counts for evidence in dating.evidence)),
        hard_agrees=dating.whole.agreed,
        odd=tuple(_odd(tool, dating, part) for part in dating.odd_parts),
    )


def _dated_parts(tool: Tool, dating: DatingResult) -> str:
    """Return the parts the date rests on: those with counted evidence, odd ones left out."""
    odd = {part.part for part in dating.odd_parts}
    held = {evidence.part for evidence in dating.evidence if evidence.counts} - odd
    names = [part.name.lower() for part in tool.parts if part_key(part) in held]
    return join_names(names) if names else WHOLE_WORDS.lower()


def _odd(tool: Tool, dating: DatingResult, part: MismatchedPart) -> str:
    age = "a later" if part.later else "an older"
    return f"{_lower(tool, part.part)} {own_years(dating.parts[part.part])}: {age} part"


def _hard(whole: DateEstimate, count: int) -> str:
    """Return what the evidence strictly allows, and why likely years reach beyond it."""
    if not whole.agreed:
        return "No year fits all the evidence"
    if whole.earliest is None and whole.latest is None:
        return ""
    who = "The evidence points" if count == 1 else "Together the evidence points"
    strictly = f"{who} to {years_in_words(whole.earliest, whole.latest)}"
    if whole.is_wider:
        return f"{strictly}; a little more is allowed for old stock and misread evidence"
    return "" if count == 1 else strictly


def own_years(part: DateEstimate) -> str:
    """Return a part's years by its own evidence: strict years, else the 90% range."""
    if part.agreed and part.earliest is not None and part.latest is not None:
        return years_in_words(part.earliest, part.latest)
    return format_short_estimate(part)[0]


def join_names(names: list[str], last: str = "and") -> str:
    """Join names for a sentence: "body, lever cap and knob"."""
    return f" {last} ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
