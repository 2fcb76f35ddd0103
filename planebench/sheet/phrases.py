"""Small turns of phrase that sheets are written with: first letters, sentences, lists."""

from __future__ import annotations

from collections.abc import Iterable


def capitalize_first(words: str) -> str:
    """Return the words with a capital first letter, the rest unchanged."""
    return words[:1].upper() + words[1:]


def lower_first(words: str) -> str:
    """Return a name as inside a sentence: "Bed and cheeks" becomes "bed and cheeks"."""
    return words[:1].lower() + words[1:]


def sentence(words: str) -> str:
    """Return the words with a capital first letter and a period."""
    trimmed = words.strip()
    if not trimmed:
        return ""
    return capitalize_first(trimmed) if trimmed[-1] in ".?…" else f"{capitalize_first(trimmed)}."


def join_sentences(parts: Iterable[str]) -> str:
    """Return parts joined as one line with semicolons, leaving out empty ones."""
    return "; ".join(part for part in parts if part)
