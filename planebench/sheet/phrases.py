"""Small turns of phrase that sheets are written with: days, lists, first letters."""

from __future__ import annotations

from collections.abc import Sequence


def join_words(words: Sequence[str]) -> str:
    """Join words as a sentence does: "body, frog and knob"."""
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def capitalize_first(words: str) -> str:
    """Return the words with a capital first letter, the rest as it stands."""
    return words[:1].upper() + words[1:]


def lower_first(words: str) -> str:
    """Return a name as it stands inside a sentence: "Bed and cheeks" becomes "bed and cheeks"."""
    return words[:1].lower() + words[1:]


def sentence(words: str) -> str:
    """Return the words with a capital first letter and a full stop."""
    trimmed = words.strip()
    if not trimmed:
        return ""
    return capitalize_first(trimmed) if trimmed[-1] in ".?…" else f"{capitalize_first(trimmed)}."
