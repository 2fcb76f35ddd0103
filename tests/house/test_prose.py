"""Holds docstrings and shown text to the way they are written here."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

from tests.house.shown_text import PACKAGE, ROOT, python_files, shown_texts

TEXTS = shown_texts()
# What a person reads is typeset; each pattern finds what is not.
UNSET = {
    "a straight apostrophe": r"\w'(?:s|t|re|ll|ve|d)\b|s' ",
    "a space before the percent sign": r"\d %",
    "a space in the name of keys": r"\b(?:Ctrl|Shift|Alt) (?:Shift |Page )?[A-Z]\b",
    "three dots in place of an ellipsis": r"\w\.\.\.",
    "a space before an ellipsis": r"\w …",
    "an x between two figures": r"\d x \d",
}


def docstrings() -> Iterator[tuple[str, ast.AST, str]]:
    """List the docstrings of the package and of all tests with the place and the node."""
    tests = sorted((ROOT / "tests").rglob("*.py"))
    for path in [*python_files(), *tests]:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.ClassDef | ast.Module):
                text = ast.get_docstring(node)
                if text:
                    line = getattr(node, "lineno", 1)
                    yield f"{path.relative_to(ROOT)}:{line}", node, text


DOCSTRINGS = list(docstrings())


def test_no_docstring_opens_with_give() -> None:
    old = re.compile(r"Gives?\b")
    found = [f"{where}: {text[:60]}" for where, _, text in DOCSTRINGS if old.match(text)]

    assert found == []


def test_each_public_function_and_class_of_the_package_has_a_docstring() -> None:
    found = [
        f"{path.relative_to(ROOT)}:{node.lineno}: {node.name}"
        for path in sorted(PACKAGE.rglob("*.py"))
        if "versions" not in path.parts
        for node in public(ast.parse(path.read_text("utf-8")))
        if ast.get_docstring(node) is None
    ]

    assert found == []


def public(tree: ast.Module) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    """List a module's public classes and functions, and the methods of those classes."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node
            inside = node.body if isinstance(node, ast.ClassDef) else []
            methods = [inner for inner in inside if isinstance(inner, ast.FunctionDef)]
            yield from (one for one in methods if not (one.name[0] == "_" or is_overriding(one)))


def is_overriding(node: ast.FunctionDef) -> bool:
    marks = {getattr(mark, "id", getattr(mark, "attr", "")) for mark in node.decorator_list}
    return bool(marks & {"override", "setter", "overload"})


@pytest.mark.parametrize("what", sorted(UNSET))
def test_no_shown_text_has(what: str) -> None:
    pattern = re.compile(UNSET[what])

    # The README is plain text to be read in any editor.
    texts = [text for text in TEXTS if not text.where.startswith("README")]

    assert [str(text) for text in texts if pattern.search(text.words)] == []
