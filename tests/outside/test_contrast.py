"""The colors of the window against WCAG 2.2.

Source: W3C Recommendation "Web Content Accessibility Guidelines (WCAG) 2.2", definitions
"relative luminance" and "contrast ratio", success criteria 1.4.3 (text, 4.5:1) and 1.4.11
(marks and edges of controls, 3:1).
"""

from __future__ import annotations

from itertools import product

import pytest

from planebench.window.tokens import DARK, LIGHT, ON_PHOTOGRAPH, Tokens

TEXT, MARK = 4.5, 3.0
THEMES = {"light": LIGHT, "dark": DARK}


def luminance(color: str) -> float:
    channels = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(ink: str, ground: str) -> float:
    dark, light = sorted((luminance(ink), luminance(ground)))
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_twenty_one_and_a_color_on_itself_one() -> None:
    # The ends of the scale, as the definition of "contrast ratio" names them.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#7D5A17", "#7D5A17") == pytest.approx(1)


def test_the_gray_known_as_the_lightest_for_text_on_white_is_on_the_limit() -> None:
    # From memory: #767676 is often named as the lightest gray that passes 4.5:1 on white.
    assert contrast("#767676", "#FFFFFF") >= TEXT > contrast("#777777", "#FFFFFF")


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(
    ("ink", "ground"),
    [
        *product(("ink", "muted", "brass", "rust", "verdigris"), ("ground", "panel", "field")),
        *product(("ink", "muted", "brass", "rust"), ("chosen",)),
        ("ground", "brass"),
        ("ground", "ink"),
        ("ground", "rust"),
    ],
)
def test_words_stand_out_on_each_ground_they_lie_on(theme: str, ink: str, ground: str) -> None:
    tokens = THEMES[theme]

    assert contrast(getattr(tokens, ink), getattr(tokens, ground)) >= TEXT


@pytest.mark.parametrize("tokens", THEMES.values(), ids=THEMES)
@pytest.mark.parametrize("ground", ["ground", "panel", "field", "chosen"])
def test_edges_and_the_focus_ring_stand_out_on_each_ground(tokens: Tokens, ground: str) -> None:
    assert contrast(tokens.edge, getattr(tokens, ground)) >= MARK
    assert contrast(tokens.brass, getattr(tokens, ground)) >= MARK


@pytest.mark.parametrize(
    ("ink", "ground"),
    [
        (ON_PHOTOGRAPH.ink, ON_PHOTOGRAPH.paper),
        (ON_PHOTOGRAPH.paper, ON_PHOTOGRAPH.ink),
        (ON_PHOTOGRAPH.paper, ON_PHOTOGRAPH.brass),
    ],
)
def test_words_on_slips_and_balloons_stand_out_on_any_photograph(ink: str, ground: str) -> None:
    assert contrast(ink, ground) >= TEXT


@pytest.mark.parametrize(
    ("mark", "casing"),
    [
        (ON_PHOTOGRAPH.outline, ON_PHOTOGRAPH.shade),
        (ON_PHOTOGRAPH.kept, ON_PHOTOGRAPH.shade),
        (ON_PHOTOGRAPH.lost, ON_PHOTOGRAPH.lost_ground),
        (ON_PHOTOGRAPH.cannot_tell, ON_PHOTOGRAPH.shade),
    ],
)
def test_marks_on_a_photograph_stand_out_from_their_own_casing(mark: str, casing: str) -> None:
    assert contrast(mark, casing) >= MARK
