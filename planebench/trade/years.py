"""Years as people write them or in EDTF, kept as EDTF and shown in words."""

from __future__ import annotations

import re
from dataclasses import dataclass

from planebench.errors import InputError
from planebench.trade.marks_patent_date import read_patent_date
from planebench.trade.years_edtf import EdtfMoment, EdtfSpan, edtf_words, read_edtf
from planebench.trade.years_phrases import Phrase, YearConventions, read_phrase

__all__ = ["YearConventions", "YearSpan", "parse_years", "words_of"]

_LONGEST = 200
_NUMERIC_DATE = re.compile(r"(?:\d{1,2}[/.-])?\d{1,2}[/.-]\d{4}")
"""A day or a month in figures: its slashes are no EDTF interval."""
_PATENTED = re.compile(r"pat(?:['’]?d|ented|ent)?\b[. ]", re.IGNORECASE)
_EDTF = re.compile(r"[-0-9XY./?~%T:Z+]+")
_SURELY_EDTF = re.compile(r"[XY/]|\d{4}-\d\d-\d\d$")
_SHORT_RANGE = re.compile(r"(\d\d)(\d\d)-(\d\d)")
_SLASHED = re.compile(r"^(\d{4})/(\d{1,2})$")
_PLAIN_YEAR = re.compile(r"\d{4}")
_OPEN_DIGITS = {("decade", 9): 1, ("century", 99): 2}
"""How many digits are left open in a whole decade and a whole century."""
_ONLY_YEAR = re.compile(r"\d{5,}|\d{1,3}")
_TWO_YEARS = re.compile(r"(\d{4})\D{1,20}(\d{4})")
_PATENT_YEAR = re.compile(r"[A-Za-z'’.]+ (?:in )?(\d{4})")


@dataclass(frozen=True, slots=True, kw_only=True)
class YearSpan:
    """Years that were written down: `not_before` to `not_after`, None where open.

    What is only "about" has been widened by the conventions of the house; `edtf` keeps it as
    written. `kind` names the manner of writing. `give_or_take` is set for 1915 +/- 3: then both
    years are the middle one. `note` says another way in which the words could be meant.
    """

    not_before: int | None
    not_after: int | None
    edtf: str
    words: str
    kind: str
    uncertain: bool = False
    give_or_take: int | None = None
    note: str = ""

    @property
    def known(self) -> bool:
        """Whether it bounds anything at all."""
        return (self.not_before, self.not_after) != (None, None)


_DEFAULT = YearConventions()


def parse_years(
    text: str, conventions: YearConventions = _DEFAULT, *, field: str = "years"
) -> YearSpan:
    """Read years in EDTF (levels 0 and 1) or in words.

    YYYY-NN with NN above the year's last two digits is taken as a range, as people write it
    (1907-11), and `note` names the month it would be in EDTF. Raises InputError naming `field`
    and a value that would do.
    """
    typed = text.strip()
    if not typed:
        raise InputError(f"{field}: no years were typed.", remedy="Try c. 1915.", subject=field)
    if len(typed) > _LONGEST:
        raise _unreadable(typed, field, conventions)
    typed = _SLASHED.sub(r"\1-\2", typed)
    short = _SHORT_RANGE.fullmatch(typed)
    if short is not None and short[2] < short[3]:
        return _short_range(short, conventions, field)
    return _parse_typed(typed, conventions, field)


def _parse_typed(typed: str, conventions: YearConventions, field: str) -> YearSpan:
    if _PATENTED.match(typed):
        return _patented(typed, conventions, field)
    as_edtf = None if _NUMERIC_DATE.fullmatch(typed) else _edtf(typed)
    if as_edtf is not None:
        return _from_edtf(typed, as_edtf, conventions, field)
    phrase = read_phrase(typed, conventions)
    if phrase is None:
        raise _unreadable(typed, field, conventions)
    return _from_phrase(phrase, conventions)


