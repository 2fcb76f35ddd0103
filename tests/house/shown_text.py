"""Collects what a person reads: strings of the program, templates, lists, tables and the README."""

from __future__ import annotations

import ast
import csv
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "planebench"
# Words in code, not for reading: codes, names of files, fields and keys of dictionaries.
_CODE = re.compile(r"[a-z0-9_.\-/:*%#{}\[\]]*")
# Fields of lists that hold no text to read: quoted titles, synonyms that people type, codes.
_NOT_SHOWN = {"source", "also", "code"}
# Patterns by which text is parsed: what people type there is theirs.
_PATTERN = re.compile(r"\(\?|\\[bdswW]|\[\^|\]\+|\)\?|\|.*\|.*\|")


@dataclass(frozen=True, slots=True)
class Text:
    """A text that is shown, and where it stands."""

    where: str
    words: str

    def __str__(self) -> str:
        return f"{self.where}: {self.words.strip()[:110]}"


def python_files() -> list[Path]:
    return sorted([*PACKAGE.rglob("*.py"), ROOT / "start.py"])


def shown_texts() -> list[Text]:
    return [*_of_program(), *_of_templates(), *_of_lists(), *_of_tables(), *_of_readme()]


def _short(path: Path, line: int) -> str:
    return f"{path.relative_to(ROOT)}:{line}"


def _of_program() -> Iterator[Text]:
    for path in python_files():
        tree = ast.parse(path.read_text("utf-8"))
        silent = {id(each) for each in _not_shown(tree)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                words = node.value
                if id(node) not in silent and not _CODE.fullmatch(words):
                    yield Text(_short(path, node.lineno), words)


def _not_shown(tree: ast.Module) -> Iterator[ast.AST]:
    """Find docstrings, patterns, log messages, and names of types written as strings."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield node.value
        elif (
            isinstance(node, ast.Call)
            and _called(node) in {"compile", "cast", "TypeVar", "Literal"}
        ) or (isinstance(node, ast.Call) and _owner(node) in {"log", "re"}):
            yield from ast.walk(node)
        elif isinstance(node, ast.Constant) and _is_pattern(node.value):
            yield node


def _is_pattern(value: object) -> bool:
    return isinstance(value, str) and bool(_PATTERN.search(value))


def _called(node: ast.Call) -> str:
    function = node.func
    return getattr(function, "attr", getattr(function, "id", ""))


def _owner(node: ast.Call) -> str:
    function = node.func
    return getattr(getattr(function, "value", None), "id", "")


def _of_templates() -> Iterator[Text]:
    for path in sorted((ROOT / "resources" / "sheet_templates").rglob("*.typ")):
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
            plain = line.split("//")[0]
            for quoted in re.findall(r'"([^"]+)"|\[([^\[\]#]+)\]', plain):
                words = "".join(quoted)
                if not _CODE.fullmatch(words):
                    yield Text(_short(path, number), words)


def _of_lists() -> Iterator[Text]:
    for path in sorted((ROOT / "resources").rglob("*.toml")):
        for words in _strings(tomllib.loads(path.read_text("utf-8"))):
            yield Text(_short(path, 0), words)


def _strings(value: object, key: str = "") -> Iterator[str]:
    """List the strings of a file's tables but for codes, sources and what people type."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _strings(inner, str(name))
    elif isinstance(value, list):
        for inner in value:
            yield from _strings(inner, key)
    elif isinstance(value, str) and key not in _NOT_SHOWN and not _CODE.fullmatch(value):
        yield value


def _of_tables() -> Iterator[Text]:
    for path in sorted((ROOT / "resources").rglob("*.csv")):
        with path.open(encoding="utf-8", newline="") as lines:
            kept = (line for line in lines if not line.startswith("#"))
            for number, row in enumerate(csv.DictReader(kept), 2):
                for column, words in row.items():
                    if column != "source" and words and not _CODE.fullmatch(str(words)):
                        yield Text(_short(path, number), str(words))


def _of_readme() -> Iterator[Text]:
    for number, line in enumerate((ROOT / "README.md").read_text("utf-8").splitlines(), 1):
        yield Text(f"README.md:{number}", re.sub(r"`[^`]*`", "", line))
