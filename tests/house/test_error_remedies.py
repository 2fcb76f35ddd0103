"""Holds every error to its promise: it says what happened and what a person can do."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from pathlib import Path

import pytest

import planebench
from planebench import errors
from planebench.errors import PlanebenchError

PACKAGE = Path(planebench.__file__).parent
CLASSES = {
    name: value
    for name, value in vars(errors).items()
    if inspect.isclass(value) and issubclass(value, PlanebenchError)
}


def made_errors() -> Iterator[tuple[str, ast.Call]]:
    """Find each place of the package that makes one of our errors."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and called(node) in CLASSES:
                yield f"{path.relative_to(PACKAGE.parent)}:{node.lineno}", node


def called(node: ast.Call) -> str:
    if isinstance(node.func, ast.Name):
        return node.func.id
    return node.func.attr if isinstance(node.func, ast.Attribute) else ""


def fixed_words(node: ast.expr) -> str:
    """Return the written part of a sentence; what is put in later stands as x."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(fixed_words(value) for value in node.values)
    return "x"


MADE = list(made_errors())


def test_the_package_makes_errors_of_its_own() -> None:
    assert len(MADE) >= 10


@pytest.mark.parametrize("made", MADE, ids=[where for where, _ in MADE])
def test_each_error_is_made_with_a_remedy(made: tuple[str, ast.Call]) -> None:
    _, call = made
    given = {word.arg: word.value for word in call.keywords}

    assert "remedy" in given
    assert fixed_words(given["remedy"]).strip()


@pytest.mark.parametrize("made", MADE, ids=[where for where, _ in MADE])
def test_messages_are_calm_sentences(made: tuple[str, ast.Call]) -> None:
    _, call = made
    written = [fixed_words(word.value) for word in call.keywords if word.arg == "remedy"]
    written += [fixed_words(argument) for argument in call.args[:1]]

    for sentence in written:
        assert "!" not in sentence
        assert sentence == "x" or sentence.rstrip()[-1:] in ".x?", sentence


@pytest.mark.parametrize("name", sorted(CLASSES))
def test_no_error_can_be_made_without_a_remedy(name: str) -> None:
    with pytest.raises(TypeError, match="remedy"):
        CLASSES[name]("Something happened.")


@pytest.mark.parametrize("name", sorted(CLASSES))
def test_an_error_prints_what_happened_and_what_to_do(name: str) -> None:
    error = CLASSES[name]("The disk is full.", remedy="Make room.", subject="a.jpg")

    assert str(error) == "The disk is full. Make room."
    assert error.subject == "a.jpg"
