"""Characters that no font on hand can print: found by asking Typst, described in words.

Only the offending grapheme cluster (Unicode Standard Annex 29) is described, and only in the text
that holds it, so that a keycap in a note can never change the digits of a price.
"""

from __future__ import annotations

import json
import tempfile
import unicodedata
from collections.abc import Collection, Iterable
from itertools import groupby
from pathlib import Path

import regex
import typst

_PROBE_FONTS = '("Planebench Sans", "DejaVu Sans Mono", "Libertinus Serif")'
"""The same list as `words` in style.typ; a test holds the two together."""

_SCRIPTS = {
    "CJK": "Chinese or Japanese",
    "IDEOGRAPHIC": "Chinese or Japanese",
    "HIRAGANA": "Japanese",
    "KATAKANA": "Japanese",
    "HANGUL": "Korean",
}
_KEYCAP = "\u20e3"
_MODIFIERS = frozenset("\u200d\ufe0e\ufe0f") | {chr(code) for code in range(0x1F3FB, 0x1F400)}
"""Joiners, presentation selectors and skin tones: they only change the character before them."""

_CLUSTER = regex.compile(r"\X")
_LINE = regex.compile(r"probe\.typ:(\d+):")
_NO_NAME = frozenset({"Cs", "Co", "Cn"})


class GlyphCoverage:
    """Knows which grapheme clusters can be printed, and asks Typst about new ones.

    Fonts of the system are tried only for what the program's own fonts lack (Chinese, Japanese,
    Korean and more), because searching them takes time and makes a print depend on the computer.
    """

    def __init__(self, fonts: Path, *, system_fonts: bool = True) -> None:
        self._fonts = fonts
        self._may_use_system = system_fonts
        self._own: dict[str, bool] = {}
        self._system: dict[str, bool] = {}

    def missing(self, texts: Iterable[str]) -> tuple[frozenset[str], bool]:
        """Return the clusters that cannot be printed, and whether system fonts are needed."""
        clusters = {cluster for text in texts for cluster in _unusual(text)}
        lacking = self._lacking(clusters, self._own, system=False)
        if not lacking or not self._may_use_system:
            return frozenset(lacking), False
        still = self._lacking(lacking, self._system, system=True)
        return frozenset(still), still != lacking

    def _lacking(
        self, clusters: Collection[str], known: dict[str, bool], *, system: bool
    ) -> set[str]:
        asked = sorted(set(clusters) - known.keys())
        if asked:
            missing = self._probe(asked, system=system)
            known.update({cluster: cluster not in missing for cluster in asked})
        return {cluster for cluster in clusters if not known[cluster]}

    def _probe(self, clusters: list[str], *, system: bool) -> set[str]:
        """Set each cluster on a line of its own; Typst names the lines it cannot print."""
        head = f'#set text(font: {_PROBE_FONTS}, lang: "en")\n#set document(title: "probe")\n'
        first = head.count("\n") + 1
        lines = "".join(f"#{json.dumps(cluster, ensure_ascii=False)}\n" for cluster in clusters)
        with tempfile.TemporaryDirectory(prefix="planebench-glyphs-") as folder:
            source = Path(folder) / "probe.typ"
            source.write_text(head + lines, "utf-8")
            compiler = typst.Compiler(
                str(source),
                root=folder,
                font_paths=[str(self._fonts)],
                ignore_system_fonts=not system,
            )
            try:
                compiler.compile(format="pdf", pdf_standards=["ua-1", "a-3a"])
            except typst.TypstError as error:
                told = str(error.diagnostic) or str(error)
                numbers = (int(number) - first for number in _LINE.findall(told))
                return {clusters[n] for n in numbers if 0 <= n < len(clusters)}
        return set()


def clean_text(text: str) -> str:
    """Return text with composed letters, single spaces, and no control characters.

    Private, unassigned and broken code points become a description at once.
    """
    composed = unicodedata.normalize("NFC", " ".join(text.split()))
    kept = "".join(letter for letter in composed if not _is_control(letter))
    nameless = {letter for letter in kept if unicodedata.category(letter) in _NO_NAME}
    return describe_missing(kept, nameless)


def describe_missing(text: str, missing: Collection[str]) -> str:
    """Return text with each run of missing clusters described: "[2 Korean letters]", "[hammer]"."""
    clusters = _CLUSTER.findall(text)
    if not any(cluster in missing for cluster in clusters):
        return text
    runs = groupby(clusters, key=lambda cluster: cluster in missing)
    return "".join(_describe(list(run)) if lacks else "".join(run) for lacks, run in runs)


def _unusual(text: str) -> list[str]:
    return [] if text.isascii() else [c for c in _CLUSTER.findall(text) if not c.isascii()]


def _is_control(letter: str) -> bool:
    category = unicodedata.category(letter)
    return category == "Cc" or (category == "Cf" and letter not in {"\u200c", "\u200d"})


def _describe(clusters: list[str]) -> str:
    """Return a bracketed description: pictures one by one, letters counted by script."""
    names = [name for cluster in clusters for name in _names(cluster)]
    counts = ((name, sum(1 for _ in same)) for name, same in groupby(names))
    return "[" + ", ".join(_count(name, count) for name, count in counts) + "]"


def _names(cluster: str) -> list[str]:
    if _KEYCAP in cluster:
        return [f"keycap {cluster[0]}"]
    return [_name(letter) for letter in cluster if letter not in _MODIFIERS] or ["unknown"]


def _name(letter: str) -> str:
    name = unicodedata.name(letter, "")
    if not name:
        return "unknown"
    if unicodedata.category(letter).startswith("L"):
        script = name.split(maxsplit=1)[0]
        return _SCRIPTS.get(script, script.capitalize())
    return name.lower()


def _count(name: str, count: int) -> str:
    if name.islower() and name != "unknown":
        return name if count == 1 else f"{count} times {name}"
    kind = "character" if name == "unknown" else "letter"
    return f"{count} {name} {kind}{'' if count == 1 else 's'}"
