"""Small words that sentences everywhere share: lists of names, and numbers as words."""

from __future__ import annotations

from collections.abc import Sequence

NUMBER_WORDS = (
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)
"""Zero to twelve in words; style guides write larger numbers as figures."""


def join_words(words: Sequence[str], last: str = "and") -> str:
    """Return words joined for a sentence: "body, lever cap and knob"; empty for none."""
    if len(words) < 2:  # noqa: PLR2004 -- one word needs no joiner
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def number_word(number: int) -> str:
    """Return a count as a word up to twelve, as figures above: "three", "13", and "no" for 0."""
    return NUMBER_WORDS[number] if 0 <= number < len(NUMBER_WORDS) else f"{number:,}"
