"""Reads years as people write them: c. 1915, 1907-11, before 1910, late 19th century, 1920s."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from planebench.trade.years_wording import rewrite_years


@dataclass(frozen=True, slots=True, kw_only=True)
class YearConventions:
    """What loose words are worth in years: a custom of the house, not a fact.

    `circa` years are added on either side of "about". The parts of a decade and of a century are
    offsets from their first year, both ends included. `first_year` and `last_year` bound what can
    be meant at all.
    """

    circa: int = 5
    decade: dict[str, tuple[int, int]] = field(
        default_factory=lambda: {"early": (0, 3), "mid": (4, 6), "late": (7, 9)}
    )
    century: dict[str, tuple[int, int]] = field(
        default_factory=lambda: {"early": (0, 33), "mid": (34, 66), "late": (67, 99)}
    )
    first_year: int = 1000
    last_year: int = 2100


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    """What a phrase says, before "about" is turned into years.

    `first` and `last` are years, None where open; `circa_first` and `circa_last` say which of them
    is only about; `give_or_take` is the width of a plus-or-minus; `note` says which of several
    dates was taken.
    """

    first: int | None
    last: int | None
    kind: str
    circa_first: bool = False
    circa_last: bool = False
    uncertain: bool = False
    give_or_take: int | None = None
    note: str = ""


_EVENTS = (
    "additions|altered|annotated|assembled|built|cast|casts|copy|dated|designed|edition|editioned|engraved"
    "|enlarged|exhibited|exhibition|fabricated|introduced|invented|issued|made|manufactured|model|negative|original|patented|posthumous|print|printed|produced"
    "|published|reassembled|registered|reconstructed|reconstruction|refabricated|released|remade|repaired"
    "|replica|reprinted|reproduced|restored|reworked|sold|stamped|version"
)
_DESIGN = re.compile(r"\b(?:designed|patented|invented|introduced|registered)\b")
_MADE = re.compile(r"\b(?:made|manufactured|produced|built)\b")
_EVENT = re.compile(rf"\b(?:first |later |probably )*(?:{_EVENTS})\b(?: and (?:{_EVENTS})\b)*")
_MONTH = (
    r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
    r"|spring|summer|autumn|fall|winter"
)
_DAY = r"\d{1,2}(?:st|nd|rd|th)?"
_DATE = re.compile(
    rf"(?:{_DAY} )?(?:{_MONTH})(?: (?:of )?| {_DAY},? )(\d{{4}})"
    rf"|(\d{{4}}),? (?:{_MONTH})(?: {_DAY})?"
)
_UNKNOWN = re.compile(r"(?:date )?(?:not known|unknown)|no date|n\.? ?d\.?|undated|not dated")
_CIRCA = re.compile(
    r"\b(?:circa|ca|ci|c|approximately|approx|about|around)(?![a-z])\.? ?(?=\d|the|early|mid|late)"
)
_DOUBT = re.compile(r"\?|\b(?:probably|possibly|perhaps|maybe)\b")
_PARTS = {
    "early": "early",
    "mid": "mid",
    "middle": "mid",
    "late": "late",
}
_HALVES = {"first": (0, 49), "second": (50, 99), "last": (50, 99)}
_QUARTERS = {
    "first": (0, 24),
    "second": (25, 49),
    "third": (50, 74),
    "fourth": (75, 99),
    "last": (75, 99),
}
_THIRDS = {"first": (0, 33), "second": (34, 66), "middle": (34, 66), "last": (67, 99)}
_SIZES = {"half": _HALVES, "quarter": _QUARTERS, "third": _THIRDS}
_UP_TO_FOUR = re.compile(r"[0-9]{1,4}")
_CENTURY = re.compile(
    r"(?:the )?(?:(?P<part>early|mid|middle|late)(?: of)?(?: the)? |"
    r"(?P<which>first|second|third|fourth|middle|last) (?P<size>half|quarter|third)"
    r"(?: of)?(?: the)? )?"
    r"(?P<number>\d{1,2})(?:st|nd|rd|th) ?(?:century|cent\.?|c\.?)"
)
_DECADE = re.compile(r"(?:the )?(?:(early|mid|middle|late) )?(\d{3}0)'?s")
_OPEN: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r"(?:before|pre) ?(.+)"), "before"),
    (re.compile(r"(?:after|post) ?(.+)"), "after"),
    (re.compile(r"(?:until|till|up to|by|not after|no later than|not later than) (.+)"), "until"),
    (re.compile(r"(.+?),? (?:or|and) (?:before|earlier)"), "until"),
    (re.compile(r"(?:from|since|not before|no earlier than|not earlier than) (.+)"), "from"),
    (re.compile(r"(.+?),? (?:or|and) (?:after|later)|(.+?) (?:onwards?|on)|(.+)\+"), "from"),
)
_BETWEEN = re.compile(r"(?:between|from) (.+?) (?:and|to|until|till) (.+)")
_GIVE = re.compile(r"(\d{4}) ?(?:±|\+/-|\+-|give or take) ?(\d{1,2})(?: years?)?")
_RANGE = re.compile(r"\s*-\s*|\s+(?:to|until|till|through)\s+")
_JOINS = re.compile(r"\s*[,;&]\s*|\s+(?:and|or)\s+")
_DASHES = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212"), "-")
_QUOTES = dict.fromkeys(map(ord, "\u2018\u2019\u02bc\u00b4`"), "'")


def read_phrase(text: str, conventions: YearConventions) -> Phrase | None:
    """Read years written in words; None where they cannot be read.

    The first date is that of the making; later events (printed, cast, sold, repaired) do not
    date it. Several dates joined by a comma, "and" or "or" give the span from first to last.
    """
    plain = _plain(text)
    if _UNKNOWN.fullmatch(plain):
        return Phrase(first=None, last=None, kind="not known")
    clauses = _clauses(rewrite_years(plain))
    making = _of_the_making(clauses)
    first, *rest = making or [""]
    stripped = _EVENT.sub("", first).strip().removeprefix("in ")
    reader = _Reader(conventions)
    read = reader.whole(stripped)
    if read is None:
        return None
    for clause in rest:
        if _EVENT.search(clause):
            break
        more = reader.whole(clause, like=read.first)
        if more is None:
            return None
        read = _hull(read, more)
    note = f"when it was made, not {clauses[0]}" if len(making) < len(clauses) else ""
    return replace(read, uncertain=bool(_DOUBT.search(plain)), note=note)


def _plain(text: str) -> str:
    plain = text.translate(_DASHES).translate(_QUOTES).lower()
    plain = re.sub(r"\s+", " ", plain).strip(" .")
    return re.sub(r"\b(early|mid|middle|late|pre|post)-", r"\1 ", plain)


def _clauses(plain: str) -> list[str]:
    """Split the dates written one after another; brackets hold an alternative or a later event."""
    open_ended = re.compile(r",? (or|and) (later|after|earlier|before|onwards?)\b")
    kept = open_ended.sub(r" \1_\2", re.sub(r"\s*\(([^)]*)\)?", r", \1", plain))
    if _BETWEEN.match(_EVENT.sub("", _CIRCA.sub("", _DOUBT.sub("", kept))).strip()):
        return [kept]
    kept = _join_dates(_join_events(kept))
    pieces = [piece.strip().removeprefix("or ") for piece in _JOINS.split(kept)]
    return [re.sub("_", " ", piece) for piece in pieces if piece.strip()]


def _of_the_making(clauses: list[str]) -> list[str]:
    """Return the clauses from the making on, where an earlier design is told before it."""
    if not clauses or not _DESIGN.search(clauses[0]):
        return clauses
    made = next((n for n, clause in enumerate(clauses) if _MADE.search(clause)), 0)
    return clauses[made:]


def _join_events(text: str) -> str:
    return re.sub(rf"\b({_EVENTS}) and ({_EVENTS})\b", r"\1_and_\2", text)


def _join_dates(text: str) -> str:
    """Keep "Jan 28, 1913" in one piece."""
    return re.sub(rf"((?:{_MONTH}) \d{{1,2}}(?:st|nd|rd|th)?), (\d{{4}})", r"\1 \2", text)


def _hull(one: Phrase, other: Phrase) -> Phrase:
    """Span two phrases; an open side stays open."""
    firsts = [(p.first, p.circa_first) for p in (one, other) if p.first is not None]
    lasts = [(p.last, p.circa_last) for p in (one, other) if p.last is not None]
    first, circa_first = min(firsts) if len(firsts) == 2 else (None, False)  # noqa: PLR2004 - both
    last, circa_last = max(lasts) if len(lasts) == 2 else (None, False)  # noqa: PLR2004 - both
    return Phrase(
        first=first, last=last, kind="several", circa_first=circa_first, circa_last=circa_last
    )


class _Reader:
    """Reads one clause by the conventions of the house."""

    def __init__(self, conventions: YearConventions) -> None:
        self._conventions = conventions
        self._ways: tuple[Callable[[str, int | None], Phrase | None], ...] = (
            self._give_or_take,
            self._between,
            self._open,
            self._moment,
            self._range,
        )

    def whole(self, clause: str, like: int | None = None) -> Phrase | None:
        """Read a clause; `like` is a year before it that lends its century: 1831 or 33."""
        text = re.sub(r"\s+", " ", _DOUBT.sub(" ", clause)).strip(" .")
        for way in self._ways:
            read = way(text, like)
            if read is not None:
                return read
        return None

    def _give_or_take(self, text: str, _like: int | None) -> Phrase | None:
        found = _GIVE.fullmatch(_CIRCA.sub("", text).strip())
        if found is None or not self._meant(int(found[1])):
            return None
        year = int(found[1])
        return Phrase(first=year, last=year, kind="give or take", give_or_take=int(found[2]))

    def _between(self, text: str, like: int | None) -> Phrase | None:
        near = _CIRCA.match(text)
        found = _BETWEEN.fullmatch(text[near.end() :] if near else text)
        if found is None:
            return None
        return self._spanned([found[1], found[2]], like)

    def _open(self, text: str, like: int | None) -> Phrase | None:
        for pattern, kind in _OPEN:
            found = pattern.fullmatch(text)
            inner = self.whole(next(g for g in found.groups() if g), like) if found else None
            if inner is not None:
                return _opened(inner, kind)
        return None

    def _moment(self, text: str, like: int | None) -> Phrase | None:
        """Read one year, decade or century, with or without "about"."""
        near = _CIRCA.match(text)
        bare = (text[near.end() :] if near else text).strip()
        span = self._century(bare) or self._decade(bare) or self._year(bare, like)
        if span is None:
            return None
        first, last, kind = span
        about = near is not None
        kind = f"about {kind}" if about else kind
        return Phrase(first=first, last=last, kind=kind, circa_first=about, circa_last=about)

    def _range(self, text: str, like: int | None) -> Phrase | None:
        sides = _RANGE.split(text)
        return self._spanned(sides, like) if len(sides) > 1 else None

    def _spanned(self, sides: list[str], like: int | None) -> Phrase | None:
        read: list[Phrase] = []
        for side in sides:
            moment = self._moment(side, read[-1].first if read else like)
            if moment is None:
                return None
            read.append(moment)
        return _span(read[0], read[-1])

    def _century(self, text: str) -> tuple[int, int, str] | None:
        found = _CENTURY.fullmatch(text)
        if found is None:
            return None
        start = (int(found["number"]) - 1) * 100
        if not self._meant(start + 99):
            return None
        low, high = 0, 99
        if found["part"]:
            low, high = self._conventions.century[_PARTS[found["part"]]]
        elif found["which"]:
            low, high = _SIZES[found["size"]].get(found["which"], (0, 99))
        return start + low, start + high, "century"

    def _decade(self, text: str) -> tuple[int, int, str] | None:
        found = _DECADE.fullmatch(text)
        if found is None or not self._meant(int(found[2])):
            return None
        low, high = self._conventions.decade[_PARTS[found[1]]] if found[1] else (0, 9)
        return int(found[2]) + low, int(found[2]) + high, "decade"

    def _year(self, text: str, like: int | None) -> tuple[int, int, str] | None:
        dated = _DATE.fullmatch(text)
        digits = (dated[1] or dated[2]) if dated else text
        if _UP_TO_FOUR.fullmatch(digits) is None:
            return None
        year = int(digits if like is None else f"{like:04d}"[: 4 - len(digits)] + digits)
        return (year, year, "date" if dated else "year") if self._meant(year) else None

    def _meant(self, year: int) -> bool:
        return self._conventions.first_year <= year <= self._conventions.last_year


def _span(first: Phrase, last: Phrase) -> Phrase | None:
    """Join two moments; "about" before the first holds for both."""
    if first.first is None or last.last is None or first.first > last.last:
        return None
    about, about_last = first.circa_first, first.circa_first or last.circa_last
    return Phrase(
        first=first.first,
        last=last.last,
        kind="about years" if about_last else "years",
        circa_first=about,
        circa_last=about_last,
    )


def _opened(inner: Phrase, kind: str) -> Phrase:
    """Turn the years of a phrase into a bound: "before" and "after" leave the year itself out."""
    step = {"before": -1, "after": 1}.get(kind, 0)
    if kind in {"before", "until"}:
        edge = inner.first if kind == "before" else inner.last
        last = None if edge is None else edge + step
        return Phrase(first=None, last=last, kind="before", circa_last=inner.circa_first)
    edge = inner.last if kind == "after" else inner.first
    first = None if edge is None else edge + step
    return Phrase(first=first, last=None, kind="after", circa_first=inner.circa_first)
