"""Small turns of phrase that sheets are written with: first letters and full stops."""

from __future__ import annotations


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