def _patented(typed: str, conventions: YearConventions, field: str) -> YearSpan:
    """Read a patent date typed as years: the tool is not older than the latest of its dates."""
    year_alone = _PATENT_YEAR.fullmatch(typed)
    if year_alone is not None:
        return parse_years(f"from {year_alone[1]}", conventions, field=field)
    reading = read_patent_date(typed.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'"), field=field)
    year = reading.not_before
    return YearSpan(
        not_before=year,
        not_after=None,
        edtf="" if year is None else f"{year:04d}/..",
        words="not known" if year is None else f"{year} or later",
        kind="patent date",
        uncertain=reading.doubtful,
        note=f"patent dated {reading.read_as}" if year is not None else reading.read_as,
    )


def words_of(edtf: str) -> str:
    """Return an EDTF string of level 0 or 1 in words. Raises InputError where it is none."""
    return edtf_words(read_edtf(edtf))


def _edtf(typed: str) -> EdtfSpan | None:
    """Read EDTF; what can only be meant so is refused in its own words, the rest may be words."""
    if not _EDTF.fullmatch(typed):
        return None
    return read_edtf(typed) if _SURELY_EDTF.search(typed) else _try_edtf(typed)


def _try_edtf(typed: str) -> EdtfSpan | None:
    try:
        return read_edtf(typed)
    except InputError:
        return None


def _from_edtf(typed: str, span: EdtfSpan, conventions: YearConventions, field: str) -> YearSpan:
    sides = [side for side in (span.first, span.last) if side is not None]
    years = [side.first for side in sides] + [side.last for side in sides]
    if not conventions.first_year <= min(years) <= max(years) <= conventions.last_year:
        raise _unreadable(typed, field, conventions)
    return YearSpan(
        not_before=_bound(span.first, -conventions.circa, first=True),
        not_after=_bound(span.last, conventions.circa, first=False),
        edtf=typed,
        words=edtf_words(span),
        kind="year" if _PLAIN_YEAR.fullmatch(typed) else "edtf",
        uncertain=any(side.uncertain for side in sides),
    )


def _bound(moment: EdtfMoment | None, circa: int, *, first: bool) -> int | None:
    if moment is None:
        return None
    return (moment.first if first else moment.last) + circa * moment.approximate


def _short_range(short: re.Match[str], conventions: YearConventions, field: str) -> YearSpan:
    span = parse_years(f"{short[1]}{short[2]}/{short[1]}{short[3]}", conventions, field=field)
    month = _try_edtf(short[0])
    note = "" if month is None else f"{edtf_words(month)}, if a month was meant"
    return YearSpan(
        not_before=span.not_before,
        not_after=span.not_after,
        edtf=span.edtf,
        words=span.words,
        kind="years",
        note=note,
    )


def _from_phrase(phrase: Phrase, conventions: YearConventions) -> YearSpan:
    low, high = phrase.first, phrase.last
    edtf = _edtf_of(phrase)
    words = edtf_words(read_edtf(edtf)) if edtf else "not known"
    if phrase.give_or_take is not None:
        words = f"{low} give or take {phrase.give_or_take} years"
    return YearSpan(
        not_before=None if low is None else low - conventions.circa * phrase.circa_first,
        not_after=None if high is None else high + conventions.circa * phrase.circa_last,
        edtf=edtf,
        words=words,
        kind=phrase.kind,
        uncertain=phrase.uncertain,
        give_or_take=phrase.give_or_take,
        note=phrase.note,
    )


def _edtf_of(phrase: Phrase) -> str:
    """Write a phrase in EDTF of level 0 or 1; empty where it bounds nothing."""
    low, high = phrase.first, phrase.last
    if low is None and high is None:
        return ""
    if low is not None and high is not None:
        whole = _one_date(low, high, phrase)
        if whole:
            return whole
    begins = _side(low, circa=phrase.circa_first, uncertain=phrase.uncertain)
    ends = _side(high, circa=phrase.circa_last, uncertain=phrase.uncertain)
    return f"{begins}/{ends}"


def _side(year: int | None, *, circa: bool, uncertain: bool) -> str:
    return ".." if year is None else f"{year:04d}{_qualifier(circa=circa, uncertain=uncertain)}"


def _one_date(low: int, high: int, phrase: Phrase) -> str:
    """Write a give-or-take, or a year, whole decade or whole century as one date: 191X, 18XX."""
    if phrase.give_or_take is not None:
        return f"{low - phrase.give_or_take:04d}/{high + phrase.give_or_take:04d}"
    mark = _qualifier(circa=phrase.circa_first, uncertain=phrase.uncertain)
    if low == high:
        return f"{low:04d}{mark}"
    digits = _OPEN_DIGITS.get((phrase.kind.removeprefix("about "), high - low), 0)
    return f"{f'{low:04d}'[:-digits]}{'X' * digits}{mark}" if digits else ""


def _qualifier(*, circa: bool, uncertain: bool) -> str:
    return {(False, False): "", (True, False): "~", (False, True): "?", (True, True): "%"}[
        (circa, uncertain)
    ]


def _unreadable(typed: str, field: str, conventions: YearConventions) -> InputError:
    shown = typed if len(typed) <= 60 else f"{typed[:60]}…"  # noqa: PLR2004 - fits a line
    number = _ONLY_YEAR.fullmatch(typed)
    if number is not None:
        near = typed[:4] if len(typed) > 4 else f"19{typed[-2:].zfill(2)}"  # noqa: PLR2004 - years
        return InputError(
            f"{field}: {shown} is not a year from {conventions.first_year} to"
            f" {conventions.last_year}.",
            remedy=f"Try {near}.",
            subject=field,
        )
    years = _TWO_YEARS.search(typed)
    if years is not None and years[1] > years[2]:
        return InputError(
            f"{field}: “{shown}” ends before it begins.",
            remedy=f"Try {years[2]} to {years[1]}.",
            subject=field,
        )
    return InputError(
        f"{field}: “{shown}” cannot be read as years.",
        remedy="Try 1915, c. 1915, 1907-11, 1920s, before 1910 or late 19th century.",
        subject=field,
    )
