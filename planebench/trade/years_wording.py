"""Rewrites years as people say them into the plain forms that the phrase reader knows.

"late 1800s" becomes "late 19th century", "'58 - '65" becomes "1958 - 1965", "postwar" becomes
"from 1945". The text is lower case, with straight quotes and plain hyphens.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

_SHORT_YEARS_OF = 19
"""Two digits alone mean the 1900s: what people call "the '20s" is of that century (common
practice, no source); a decade written in full before them lends its own century."""

PERIODS: Mapping[str, str] = {
    "georgian": "1714-1830",
    "regency": "1811-1820",
    "victorian": "1837-1901",
    "edwardian": "1901-1910",
    "civil war": "1861-1865",
    "great depression": "1929-1939",
    "interwar": "1918-1939",
    "between the wars": "1918-1939",
    "prewar": "until 1939",
    "pre war": "until 1939",
    "postwar": "from 1945",
    "post war": "from 1945",
}
"""British reigns, the American Civil War, and the world wars as they began and ended in Europe
(from memory)."""

_WARS = {"first": (1914, 1918), "second": (1939, 1945)}
_SECOND = frozenset({"two", "2", "ii", "second"})
_PART = r"early|mid|middle|late"
_TO = r"(?:\s*[-/&]\s*|\s+(?:to|or|and|through)\s+)"
_NTH = r"\d{1,2}(?:st|nd|rd|th)"
_CENTURY = r"(?:centuries|century|cent\.?|c\.?(?![a-z]))"
_SPELLED = {
    "fifteenth": "15th",
    "sixteenth": "16th",
    "seventeenth": "17th",
    "eighteenth": "18th",
    "nineteenth": "19th",
    "twentieth": "20th",
}
_ROMAN = {"xv": 15, "xvi": 16, "xvii": 17, "xviii": 18, "xix": 19, "xx": 20}
_MONTH = (
    r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|spring|summer|autumn|fall|winter)[a-z]*\.?"
)
_EVENT = (
    r"made|designed|manufactured|produced|built|altered|printed|cast|model|published|introduced"
)
_WHICH = {"1st": "first", "2nd": "second", "3rd": "third", "4th": "fourth"}
_DECADES = ("twenties", "thirties", "forties", "fifties", "sixties", "seventies")
_NUMBERED = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")
_COMPARED = {"<": "before", "<=": "until", "≤": "until", ">": "after", ">=": "from", "≥": "from"}
_FIRST_YEAR = {"early ": 0, "mid ": 4, "late ": 7}
_LAST_YEAR = {"early ": 3, "mid ": 6, "late ": 9}

_Replacement = str | Callable[[re.Match[str]], str]


def rewrite_years(plain: str) -> str:
    """Return the phrase in plain forms; what needs no change stays as it is."""
    for pattern, replacement in _RULES:
        plain = pattern.sub(replacement, plain)
    return " ".join(plain.split())


def _war(found: re.Match[str]) -> str:
    first, last = _WARS["second" if (found[2] or found[3]) in _SECOND else "first"]
    if found[1] in {"before", "pre"}:
        return f"until {first}"
    return f"from {last}" if found[1] in {"after", "post"} else f"{first}-{last}"


def _turn(found: re.Match[str]) -> str:
    """Return ten years either side of a century's first year; of 1900 where none is named."""
    year = 100 * (int(found[1]) - 1) if found[1] else 1900
    return f"{year - 10}-{year + 10}"


def _nth_decade(found: re.Match[str]) -> str:
    start = 100 * (int(found[2]) - 1) if found[2] else int(found[3])
    tens = 9 if found[1] == "last" else _NUMBERED.index(found[1])
    return f"{start + 10 * tens}-{start + 10 * tens + 9}"


def _short_decade(found: re.Match[str]) -> str:
    """Write '20s in full, with the century of a decade before it if there is one."""
    before = re.search(r"\b(\d\d)\d0'?s", found.string[: found.start()])
    century = before[1] if before else _SHORT_YEARS_OF
    return f"{century}00-{century}09" if found[1] == "00" else f"{century}{found[1]}s"


def _decade_that_begins(found: re.Match[str]) -> str:
    """Write 1900s as a year where a decade follows it in a range: 1900s-1920s begins in 1900."""
    return f"{found[2]}{_FIRST_YEAR.get(found[1] or '', 0):02d}"


