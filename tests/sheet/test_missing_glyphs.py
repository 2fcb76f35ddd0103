"""Letters that the typefaces lack are described, never printed as boxes or left out unsaid."""

from __future__ import annotations

import pytest

from planebench.sheet.missing_glyphs import clean_text, describe_missing, unescape_typst


@pytest.mark.parametrize(
    ("text", "missing", "said"),
    [
        ("No. 23 東京", "東京", "No. 23 [2 Chinese or Japanese letters]"),
        ("사진 a", "사진", "[2 Korean letters] a"),
        ("🪚 saw", "🪚", "[carpentry saw] saw"),
        ("👩\u200d🔧!", "👩🔧", "[woman, wrench]!"),
        ("plain", "東", "plain"),
    ],
)
def test_a_run_of_missing_letters_is_described(text: str, missing: str, said: str) -> None:
    assert describe_missing(text, missing) == said


def test_control_characters_go_and_runs_of_space_become_one() -> None:
    assert clean_text("one\u0000 \n\t two\u202e three") == "one two three"


def test_private_and_broken_code_points_are_told_as_unknown_characters() -> None:
    assert clean_text("a\ue000b\ud800c") == "a[1 unknown sign]b[1 unknown sign]c"


def test_letters_and_their_accents_are_composed() -> None:
    assert clean_text("Mu\u0308ller") == "Müller"


def test_the_typesetter_s_quoting_is_undone() -> None:
    assert unescape_typst(r"\u{1fa9a}\"\\") == '\U0001fa9a"\\'
