"""Words that sentences everywhere share: lists of names, and the names of numbers."""

from __future__ import annotations

from collections.abc import Sequence

NUMBER_WORDS = (
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)
"""Zero to twelve in words, by their place."""


def join_words(words: Sequence[str], last: str = "and") -> str:
    """Return words joined for a sentence: "body, lever cap and knob"; empty for none."""
    if len(words) < 2:  # noqa: PLR2004 -- one word needs no joiner
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"
