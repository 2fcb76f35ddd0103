"""Holds the project's own text to the words of the house."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SKIPPED = {".git", ".venv", "out", "build", "dist", "__pycache__", "sample"}
ENDINGS = {".py", ".toml", ".md", ".csv", ".typ", ".qss", ".svg", ".tsv", ".txt", ""}
# Told in two halves, so that this file does not find itself.
REFUSED = {
    "a path of one machine": r"(?<![\w.])/(?:wo" r"rk|ro" r"ot|ho" r"me|tm" r"p)/\w",
    "a number of a tracker": r"\bissue" r" #?\d",
    "a package registry": r"py" r"pi\.org|registry\.n" r"pm",
    "a mark left for later": r"\b(?:TO" r"DO|FIX" r"ME|XX" r"X)\b",
    "a folder of odds and ends": r"\bplanebench[./](?:\w+[./])*(?:uti"
    r"ls|hel"
    r"pers|com"
    r"mon)\b",
}


def texts() -> Iterator[Path]:
    for path in sorted(ROOT.rglob("*")):
        inside = path.relative_to(ROOT).parts
        hidden = [part for part in inside if part.startswith(".") and part != ".ci"]
        if path.is_file() and path.suffix in ENDINGS and not (set(inside) & SKIPPED or hidden):
            yield path


FILES = [path for path in texts() if not path.name.endswith("OFL.txt")]


@pytest.mark.parametrize("what", sorted(REFUSED))
def test_no_file_holds(what: str) -> None:
    pattern = re.compile(REFUSED[what])
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:90]}"
        for path in FILES
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if pattern.search(line)
    ]

    assert found == []


def test_each_suppression_names_its_code_and_its_reason() -> None:
    whole = re.compile(
        r"#\s*(?:no" r"qa: [A-Z]+\d+(?:, [A-Z]+\d+)*\W+\w.*|type: ig" r"nore\[[\w-]+\]\W+\w.*)$"
    )
    any_kind = re.compile(r"#\s*(?:no" r"qa|type: ig" r"nore)")
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:90]}"
        for path in FILES
        if path.suffix == ".py"
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if any_kind.search(line) and not whole.search(line)
    ]

    assert found == []
