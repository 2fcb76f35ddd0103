"""Letters that the sheet's typefaces lack: described in words, so that nothing prints as a box."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from itertools import groupby

_SCRIPTS = {
    "CJK": "Chinese or Japanese",
    "IDEOGRAPHIC": "Chinese or Japanese",
    "HIRAGANA": "Japanese",
    "KATAKANA": "Japanese",
    "HANGUL": "Korean",
}
_SILENT = frozenset("\u200d\ufe0e\ufe0f") | {chr(code) for code in range(0x1F3FB, 0x1F400)}
"""Joiners, presentation selectors and skin tones: they only change the sign before them."""

_ESCAPE = re.compile(r"\\u\{([0-9a-f]+)\}|\\(.)")
_NO_NAME = frozenset({"Cs", "Co", "Cn"})


def clean_text(text: str) -> str:
    """Compose letters, turn every run of space into one, and drop what has no shape of its own.

    Private, unassigned and broken code points become a described placeholder at once.
    """
    composed = unicodedata.normalize("NFC", " ".join(text.split()))
    kept = "".join(sign for sign in composed if not _is_control(sign))
    return _replaced(kept, lambda sign: unicodedata.category(sign) in _NO_NAME)


def describe_missing(text: str, missing: Iterable[str]) -> str:
    """Describe each run of signs in `missing`: "[2 Korean letters]", "[hammer]"."""
    lacking = frozenset(missing)
    if lacking.isdisjoint(text):
        return text
    return _replaced("".join(s for s in text if s not in _SILENT), lacking.__contains__)


def unescape_typst(quoted: str) -> str:
    r"""Read a text as the typesetter quotes it in a message: \u{200d}, \", \\."""
    return _ESCAPE.sub(lambda m: chr(int(m[1], 16)) if m[1] else m[2], quoted)


def _is_control(sign: str) -> bool:
    category = unicodedata.category(sign)
    return category == "Cc" or (category == "Cf" and sign not in {"\u200c", "\u200d"})


def _replaced(text: str, is_missing: Callable[[str], bool]) -> str:
    runs = ((lacks, "".join(run)) for lacks, run in groupby(text, key=is_missing))
    return "".join(_described(run) if lacks else run for lacks, run in runs)


def _described(run: str) -> str:
    """Name pictures one by one and count letters by their script."""
    groups = ((what, sum(1 for _ in same)) for what, same in groupby(run, key=_what))
    return "[" + ", ".join(_counted(what, count) for what, count in groups) + "]"


def _what(sign: str) -> str:
    name = unicodedata.name(sign, "")
    if not name:
        return "unknown"
    if unicodedata.category(sign).startswith("L"):
        script = name.split(maxsplit=1)[0]
        return _SCRIPTS.get(script, script.capitalize())
    return name.lower()


def _counted(what: str, count: int) -> str:
    if what.islower() and what != "unknown":
        return what if count == 1 else f"{count} times {what}"
    kind = "sign" if what == "unknown" else "letter"
    return f"{count} {what} {kind}{'' if count == 1 else 's'}"
