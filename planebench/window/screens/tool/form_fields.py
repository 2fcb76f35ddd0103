"""What a form of the record asks for: its fields, and the texts around them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from planebench.errors import InputError
from planebench.window.pieces.suggestion_field import Suggestion

YES, NO = "yes", ""
Listed = tuple[tuple[str, Suggestion], ...]
"""Suggestions, each with its code."""


def _as_typed(text: str) -> object:
    return text.strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class FormField:
    """One field of a form.

    `value` is the current value as text, the key of a choice, or YES. `parse` turns the text
    into a value and may raise InputError. With `listed`, a field finds one of many by any of its
    words, and `value` is its code. `reads_as` says in words what a text is read as, while it is
    typed. Two `half_width` fields in a row stand side by side.
    """

    key: str
    label: str
    value: str = ""
    hint: str = ""
    choices: tuple[tuple[str, str], ...] | None = None
    listed: Listed = ()
    is_checkbox: bool = False
    lines: int = 1
    half_width: bool = False
    hidden: bool = False
    parse: Callable[[str], object] = _as_typed
    reads_as: Callable[[str], str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FormText:
    """The texts around the fields: name, the words of the add and delete buttons, a caution."""

    name: str
    adding: str = ""
    binning: str = ""
    caution: str = ""
    caution_title: str = ""


def parse_listed(listed: Listed, example: str) -> Callable[[str], str]:
    """Return a parser that accepts only the codes of a list. It raises InputError."""
    codes = {code for code, _ in listed}

    def parse(text: str) -> str:
        if text in codes:
            return text
        happened = f"“{text}” is not in the list." if text else "nothing is chosen yet."
        raise InputError(happened, remedy=f"Try {example}, or press Down for the list.")

    return parse


def code_of(listed: Listed, text: str) -> str:
    """Return the code of a suggestion by its words; other text as it is."""
    plain = text.strip().casefold()
    return next((code for code, one in listed if one.text.casefold() == plain), text.strip())


def words_of(listed: Iterable[tuple[str, Suggestion]], code: str) -> str:
    """Return the words of a suggestion by its code; another code as it is."""
    return next((one.text for known, one in listed if known == code), code)