def _decade_that_ends(found: re.Match[str]) -> str:
    return f"{found[1]} - {found[3]}{_LAST_YEAR.get(found[2] or '', 9):02d}"


# In this order: each rule meets the text as the rules before it left it.
_RULES: tuple[tuple[re.Pattern[str], _Replacement], ...] = (
    (re.compile(r"\[([^],]*)\]"), r"(\1)"),
    (re.compile(r"\s*\(\?\)"), "?"),
    (re.compile(r"\bgive or take\b"), "+-"),
    (re.compile(r"^(?:sometime|some time) (?=before|after|between|in)"), ""),
    (re.compile(r"\bthru\b"), "through"),
    (re.compile(r"(?<=\d)\s*\.{2,3}\s*(?=\d)"), "-"),
    (re.compile(r"^(\d{4}) patent$"), r"from \1"),
    (re.compile(r"\b(?:the )?(?:end|close) of (?:the )?(?=\d)"), "late "),
    (re.compile(r"\b(?:the )?(?:beginning|start) of (?:the )?(?=\d)"), "early "),
    # A part of one year is that year; of a whole hundred it may be the century: that is refused.
    (re.compile(r"\b(?:early|mid|late)(?: in)? (\d\d(?!00)\d\d)\b(?!'?s)"), r"\1"),
    (re.compile(r"^(?:n\. ?d\.?|undated),? ?(?=.*\d)"), ""),
    (re.compile(r"\b(?:a\.d\.|ad|c\.e\.|ce)(?![a-z])\s*"), ""),
    (re.compile(r"^(\d{4}) \(patented\)$"), r"from \1"),
    (re.compile(rf"(\d[^(),;]*?),? ?\(({_EVENT})\),?"), r"\2 \1,"),
    # A period's name before its own years or a century: Edo period, 18th century.
    (re.compile(r"^[^\d(,]*\b(?:period|dynasty|era)\b(?: ?\([^)]*\))?, (?=.*\d)"), ""),
    (
        re.compile(r"^(?:sold|bought|purchased|acquired|advertised)(?: in)? (?=.*\d)"),
        "until ",
    ),
    (re.compile(r"\b(?:in|on) or before\b"), "until"),
    (re.compile(r"\b(?:in|on) or after\b"), "from"),
    (
        re.compile(r"^after (\d{4}),? (?:and |but )?before (\d{4})$"),
        lambda m: f"{int(m[1]) + 1}-{int(m[2]) - 1}",
    ),
    (re.compile(r"^-\s*(\d{4})$"), r"until \1"),
    (re.compile(r"^(\d{4})\s*-$"), r"from \1"),
    (re.compile(rf"\b({'|'.join(_SPELLED)})\b(?! (?:of|day))"), lambda m: _SPELLED[m[1]]),
    (
        re.compile(rf"\b({'|'.join(_ROMAN)})(?:th)?(?= ?(?:c\b|cent))"),
        lambda m: f"{_ROMAN[m[1]]}th",
    ),
    (re.compile(r"\bc ?(1[5-9]|20)(?:th)?(?![\w-])"), r"\1th century"),
    (re.compile(r"\b(1[5-9]|20)(?: (?=century)|c\b)"), r"\1th century "),
    (re.compile(r"century\s+century"), "century"),
    (re.compile(rf"\b{_MONTH}\s*[-/]\s*({_MONTH}) (?=\d{{4}})"), r"\1 "),
    (re.compile(rf"\b({_MONTH}) \d{{1,2}}\s*-\s*\d{{1,2}},? (?=\d{{4}})"), r"\1 "),
    # Years in brackets explain a name that has none of its own: Edo period (1603-1867).
    (re.compile(r"^[^\d(]*[a-z][^\d(]*\((?=[^)]*\d{3})([^)]*)\)$"), r"\1"),
    (re.compile(r"^([<>]=?|[≤≥])\s*(?=\S)"), lambda m: f"{_COMPARED[m[1]]} "),
    (re.compile(r"[~≈]\s*(?=\d{3})"), "about "),
    (re.compile(r"^(.+?)\s*(?:-|to|until|till)\s*(?:present|today|now)$"), r"from \1"),
    (
        re.compile(
            r"^(?:(?:about|around|circa|ca?)\.? ?)?(.*\d.*?),?\s*(?:or so|or thereabouts|or about)$"
        ),
        r"about \1",
    ),
    (
        re.compile(r"^(.*\d{4}s?),?\s*\(?(?:circa|ca?|approx(?:imately)?)\.?\)?$"),
        r"about \1",
    ),
    (re.compile(r"\b(\d{4}s?)[ -]?ish\b"), r"about \1"),
    (re.compile(r"\b\d{1,2}([/.-])\d{1,2}\1(\d{4})\b"), r"\2"),
    (re.compile(r"(?<![\d/.])(?:0?[1-9]|1[0-2])[/.](\d{4})\b"), r"\1"),
    (
        re.compile(
            r"(?:(before|after|pre|post|during|from|of) )?(?:the )?(?:(?:world war|ww) ?"
            r"(one|two|1|2|ii|i)\b|(first|second) world war)(?: era| period| years)?"
        ),
        _war,
    ),
    (
        re.compile(rf"\b(?:the )?({'|'.join(PERIODS)})(?: era| period| times| years)?\b"),
        lambda m: PERIODS[m[1]],
    ),
    (
        re.compile(r"(?:around |at )?(?:the )?turn of the (?:(\d{1,2})(?:st|nd|rd|th) )?century"),
        _turn,
    ),
    (
        re.compile(
            rf"(?:the )?({'|'.join(_NUMBERED)}|last) decade of the "
            r"(?:(\d{1,2})(?:st|nd|rd|th) century|(\d\d00)'?s)"
        ),
        _nth_decade,
    ),
    (
        re.compile(r"\b(1st|2nd|3rd|4th) (half|quarter|third)\b"),
        lambda m: f"{_WHICH[m[1]]} {m[2]}",
    ),
    (re.compile(r"\b(half|quarter|third), "), r"\1 of "),
    (
        re.compile(rf"\b(?:nineteen[ -])?({'|'.join(_DECADES)})\b"),
        lambda m: f"19{2 + _DECADES.index(m[1])}0s",
    ),
    (re.compile(r"(?<![\w'])'(\d\d)(?![\ds'])"), rf"{_SHORT_YEARS_OF}\1"),
    (re.compile(r"(?<![\d'])'?(\d0)'?s\b"), _short_decade),
    (re.compile(r"(\d(?:'?s)?)\s*/\s*(?=\d)"), r"\1 - "),
    (re.compile(rf"\b((?:half|quarter|third|{_PART})(?: of)?(?: the)? {_NTH})$"), r"\1 century"),
    (re.compile(r"(?<=\d|s|y) \((?!decade)[a-z ]+\)$"), ""),
    (
        re.compile(rf"\b({_PART})(?:{_TO}|\s+)({_PART})[ -](?:of the |the )?(\d[\w' ]*)"),
        r"\1 \3 - \2 \3",
    ),
    (
        re.compile(
            rf"\b((?:{_PART}) )?({_NTH})(?: {_CENTURY})?{_TO}(?:the )?((?:{_PART}) )?"
            rf"({_NTH}) {_CENTURY}"
        ),
        lambda m: f"{m[1] or ''}{m[2]} century - {m[3] or ''}{m[4]} century",
    ),
    # 1800s is the 19th century, unless a decade in the same range, or the word, says otherwise.
    (
        re.compile(r"(?:the )?decade of the (1[5-9])00'?s|(?:the )?(1[5-9])00'?s,? \(?decade\)?"),
        lambda m: f"{m[1] or m[2]}00-{m[1] or m[2]}09",
    ),
    (
        re.compile(
            rf"(?:the )?((?:{_PART}) )?\b(1[5-9])00'?s(?={_TO}(?:the )?(?:(?:{_PART}) )?"
            r"\d\d[1-9]0'?s)"
        ),
        _decade_that_begins,
    ),
    (
        re.compile(rf"(\d\d[1-9]0'?s){_TO}(?:the )?((?:{_PART}) )?(1[5-9])00'?s"),
        _decade_that_ends,
    ),
    (
        re.compile(r"\b(half|quarter|third)(?: of)?(?: the)? (1[5-9])00'?s"),
        lambda m: f"{m[1]} of the {int(m[2]) + 1}th century",
    ),
    (re.compile(r"\b(1[5-9])00'?s\b"), lambda m: f"{int(m[1]) + 1}th century"),
)
