"""Years as people write them or in EDTF, kept as EDTF and shown in words."""

from __future__ import annotations

import re
from dataclasses import dataclass

from planebench.errors import InputError
from planebench.trade.years_edtf import EdtfSpan, edtf_words, read_edtf
from planebench.trade.years_phrases import Phrase, YearConventions, read_phrase

__all__ = ["YearConventions", "YearSpan", "read_years", "words_of"]

_LONGEST = 200
_EDTF = re.compile(r"[-0-9XY./?~%T:Z+]+")
_SURELY_EDTF = re.compile(r"[XY/]|\d{4}-\d\d-\d\d$")
_SHORT_RANGE = re.compile(r"(\d\d)(\d\d)-(\d\d)")
_ONLY_YEAR = re.compile(r"\d{5,}|\d{1,3}")
_TWO_YEARS = re.compile(r"(\d{4})\D{1,20}(\d{4})")


@dataclass(frozen=True, slots=True, kw_only=True)
class YearSpan:
    """Years that were written down: `not_before` to `not_after`, None where open.

    What is only "about" has been widened by the conventions of the house; `edtf` keeps it as
    written. `kind` names the manner of writing. `give_or_take` is set for 1915 +/- 3: then both
    years are the middle one. `note` tells another way in which the words could be meant.
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


def read_years(
    text: str, conventions: YearConventions = _DEFAULT, *, field: str = "years"
) -> YearSpan:
    """Read years in EDTF (levels 0 and 1) or in words.

    YYYY-NN with NN above the year's last two digits is taken as a range, as people write it
    (1907-11), and `note` tells of the month it would be in EDTF. Raises InputError naming `field`
    and a value that would do.
    """
    typed = text.strip()
    if not typed:
        raise InputError(f"{field}: no years were typed.", remedy="Try c. 1915.", subject=field)
    short = _SHORT_RANGE.fullmatch(typed)
    if short is not None and short[2] < short[3]:
        return _short_range(short, conventions, field)
    if _EDTF.fullmatch(typed) and len(typed) <= _LONGEST:
        as_edtf = read_edtf(typed) if _SURELY_EDTF.search(typed) else _try_edtf(typed)
        if as_edtf is not None:
            return _from_edtf(typed, as_edtf, conventions, field)
    phrase = read_phrase(typed, conventions) if len(typed) <= _LONGEST else None
    if phrase is None:
        raise _unreadable(typed, field, conventions)
    return _from_phrase(phrase, conventions)


def words_of(edtf: str) -> str:
    """Say an EDTF string of level 0 or 1 in words. Raises InputError where it is none."""
    return edtf_words(read_edtf(edtf))


def _try_edtf(typed: str) -> EdtfSpan | None:
    try:
        return read_edtf(typed)
    except InputError:
        return None


def _from_edtf(typed: str, span: EdtfSpan, conventions: YearConventions, field: str) -> YearSpan:
    low = None if span.first is None else span.first.first
    high = None if span.last is None else span.last.last
    for year in (low, high):
        if year is not None and not conventions.first_year <= year <= conventions.last_year:
            raise _unreadable(typed, field, conventions)
    if low is not None and span.first is not None and span.first.approximate:
        low -= conventions.circa
    if high is not None and span.last is not None and span.last.approximate:
        high += conventions.circa
    return YearSpan(
        not_before=low,
        not_after=high,
        edtf=typed,
        words=edtf_words(span),
        kind="year" if len(typed) == 4 and typed.isdigit() else "edtf",  # noqa: PLR2004 - YYYY
        uncertain=any(side.uncertain for side in (span.first, span.last) if side is not None),
    )


def _short_range(short: re.Match[str], conventions: YearConventions, field: str) -> YearSpan:
    span = read_years(f"{short[1]}{short[2]}/{short[1]}{short[3]}", conventions, field=field)
    month = _try_edtf(short[0])
    note = "" if month is None else f"In EDTF {short[0]} would be {edtf_words(month)}."
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
    )


def _edtf_of(phrase: Phrase) -> str:
    """Write a phrase in EDTF of level 0 or 1; empty where it bounds nothing."""
    low, high, give = phrase.first, phrase.last, phrase.give_or_take
    if low is not None and high is not None and give is not None:
        return f"{low - give:04d}/{high + give:04d}"
    if low is None and high is None:
        return ""
    mark_low = _qualifier(circa=phrase.circa_first, uncertain=phrase.uncertain)
    mark_high = _qualifier(circa=phrase.circa_last, uncertain=phrase.uncertain)
    if low is not None and high is not None:
        whole = _one_date(low, high, phrase.kind)
        if whole:
            return f"{whole}{mark_low}"
    begins = ".." if low is None else f"{low:04d}{mark_low}"
    ends = ".." if high is None else f"{high:04d}{mark_high}"
    return f"{begins}/{ends}"


def _one_date(low: int, high: int, kind: str) -> str:
    """Write a year, a whole decade or a whole century as one date: 1915, 192X, 18XX."""
    if low == high:
        return f"{low:04d}"
    if kind.endswith("decade") and high - low == 9:  # noqa: PLR2004 - a whole decade
        return f"{low // 10:03d}X"
    if kind.endswith("century") and high - low == 99:  # noqa: PLR2004 - a whole century
        return f"{low // 100:02d}XX"
    return ""


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
