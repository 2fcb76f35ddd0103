"""Holds shown text and names in the code to the glossary of DEVELOPERS.md."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.house.shown_text import ROOT, Text, python_files, shown_texts

# A verb of the glossary stands for all of its forms.
FORMS = {
    "take": "(?:takes?|taken|taking|took)",
    "bring": "(?:brings?|bringing|brought)",
    "put": "(?:puts?|putting)",
    "write": "(?:writes?|writing|wrote|written)",
    "note": "(?:notes?|noting|noted)",
    "look": "(?:looks?|looking|looked)",
}
# Where a word that the glossary refuses is right: in these words, or in this meaning.
ALLOWED_IN_TEXT = {
    "blade": (r"scraper blade|(?:with|shipping|sending) a blade", "not the plane iron"),
    "clue": (r"clues\.csv", "the name of a file that people may have of their own"),
    "item": (r"deleted items|^items?\b|selected items", "the bin holds batches and pairs too"),
    "leave it": (r"leave it (?:empty|blank|out|open|to)\b", "not to leave a screen"),
    "lot": (r"a lot of", "much"),
    "mask": (r"(?:wear|and) a (?:dust )?mask", "what is worn over mouth and nose"),
    "not read": (r"not read-only|stock number not read", "a disk; a card"),
    "state": (
        r"^State$|state on|the state|two-letter state",
        "to say; a state of the Union; a name in the code",
    ),
    "trust": (
        r"(?:do )?not trust|before you trust|trusting|trust it|e\.trust",
        "catalogs of strangers; a field of a template",
    ),
    "unit": (
        r"length unit|one unit|mix units|the unit\b|units first|money, units|units? of length",
        "inches and millimeters are units",
    ),
}
ALLOWED_NAMES = {
    "item": "Qt calls a row of a model so",
    "unit": "inches and millimeters are units",
    "state": "Qt and every state machine call it so; where a tool stands is ToolStatus",
    "mask": "the field's word for an array that says which pixels belong",
    "contour": "OpenCV calls it so",
    "journal": "SQLite's own word",
    "choices": "what a drop-down offers",
    "fault": "the field's word in tests of crashes",
    "clue": "of the file clues.csv, which people may have of their own",
    "coating": "the word of the standards that rate them",
    "sign": "a plus, minus or other mark before or after a number",
    "trust": "how far one piece of evidence is believed, 0 to 1",
    "put in": "to put in order",
}


def never() -> dict[str, str]:
    """Return the words that the table refuses, each with the word to use instead.

    A word with a remark in brackets is right in another meaning, so only people can judge it.
    """
    table = (ROOT / "DEVELOPERS.md").read_text("utf-8").split("\n## Words\n")[1]
    refused = {}
    for line in table.splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if line.startswith("| ") and len(cells) == 3 and cells[2] not in {"never", "---", ""}:
            for word in cells[2].split(","):
                if not re.search(r"\(| for ", word):
                    refused[word.strip().strip('"')] = cells[0]
    return refused


NEVER = never()
TEXTS = shown_texts()


def pattern(phrase: str, between: str = r"\s+") -> str:
    first, *rest = phrase.split()
    return between.join([FORMS.get(first, first) if rest else f"{first}s?", *rest])


def names(path: Path) -> Iterator[str]:
    """List the names that a module defines, and its own."""
    yield path.stem
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            yield node.name
        elif isinstance(node, ast.arg):
            yield node.arg
        elif isinstance(node, ast.Name | ast.Attribute) and isinstance(node.ctx, ast.Store):
            yield node.id if isinstance(node, ast.Name) else node.attr


def snake(name: str) -> str:
    return "_".join(re.findall(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])", name)).lower()


def test_the_table_is_read() -> None:
    assert {"consignment", "take back", "vault"} <= NEVER.keys()
    assert "kept" not in NEVER


@pytest.mark.parametrize("word", sorted(NEVER))
def test_no_shown_text_says(word: str) -> None:
    refused = re.compile(rf"\b{pattern(word)}\b", re.IGNORECASE)
    allowed = re.compile(ALLOWED_IN_TEXT.get(word, ("(?!)",))[0], re.IGNORECASE)
    found = [str(text) for text in TEXTS if refused.search(allowed.sub("", text.words))]

    assert found == [], f"say “{NEVER[word]}”"


@pytest.mark.parametrize("word", sorted(NEVER.keys() - ALLOWED_NAMES.keys()))
def test_no_name_says(word: str) -> None:
    refused = re.compile(rf"(?:^|_){pattern(word, '_')}(?:_|$)")
    found = sorted(
        {
            f"{path.relative_to(ROOT)}: {name}"
            for path in python_files()
            for name in names(path)
            if refused.search(snake(name))
        }
    )

    assert found == [], f"say “{NEVER[word]}”"


def test_each_exception_is_needed() -> None:
    assert ALLOWED_NAMES.keys() | ALLOWED_IN_TEXT.keys() <= NEVER.keys()
    assert all(isinstance(text, Text) for text in TEXTS)
