"""Holds code, comments and texts to American spelling, by the lists of two spelling packages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import codespell_lib
from breame.data.spelling_constants import BRITISH_ENGLISH_SPELLINGS

from tests.house.test_words import FILES, ROOT

HERE = Path(__file__).resolve()
WORD = re.compile(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])")
# Listed as British, and right here; the value says why.
RIGHT = {
    "disc": "the shape of a brush; a disk is where files are",
    "gauge": "gage is a rare spelling of it in America too",
}
# A text may quote another's spelling, or hold what people type.
QUOTED = {
    "mitre": ("resources/kinds/", "tests/house/test_resources.py"),
    "moulding": ("resources/kinds/", "resources/lists/kind_families.toml"),
    "plough": (
        "resources/kinds/",
        "resources/lists/kind_families.toml",
        "tests/house/test_resources.py",
        "tests/window/screens/test_batch_keys.py",
    ),
    "programme": ("resources/dating/",),
}


def british_words() -> dict[str, str]:
    """Return British spellings with the American ones; from breame and codespell."""
    words = dict(BRITISH_ENGLISH_SPELLINGS)
    file = Path(codespell_lib.__file__).parent / "data" / "dictionary_en-GB_to_en-US.txt"
    for line in file.read_text("utf-8").splitlines():
        british, _, american = line.partition("->")
        words.setdefault(british, american)
    return {british: us for british, us in words.items() if british not in RIGHT}


BRITISH = british_words()


def british_in(line: str) -> Iterator[str]:
    return (word for word in (found.lower() for found in WORD.findall(line)) if word in BRITISH)


def test_the_lists_know_the_usual_ones() -> None:
    usual = {"color", "center", "recognize", "catalog", "aluminum", "gray", "program", "license"}

    assert usual <= set(BRITISH.values())
    assert len(BRITISH) > 1500


def test_no_file_spells_as_in_britain() -> None:
    found = [
        f"{path.relative_to(ROOT)}:{number}: {word}, in America {BRITISH[word]}"
        for path in FILES
        if path != HERE
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        for word in british_in(line)
        if not path.relative_to(ROOT).as_posix().startswith(QUOTED.get(word, ("-",)))
    ]

    assert found == []
