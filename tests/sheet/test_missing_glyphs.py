"""Characters no font can print are described where they stand, and nothing else is touched."""

from __future__ import annotations

import datetime as dt
import io
import shutil
import subprocess
from dataclasses import replace

import pytest
from pypdf import PdfReader

from planebench.catalog.reference import resources_folder
from planebench.sheet.content import SheetContent
from planebench.sheet.missing_glyphs import GlyphCoverage, clean_text, describe_missing
from planebench.sheet.pdf import SheetPress
from tests.sheet.examples import full

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)
KEYCAP = "1\ufe0f\u20e3"


@pytest.fixture(scope="module")
def own_fonts() -> SheetPress:
    return SheetPress(resources_folder(), system_fonts=False)


def printed(press: SheetPress, *contents: SheetContent) -> str:
    pages = PdfReader(io.BytesIO(press.print(contents, at=AT).pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


@pytest.mark.parametrize(
    ("text", "missing", "described"),
    [
        ("pattern K 東京", ["東", "京"], "pattern K [2 Chinese or Japanese letters]"),
        ("사진 a", ["사", "진"], "[2 Korean letters] a"),
        ("🪚 saw", ["🪚"], "[carpentry saw] saw"),
        ("👩\u200d🔧!", ["👩\u200d🔧"], "[woman, wrench]!"),
        (f"{KEYCAP} of 11", [KEYCAP], "[keycap 1] of 11"),
        ("plain", ["東"], "plain"),
    ],
)
def test_a_run_of_missing_clusters_is_described(
    text: str, missing: list[str], described: str
) -> None:
    assert describe_missing(text, missing) == described


def test_a_keycap_in_one_text_leaves_every_figure_of_every_sheet_alone(
    own_fonts: SheetPress,
) -> None:
    # A draft shows no fingerprint, which rightly changes with any text.
    content = replace(full(), heading=replace(full().heading, issued=""))
    plain = printed(own_fonts, content, content)
    first = replace(content.defects[0], where=f"place {KEYCAP} and 6\ufe0f\u20e3")
    second = printed(own_fonts, replace(content, defects=(first, *content.defects[1:])), content)

    assert "place [keycap 1] and [keycap 6]" in second
    assert second.count("$165.00") == plain.count("$165.00")
    assert second.replace("place [keycap 1] and [keycap 6]", content.defects[0].where) == plain


def test_a_letter_that_prints_alone_stays_where_it_stands_beside_one_that_does_not() -> None:
    coverage = GlyphCoverage(resources_folder() / "fonts", system_fonts=False)
    missing, _ = coverage.missing(["é", "é\u20e3", "×", "½", "東"])

    assert missing == {"é\u20e3", "東"}


def test_the_probe_uses_the_fonts_of_the_templates() -> None:
    style = (resources_folder() / "sheet_templates" / "style.typ").read_text("utf-8")

    assert '#let words = ("Planebench Sans", "DejaVu Sans Mono", "Libertinus Serif")' in style


def _has_font(language: str) -> bool:
    if shutil.which("fc-list") is None:
        return False
    listed = subprocess.run(["fc-list", f":lang={language}"], check=True, capture_output=True)
    return bool(listed.stdout)


@pytest.mark.skipif(not _has_font("ja"), reason="no font of the system has Japanese letters")
def test_japanese_names_print_with_a_font_of_the_system() -> None:
    press = SheetPress(resources_folder())
    content = replace(full(), title="Smoothing plane, 東京")

    assert "Smoothing plane, 東京" in printed(press, content)


def test_control_characters_go_and_runs_of_space_become_one() -> None:
    assert clean_text("one\u0000 \n\t two\u202e three") == "one two three"


def test_private_and_broken_code_points_are_described_as_unknown() -> None:
    assert clean_text("a\ue000b\ud800c") == "a[1 unknown character]b[1 unknown character]c"


def test_letters_and_their_accents_are_composed() -> None:
    assert clean_text("Mu\u0308ller") == "Müller"
